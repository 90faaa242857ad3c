"use client";

import { type ReactNode, useEffect, useId, useRef } from "react";
import { Button } from "./Button";
import { useWords } from "./language/LanguageProvider";

export interface DialogProps {
  open: boolean;
  /** Called on Escape, on the close button and on a press outside; with `data-shown-once` in it on the button only. */
  onClose: () => void;
  title: ReactNode;
  children: ReactNode;
  /** Buttons; the main one last. */
  actions?: ReactNode;
  wide?: boolean;
}

function firstControl(dialog: HTMLDialogElement): HTMLElement | null {
  const field = ":is(input, select, textarea):not([disabled], [type=hidden])";
  return (
    dialog.querySelector<HTMLElement>(`.ui-dialog-body ${field}`) ??
    dialog.querySelector(".ui-dialog-foot button")
  );
}

/**
 * A native modal dialog: the browser traps the focus and gives it back to the opener when it closes
 * (FocusKeeper, when what was done in the dialog took the opener away).
 * Focus goes to the first field, else to the first button at the foot, else to the close button. (React's `autoFocus`
 * comes before the dialog is shown and is lost.)
 */
export function Dialog({ open, onClose, title, children, actions, wide = false }: DialogProps) {
  const ref = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  const { t } = useWords();

  useEffect(() => {
    const dialog = ref.current;
    if (!dialog) return;
    if (open && !dialog.open) {
      dialog.showModal();
      firstControl(dialog)?.focus();
    }
    if (!open && dialog.open) dialog.close();
  }, [open]);

  /** What nobody can call up again (an address, codes) does not go with a slip of a finger. */
  const isShownOnce = (): boolean => ref.current?.querySelector("[data-shown-once]") !== null;
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the press outside has its key already, Escape, through onCancel
    <dialog
      ref={ref}
      className="ui-dialog"
      data-wide={wide}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        if (!isShownOnce()) onClose();
      }}
      onClose={() => open && onClose()}
      onClick={(event) => event.target === ref.current && !isShownOnce() && onClose()}
    >
      {open ? (
        <>
          <div className="ui-dialog-head">
            <h2 id={titleId}>{title}</h2>
            <Button kind="plain" glyph="close" label={t("Close")} onClick={onClose} />
          </div>
          <div className="ui-dialog-body">{children}</div>
          {actions ? <div className="ui-dialog-foot">{actions}</div> : null}
        </>
      ) : null}
    </dialog>
  );
}
