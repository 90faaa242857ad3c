"use client";

import { type ReactNode, useEffect, useId, useRef } from "react";
import { Button } from "./Button";
import { useWords } from "./language/LanguageProvider";

export interface DialogProps {
  open: boolean;
  /** Called on Escape, on the close button and on a press outside. */
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
 * A native modal dialog: the browser traps the focus and gives it back to the opener when it closes.
 * Focus goes to the first field, else to the first button at the foot, else to the close button. (React's `autoFocus`
 * comes before the dialog is shown and is lost.)
 */
export function Dialog({ open, onClose, title, children, actions, wide = false }: DialogProps) {
  const ref = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  const { t } = useWords();
  const opener = useRef<Element>(null);

  useEffect(() => {
    const dialog = ref.current;
    if (!dialog) return;
    if (open && !dialog.open) {
      opener.current = document.activeElement;
      dialog.showModal();
      firstControl(dialog)?.focus();
    }
    if (!open && dialog.open) dialog.close();
  }, [open]);
  // One that is taken away while it is open is not closed by the browser, and the focus would be lost.
  useEffect(
    () => () => {
      const to = opener.current;
      if (document.activeElement === document.body && to instanceof HTMLElement && to.isConnected)
        to.focus({ preventScroll: true });
    },
    [],
  );

  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: the press outside has its key already, Escape, through onCancel
    <dialog
      ref={ref}
      className="ui-dialog"
      data-wide={wide}
      aria-labelledby={titleId}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
      onClose={() => open && onClose()}
      onClick={(event) => event.target === ref.current && onClose()}
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
