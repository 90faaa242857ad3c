import Link from "next/link";
import type { ComponentProps, ReactNode } from "react";
import { Glyph, type GlyphName } from "./Glyph";

export type ButtonKind = "primary" | "quiet" | "plain" | "danger";

interface Look {
  /** primary: the one main action of a page. quiet: the rest. plain: inside toolbars. danger: cannot be undone. */
  kind?: ButtonKind;
  size?: "normal" | "small";
  glyph?: GlyphName;
  /** Fill the row: main actions on a phone. */
  wide?: boolean;
}

export interface ButtonProps extends Omit<ComponentProps<"button">, "children">, Look {
  children?: ReactNode;
  /** Waiting for the answer: keeps its width, shows a spinner, ignores presses. */
  busy?: boolean;
  /** Only the sign is seen; `label` is spoken. */
  label?: string;
}

/** A button. `type="button"` unless said otherwise, so that it never submits a form by accident. */
export function Button(props: ButtonProps) {
  const {
    kind = "quiet",
    size = "normal",
    glyph,
    wide = false,
    busy = false,
    label,
    children,
    type = "button",
    className,
    onClick,
    ...rest
  } = props;
  return (
    <button
      {...rest}
      type={type}
      className={className ? `ui-button ${className}` : "ui-button"}
      data-kind={kind}
      data-size={size}
      data-wide={wide}
      data-icon-only={children === undefined}
      aria-label={label}
      aria-busy={busy || undefined}
      aria-disabled={busy || undefined}
      onClick={busy ? (event) => event.preventDefault() : onClick}
    >
      {glyph ? <Glyph name={glyph} /> : null}
      {children}
      {busy ? <span className="ui-spinner" aria-hidden="true" /> : null}
    </button>
  );
}

export interface LinkButtonProps extends Omit<ComponentProps<typeof Link>, "children">, Look {
  children: ReactNode;
}

/** A link that looks like a button: it goes somewhere and changes nothing. */
export function LinkButton(props: LinkButtonProps) {
  const { kind = "quiet", size = "normal", glyph, wide = false, children, className, ...rest } = props;
  return (
    <Link
      {...rest}
      className={className ? `ui-button ${className}` : "ui-button"}
      data-kind={kind}
      data-size={size}
      data-wide={wide}
    >
      {glyph ? <Glyph name={glyph} /> : null}
      {children}
    </Link>
  );
}

/** A link that looks like a button and hands a file over: never fetched ahead, as a page is, because somebody might press it. */
export function DownloadButton(props: { href: string; glyph?: Look["glyph"]; children: ReactNode }) {
  const { href, glyph, children } = props;
  return (
    <a href={href} download className="ui-button" data-kind="quiet" data-size="normal">
      {glyph ? <Glyph name={glyph} /> : null}
      {children}
    </a>
  );
}

/** Buttons that belong together (zoom levels, views), joined. */
export function ButtonGroup({ label, children }: { label: string; children: ReactNode }) {
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset would bring its own frame into a toolbar
    <div role="group" aria-label={label} className="ui-button-group">
      {children}
    </div>
  );
}
