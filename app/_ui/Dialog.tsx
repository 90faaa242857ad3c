"use client";

import { type ReactNode, useEffect, useId, useLayoutEffect, useRef } from "react";
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

/** Where the focus goes back to, best first: the opener, the panels around it, the page's main part. */
function waysBack(opener: Element | null): HTMLElement[] {
  const ways: HTMLElement[] = [];
  for (let at = opener; at && at !== document.body; at = at.parentElement?.closest(".ui-panel, main") ?? null)
    if (at instanceof HTMLElement) ways.push(at);
  return ways;
}

function focusFirstLeft(ways: readonly HTMLElement[]): void {
  const to = ways.find((way) => way.isConnected);
  if (!to || document.activeElement !== document.body) return;
  if (to !== ways[0] && !to.hasAttribute("tabindex")) {
    to.tabIndex = -1;
    // Otherwise every press inside the panel would give it the focus.
    to.addEventListener("blur", () => to.removeAttribute("tabindex"), { once: true });
  }
  to.focus({ preventScroll: true });
}

/**
 * A native modal dialog: the browser traps the focus and gives it back to the opener when it closes;
 * what is nearest to the opener gets it when what was done in the dialog took the opener away.
 * Focus goes to the first field, else to the first button at the foot, else to the close button. (React's `autoFocus`
 * comes before the dialog is shown and is lost.)
 */
export function Dialog({ open, onClose, title, children, actions, wide = false }: DialogProps) {
  const ref = useRef<HTMLDialogElement>(null);
  const titleId = useId();
  const { t } = useWords();
  const back = useRef<readonly HTMLElement[]>([]);
  const hadFocus = useRef(false);

  useEffect(() => {
    const dialog = ref.current;
    if (!dialog) return;
    if (open && !dialog.open) {
      back.current = waysBack(document.activeElement);
      dialog.showModal();
      firstControl(dialog)?.focus();
    }
    if (!open && dialog.open) dialog.close();
  }, [open]);
  // The opener may go with what the page shows next, while the dialog stays.
  useEffect(() => {
    const [opener] = back.current;
    if (open || !opener || opener.isConnected) return;
    focusFirstLeft(back.current);
    back.current = [];
  });
  // One that is taken away while it is open, or together with its opener, is not closed by the browser, and the focus
  // would be lost. Whose it was is known only before both are gone.
  useLayoutEffect(
    () => () => {
      const at = document.activeElement;
      hadFocus.current = ref.current?.open === true || (at !== null && at === back.current[0]);
    },
    [],
  );
  useEffect(
    () => () => {
      if (hadFocus.current) focusFirstLeft(back.current);
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
