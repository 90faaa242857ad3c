"use client";

import dynamic from "next/dynamic";
import { useCallback, useEffect, useRef, useState } from "react";
import { Glyph } from "@/app/_ui/Glyph";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { EarlyKeys } from "./FindDialog";

const load = () => import("./FindDialog").then((m) => m.FindDialog);

const GIVE_UP_MILLIS = 5000;

// Comes when a page has nothing else to do: pages need not carry it.
const FindDialog = dynamic(load, { ssr: false });

/** The way to anything by a few letters: a button in the bar, the key "/" and Ctrl+K. */
export function FindAnything() {
  const [isOpen, setIsOpen] = useState(false);
  const { t } = useWords();
  const early = useRef<EarlyKeys>(undefined);
  useEffect(() => {
    const isFine = window.matchMedia("(pointer: fine)").matches;
    // Safari knows no idle time.
    if (!isFine || !window.requestIdleCallback) return;
    const idle = window.requestIdleCallback(() => void load());
    return () => window.cancelIdleCallback(idle);
  }, []);
  useEffect(() => {
    const hear = (event: KeyboardEvent): void => {
      const isCombination = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "k";
      const isSlash = event.key === "/" && !event.ctrlKey && !event.metaKey && !event.altKey;
      if (!isCombination && !(isSlash && !isTyping(event.target))) return;
      if (document.querySelector("dialog[open]")) return;
      event.preventDefault();
      early.current = { text: "", hasEntered: false, since: event.timeStamp };
      setIsOpen(true);
    };
    // Until the field is there, what is typed is kept for it.
    const keep = (event: KeyboardEvent): void => {
      const kept = early.current;
      // A field that does not come must not keep the keyboard.
      if (event.key === "Escape" || (kept && event.timeStamp - kept.since > GIVE_UP_MILLIS)) {
        early.current = undefined;
        return;
      }
      if (!kept || event.ctrlKey || event.metaKey || event.altKey) return;
      if (event.key === "Enter") kept.hasEntered = kept.text !== "";
      else if (event.key === "Backspace") kept.text = kept.text.slice(0, -1);
      else if (event.key.length === 1) kept.text += event.key;
      else return;
      event.preventDefault();
    };
    window.addEventListener("keydown", keep);
    window.addEventListener("keydown", hear);
    return () => {
      window.removeEventListener("keydown", keep);
      window.removeEventListener("keydown", hear);
    };
  }, []);
  const takeEarly = useCallback(() => {
    const kept = early.current;
    early.current = undefined;
    return kept;
  }, []);
  return (
    <div className="ui-find-anything">
      <button
        type="button"
        className="ui-find-button"
        aria-label={t("Find anything")}
        aria-haspopup="dialog"
        aria-keyshortcuts="/ Control+K"
        onClick={() => setIsOpen(true)}
      >
        <Glyph name="search" />
        <span className="ui-find-word">{t("Find")}</span>
        <span className="ui-find-key" aria-hidden="true">
          /
        </span>
      </button>
      {isOpen ? <FindDialog takeEarly={takeEarly} onClose={() => setIsOpen(false)} /> : null}
    </div>
  );
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof Element && target.closest("input, textarea, select, [contenteditable=true]") !== null
  );
}
