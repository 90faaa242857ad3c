import type { ReactNode } from "react";
import { LanguageChoice } from "@/app/_ui/language/LanguageChoice";
import { Panel } from "@/app/_ui/Panel";
import { Brand, Caution } from "@/app/_ui/Shell";

/** The frame of the pages that are seen before signing in. */
export function Doorstep({
  title,
  note,
  children,
}: {
  title: string;
  note?: ReactNode;
  children: ReactNode;
}) {
  return (
    <div className="ui-shell">
      <header className="ui-bar">
        <div className="ui-bar-inner">
          <Brand href="/sign-in" />
        </div>
      </header>
      <main className="mx-auto w-full max-w-md px-4 py-10">
        <h1 className="mb-4">{title}</h1>
        {note ? <p className="text-quiet mb-4">{note}</p> : null}
        <Panel>{children}</Panel>
        <div className="mt-6">
          <LanguageChoice />
        </div>
      </main>
      <Caution />
    </div>
  );
}
