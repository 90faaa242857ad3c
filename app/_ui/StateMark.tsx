import type { ReactNode } from "react";
import { Glyph } from "./Glyph";
import { SaidGlyph } from "./language/SaidGlyph";
import { T } from "./language/T";
import { STATES, type StateName, type Tone } from "./states";

export interface StateMarkProps {
  state: StateName;
  /** Word beside the sign; the state's own word when left out. */
  children?: ReactNode;
  /** On a wash of its tone: for heads and cards. In table cells leave it off. */
  boxed?: boolean;
  /** The word is a text that a person wrote, of any length: it runs over as many lines as it needs. */
  isFreeText?: boolean;
}

/** A state as sign + word + colour. Readable without colour and by a screen reader. */
export function StateMark({ state, children, boxed = false, isFreeText = false }: StateMarkProps) {
  const look = STATES[state];
  return (
    <span className="ui-mark" data-tone={look.tone} data-boxed={boxed} data-free={isFreeText || undefined}>
      <Glyph name={look.glyph} />
      <span>{children ?? <T>{look.word}</T>}</span>
    </span>
  );
}

export interface TagProps {
  tone?: Tone;
  children: ReactNode;
  /** Shows a remove button with this spoken name. Client components only. */
  onRemove?: () => void;
  removeLabel?: string;
}

/** A short word about a thing (scheme, band, crew, an active filter). Not a state: use StateMark for that. */
export function Tag({ tone = "plain", children, onRemove, removeLabel }: TagProps) {
  return (
    <span className="ui-tag" data-tone={tone}>
      {children}
      {onRemove ? (
        <button type="button" className="ui-tag-remove" onClick={onRemove}>
          <SaidGlyph name="close" label={removeLabel ?? "Remove"} />
        </button>
      ) : null}
    </span>
  );
}
