"use client";

import { useEffect } from "react";

/** What may take the focus in the place of something inside it. */
const AROUND = "dialog, .ui-panel, main";

function around(element: Element): HTMLElement[] {
  const next = element.parentElement?.closest<HTMLElement>(AROUND);
  return next ? [next, ...around(next)] : [];
}

const canTake = (element: HTMLElement): boolean => {
  const modal = document.querySelector("dialog:modal");
  return (
    element.isConnected &&
    element.checkVisibility() &&
    !element.matches(":disabled") &&
    (!modal || modal.contains(element))
  );
};

/**
 * When what has the focus is taken away (a form that was sent, a row that is done, a button with its dialog), the focus
 * would fall to the top of the page, and whoever works by key or by ear would begin there again. It goes to the nearest
 * that is left: for what stood in a dialog that is gone, what opened it; else the dialog or panel around it, else the
 * page's main part.
 */
export function FocusKeeper() {
  useEffect(() => {
    /** Where the focus goes, best first; the first is what has it. */
    let ways: HTMLElement[] = [];
    const openers = new WeakMap<HTMLDialogElement, HTMLElement[]>();
    const note = ({ target }: FocusEvent): void => {
      if (!(target instanceof HTMLElement) || target === ways[0]) return;
      const dialog = target.closest("dialog");
      if (dialog && !(ways[0] && dialog.contains(ways[0]))) openers.set(dialog, ways);
      const own = [target, ...around(target)];
      // What came up beside the page, a message, goes again: then the page has it as before.
      ways = dialog
        ? [...own.slice(0, own.indexOf(dialog) + 1), ...(openers.get(dialog) ?? []), ...own]
        : own.length > 1
          ? own
          : [target, ...ways];
    };
    const look = (records: MutationRecord[]): void => {
      const [now] = ways;
      const at = document.activeElement;
      // A board that scrolls changes much: nothing is measured for what only came and went elsewhere.
      if (!now || (now.isConnected && records.every((record) => record.type === "childList"))) return;
      // Of what is hidden with its dialog, or switched off, the browser takes the focus only at the next frame.
      if (at instanceof HTMLElement && at !== document.body && canTake(at)) return;
      const to = ways.find(canTake);
      if (!to || to === at) return;
      if (to !== now && !to.hasAttribute("tabindex") && to.tabIndex < 0) {
        to.tabIndex = -1;
        // Otherwise every press inside it would give it the focus.
        to.addEventListener("blur", () => to.removeAttribute("tabindex"), { once: true });
      }
      to.focus({ preventScroll: true });
    };
    document.addEventListener("focusin", note);
    const observer = new MutationObserver(look);
    observer.observe(document.body, {
      childList: true,
      subtree: true,
      attributeFilter: ["open", "disabled"],
    });
    return () => {
      document.removeEventListener("focusin", note);
      observer.disconnect();
    };
  }, []);
  return null;
}
