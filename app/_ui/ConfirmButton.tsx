"use client";

import { type ReactNode, useState } from "react";
import { Button, type ButtonKind } from "./Button";
import { Dialog } from "./Dialog";
import type { GlyphName } from "./Glyph";

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
  /** Runs on confirmation; the dialog stays open and busy until it settles. */
  onConfirm?: () => void | Promise<void>;
  /** Or: a server action; the dialog then holds a form with these hidden values. */
  action?: (form: FormData) => void | Promise<void>;
  fields?: Readonly<Record<string, string>>;
}

/** A button that asks first. For what cannot be undone; where undo is possible offer undo instead. */
export function ConfirmButton(props: ConfirmButtonProps) {
  const { children, question, consequence, confirmWords, kind = "danger", glyph, disabled } = props;
  const [open, setOpen] = useState(false);
  const [busy, setBusy] = useState(false);

  async function run(form?: FormData): Promise<void> {
    setBusy(true);
    try {
      if (form && props.action) await props.action(form);
      else await props.onConfirm?.();
    } finally {
      setBusy(false);
      setOpen(false);
    }
  }

  return (
    <>
      <Button
        kind={kind === "danger" ? "quiet" : kind}
        glyph={glyph}
        disabled={disabled}
        onClick={() => setOpen(true)}
      >
        {children}
      </Button>
      <Dialog open={open} onClose={() => !busy && setOpen(false)} title={question}>
        <form action={run} className="ui-form">
          <div>{consequence}</div>
          {Object.entries(props.fields ?? {}).map(([name, value]) => (
            <input key={name} type="hidden" name={name} value={value} />
          ))}
          <div className="ui-form-actions justify-end">
            <Button autoFocus onClick={() => setOpen(false)}>
              Keep as it is
            </Button>
            <Button kind={kind} type="submit" busy={busy}>
              {confirmWords ?? children}
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}
