import Link from "next/link";
import type { ReactNode } from "react";
import { SaidNav } from "./language/SaidNav";

export interface Crumb {
  label: string;
  href: string;
}

export interface PageHeadProps {
  title: ReactNode;
  /** One sentence: what this page answers. */
  lead?: ReactNode;
  /** Pages above this one, outermost first. */
  crumbs?: readonly Crumb[];
  /** Marks beside the title. */
  marks?: ReactNode;
  /** Buttons at the right. */
  actions?: ReactNode;
  /** There are so many buttons that on a phone they stand in one row to be pushed sideways. */
  manyActions?: boolean;
}

/** Head of a page: one h1, where one is, and the page's main actions. */
export function PageHead({ title, lead, crumbs = [], marks, actions, manyActions }: PageHeadProps) {
  return (
    <header className="ui-page-head">
      <div className="ui-page-head-words">
        {crumbs.length > 0 ? (
          <SaidNav className="ui-crumbs" label="Pages above">
            <ol>
              {crumbs.map((crumb) => (
                <li key={crumb.href}>
                  <Link href={crumb.href}>{crumb.label}</Link>
                </li>
              ))}
            </ol>
          </SaidNav>
        ) : null}
        <div className="flex flex-wrap items-center gap-x-4 gap-y-1">
          <h1>
            {title}
            <span className="ui-span-line" aria-hidden="true" />
          </h1>
          {marks}
        </div>
        {lead ? <p>{lead}</p> : null}
      </div>
      {actions ? (
        <div className="ui-toolbar ui-no-print" data-many={manyActions || undefined}>
          {actions}
        </div>
      ) : null}
    </header>
  );
}
