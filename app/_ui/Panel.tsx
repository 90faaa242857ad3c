import { type ReactNode, useId } from "react";

export interface PanelProps {
  title?: ReactNode;
  /** A quiet sentence under the title. */
  note?: ReactNode;
  /** Buttons or marks at the right of the head. */
  actions?: ReactNode;
  /** A quiet last line: source, age of the data, units. */
  foot?: ReactNode;
  /** No inner padding: for tables and boards that bring their own. */
  flush?: boolean;
  level?: 2 | 3;
  tone?: "plain" | "quiet";
  id?: string;
  className?: string;
  children: ReactNode;
}

/** A framed part of a page with a heading. A titled panel is a region that assistive technology can jump to. */
export function Panel(props: PanelProps) {
  const {
    title,
    note,
    actions,
    foot,
    flush = false,
    level = 2,
    tone = "plain",
    id,
    className,
    children,
  } = props;
  const ownId = useId();
  const Heading = level === 2 ? "h2" : "h3";
  return (
    <section
      id={id}
      className={className ? `ui-panel ${className}` : "ui-panel"}
      data-tone={tone}
      aria-labelledby={title ? ownId : undefined}
    >
      {title || actions ? (
        <div className="ui-panel-head">
          <div className="min-w-0">
            {title ? <Heading id={ownId}>{title}</Heading> : null}
            {note ? <p>{note}</p> : null}
          </div>
          {actions ? <div className="ui-toolbar">{actions}</div> : null}
        </div>
      ) : null}
      <div className="ui-panel-body" data-flush={flush}>
        {children}
      </div>
      {foot ? <div className="ui-panel-foot">{foot}</div> : null}
    </section>
  );
}
