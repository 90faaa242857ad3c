import type { ReactNode } from "react";

export interface ScrollRegionProps {
  /** Spoken name of the region. */
  label: string;
  className?: string;
  children: ReactNode;
}

/**
 * A part that scrolls by itself. It takes the focus so that the arrow keys can scroll it: content that is
 * cut off and cannot be reached by key is a barrier (WCAG 2.1.1).
 */
export function ScrollRegion({ label, className, children }: ScrollRegionProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: scrolled with the arrow keys, see above
    <section className={className ? `ui-scroll ${className}` : "ui-scroll"} aria-label={label} tabIndex={0}>
      {children}
    </section>
  );
}
