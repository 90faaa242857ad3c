import Link from "next/link";
import type { ReactNode } from "react";

/**
 * The link of a row: in the naming cell of a DataTable and in long lists. Not fetched ahead: scrolling past
 * a thousand rows would ask the server for a thousand pages.
 */
export function RowLink({ href, children }: { href: string; children: ReactNode }) {
  return (
    <Link className="ui-code" href={href} prefetch={false}>
      {children}
    </Link>
  );
}
