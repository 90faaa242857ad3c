"use client";

import { type KeyboardEvent, type ReactNode, useEffect, useId, useRef, useState } from "react";
import { Button } from "./Button";
import type { GlyphName } from "./Glyph";

export interface PopoverProps {
  /** Words on the button. */
  label: ReactNode;
  /** "down" stands after the words, any other sign before them. */
  glyph?: GlyphName;
  /** Which edge of the button the panel hangs from. */
  side?: "start" | "end";
  size?: "normal" | "small";
  pressed?: boolean;
  /** Panel content; `close` gives the focus back to the button. */
  children: ReactNode | ((close: () => void) => ReactNode);
}

/** A button with a panel under it. Escape and a press outside close it. */
export function Popover({ label, glyph, side = "start", size = "normal", pressed, children }: PopoverProps) {
  const [open, setOpen] = useState(false);
  const root = useRef<HTMLDivElement>(null);
  const id = useId();
  useDismiss(open, root, () => setOpen(false));

  function close(): void {
    setOpen(false);
    root.current?.querySelector("button")?.focus();
  }
  function onKeyDown(event: KeyboardEvent): void {
    if (event.key === "Escape" && open) {
      event.stopPropagation();
      close();
    }
  }

  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: only hears Escape on its way up from the controls inside
    <div className="ui-pop" data-side={side} ref={root} onKeyDown={onKeyDown}>
      <Button
        glyph={glyph}
        size={size}
        aria-expanded={open}
        aria-controls={id}
        data-active={pressed}
        data-drops={glyph === "down"}
        onClick={() => setOpen(!open)}
      >
        {label}
      </Button>
      {open ? (
        <div className="ui-pop-panel" id={id}>
          {typeof children === "function" ? children(close) : children}
        </div>
      ) : null}
    </div>
  );
}

/** Calls `onDismiss` when a press or the focus lands outside of `root` while `open`. */
export function useDismiss(
  open: boolean,
  root: { current: HTMLElement | null },
  onDismiss: () => void,
): void {
  const latest = useRef(onDismiss);
  useEffect(() => {
    latest.current = onDismiss;
  });
  useEffect(() => {
    if (!open) return;
    const leave = (event: Event): void => {
      if (event.target instanceof Node && !root.current?.contains(event.target)) latest.current();
    };
    document.addEventListener("pointerdown", leave);
    document.addEventListener("focusin", leave);
    return () => {
      document.removeEventListener("pointerdown", leave);
      document.removeEventListener("focusin", leave);
    };
  }, [open, root]);
}
