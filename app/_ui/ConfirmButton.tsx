"use client";

import { type ReactNode, useState, useTransition } from "react";
import { Button, type ButtonKind } from "./Button";
import { Dialog } from "./Dialog";
import type { GlyphName } from "./Glyph";
import { T } from "./language/T";

export interface ConfirmButtonProps {
  /** Words on the button, and on the button that confirms unless `confirmWords` says otherwise. */
  children: ReactNode;
  /** The question, naming the thing: "Return kit K-014 to the depot?" */
  question: string;
  /** What will happen and whether it can be undone. */
  consequence: ReactNode;
  confirmWords?: string;
  kind?: ButtonKind;
  glyph?: GlyphName;
  disabled?: boolean;
  /** The id of the text that says why it is disabled. */
  describedBy?: string;
  /** Asked before the question is put; false = there is nothing to ask. */
  askFirst?: () => Promise<boolean>;
  /** Runs on confirmation; the dialog stays open and busy until it settles. */
  onConfirm?: () => void | Promise<void>;
  /** Or: a server action, called with `fields` as its form data. */
  action?: (form: FormData) => void | Promise<void>;
  fields?: Readonly<Record<string, string>>;
}

/** A button that asks first. For what cannot be undone; where undo is possible offer undo instead. */
export function ConfirmButton(props: ConfirmButtonProps) {
  const { children, question, consequence, confirmWords, kind = "danger", glyph, disabled, askFirst } = props;
  const [open, setOpen] = useState(false);
  const [busy, startTransition] = useTransition();

  // No form of its own: such a button may well stand inside one, and forms do not nest.
  function run(): void {
    startTransition(async () => {
      const form = new FormData();
      for (const [name, value] of Object.entries(props.fields ?? {})) form.set(name, value);
      await (props.action ? props.action(form) : props.onConfirm?.());
      setOpen(false);
    });
  }

  return (
    <>
      <Button
        kind={kind === "danger" ? "quiet" : kind}
        glyph={glyph}
        disabled={disabled}
        aria-describedby={props.describedBy}
        busy={askFirst && busy && !open}
        onClick={() => (askFirst ? startTransition(async () => setOpen(await askFirst())) : setOpen(true))}
      >
        {children}
      </Button>
      <Dialog open={open} onClose={() => !busy && setOpen(false)} title={question}>
        <div className="ui-form">
          <div>{consequence}</div>
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setOpen(false)}>
              <T>Keep as it is</T>
            </Button>
            <Button kind={kind} busy={busy} onClick={run}>
              {confirmWords ?? children}
            </Button>
          </div>
        </div>
      </Dialog>
    </>
  );
}
