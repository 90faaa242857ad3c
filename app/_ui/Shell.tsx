import Link from "next/link";
import { type ReactNode, Suspense } from "react";
import { GoingSign } from "./GoingSign";
import { SaidAside } from "./language/SaidNav";
import { T } from "./language/T";
import type { Role } from "./nav";
import { MainNav, ThumbNav } from "./ShellNav";
import { ToastProvider } from "./Toast";
import { UserMenu } from "./UserMenu";

export interface ShellProps {
  role: Role;
  /** Regions that the person is limited to. */
  regions?: readonly string[];
  userName: string;
  /** Find anything: beside the user menu. */
  find?: ReactNode;
  /** The form or button that signs out; shown in the user menu. */
  signOut: ReactNode;
  /** More entries of the user menu, above the sign-out. */
  userMenu?: ReactNode;
  /** Says on every page that the data is invented. */
  isDemo?: boolean;
  /** More exact words for the demo strip: for which day the data are made, and how the clock runs. */
  demoNote?: string;
  /** A strip under the bar: waiting to sync, plan out of date. */
  notice?: ReactNode;
  children: ReactNode;
}

/** The caution that the product always carries (docs: the job's cautions). */
export const CAUTION =
  "A planning aid. It says that planning limits are met, never that it is safe to climb: the crew on site decides. " +
  "Local law, the site owner's rules and the equipment maker's instructions come first. " +
  "Electrical, structural and rigging work is for licensed or certified people.";

/** The frame of every signed-in page: bar, main navigation of the role, demo strip, content, caution. */
export function Shell({
  role,
  regions,
  userName,
  find,
  signOut,
  userMenu,
  isDemo = false,
  demoNote,
  notice,
  children,
}: ShellProps) {
  return (
    <ToastProvider>
      <a className="ui-skip" href="#main">
        <T>Skip to the content</T>
      </a>
      <Suspense>
        <GoingSign />
      </Suspense>
      <div className="ui-shell">
        <div>
          {isDemo ? <DemoStrip note={demoNote} /> : null}
          <header className="ui-bar ui-no-print">
            <div className="ui-bar-inner">
              <Brand />
              <MainNav person={{ role, isLimited: regions !== undefined }} />
              {find}
              <UserMenu
                role={role}
                regions={regions}
                userName={userName}
                extra={userMenu}
                signOut={signOut}
              />
            </div>
          </header>
          {notice}
        </div>
        <main id="main" className="ui-shell-main" tabIndex={-1}>
          {children}
        </main>
        <Caution />
      </div>
      <ThumbNav person={{ role, isLimited: regions !== undefined }} />
    </ToastProvider>
  );
}

/** Says that nothing here is real. */
export function DemoStrip({ note }: { note?: string }) {
  return (
    <SaidAside className="ui-demo" label="About the data">
      <span>
        {note ?? (
          <>
            <T>Made-up demo data</T>
            <span className="ui-wide-words">
              : <T>invented sites, people, prices and weather</T>
            </span>
          </>
        )}
      </span>
    </SaidAside>
  );
}

/** Name and mark: two dishes that face each other, one line between. */
export function Brand({ href = "/" }: { href?: string }) {
  return (
    <Link className="ui-brand" href={href}>
      <BrandMark />
      Bothends
    </Link>
  );
}

export function BrandMark() {
  return (
    <svg viewBox="0 0 34 20" fill="none" stroke="currentColor" strokeLinecap="round" aria-hidden="true">
      <path d="M3 2c6 3.5 6 12.5 0 16M31 2c-6 3.5-6 12.5 0 16" strokeWidth="2.6" />
      <path d="M12.5 10h9" strokeWidth="2" stroke="#e9b75c" />
      <circle cx="11.5" cy="10" r="2.2" fill="#e9b75c" stroke="none" />
      <circle cx="22.5" cy="10" r="2.2" fill="#e9b75c" stroke="none" />
    </svg>
  );
}

/** The caution under every page, also under sign-in and on paper. */
export function Caution() {
  return (
    <footer className="ui-foot">
      <div className="ui-foot-inner">
        <p>
          <T>{CAUTION}</T>
        </p>
      </div>
    </footer>
  );
}
