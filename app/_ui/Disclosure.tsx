import type { ReactNode } from "react";
import { Glyph } from "./Glyph";

export interface DisclosureProps {
  summary: ReactNode;
  children: ReactNode;
  open?: boolean;
  /** Printed open, whether or not the reader opened it; other closed folds do not print. */
  isOpenOnPaper?: boolean;
}

/** Detail that opens on demand; works without script. */
export function Disclosure({ summary, children, open, isOpenOnPaper }: DisclosureProps) {
  return (
    <details className="ui-disclosure" open={open} data-paper={isOpenOnPaper ? "open" : undefined}>
      <summary>
        <Glyph name="next" />
        {summary}
      </summary>
      <div className="ui-disclosure-body">{children}</div>
    </details>
  );
}
