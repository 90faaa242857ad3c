import type { ReactNode } from "react";

export interface EmptyStateProps {
  title: ReactNode;
  /** What to do next, as a sentence. */
  children: ReactNode;
  actions?: ReactNode;
  /** Heading level: 3 in a titled panel. */
  level?: 2 | 3;
}

/** Nothing here yet, and what to do about it. The drawing: two ends that have not found each other. */
export function EmptyState({ title, children, actions, level = 3 }: EmptyStateProps) {
  const Heading = level === 2 ? "h2" : "h3";
  return (
    <div className="ui-empty">
      <svg
        className="ui-empty-sketch"
        viewBox="0 0 144 56"
        fill="none"
        stroke="currentColor"
        strokeWidth="1.5"
        aria-hidden="true"
      >
        <path d="M18 54L24 14h4l6 40M20.5 38h11M19 48h14M22 26h8" />
        <path d="M110 54l6-34h4l6 34M112.5 40h11M111 48h14M114.5 30h7" />
        <path d="M32 12c5 2 5 10 0 12M112 18c-5 2-5 10 0 12" strokeWidth="2.5" />
        <path d="M44 18l56 6" strokeDasharray="2 6" />
        <path d="M2 54.5h140" />
      </svg>
      <Heading>{title}</Heading>
      <p>{children}</p>
      {actions ? <div className="ui-empty-actions">{actions}</div> : null}
    </div>
  );
}
