import type { ReactNode } from "react";

/** Controls in a row that wraps. `label` names it for assistive technology. */
export function Toolbar({ label, children }: { label: string; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: role="toolbar" would promise arrow keys between its controls
    <div role="group" aria-label={label} className="ui-toolbar ui-no-print">
      {children}
    </div>
  );
}

/** Pushes what follows to the right end of a toolbar. */
export function ToolbarGap() {
  return <span className="ui-toolbar-gap" />;
}
