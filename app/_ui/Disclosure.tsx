import type { ReactNode } from "react";
import { Glyph } from "./Glyph";

export interface DisclosureProps {
  summary: ReactNode;
  children: ReactNode;
  open?: boolean;
}

/** Detail that opens on demand; works without script. */
export function Disclosure({ summary, children, open }: DisclosureProps) {
  return (
    <details className="ui-disclosure" open={open}>
      <summary>
        <Glyph name="next" />
        {summary}
      </summary>
      <div className="ui-disclosure-body">{children}</div>
    </details>
  );
}
