"use client";

import dynamic from "next/dynamic";
import { useEffect, useState } from "react";
import { Glyph } from "@/app/_ui/Glyph";
import { useWords } from "@/app/_ui/language/LanguageProvider";

// Comes when somebody looks for something: pages need not carry it.
const FindDialog = dynamic(() => import("./FindDialog").then((m) => m.FindDialog), { ssr: false });

/** The way to anything by a few letters: a button in the bar, the key "/" and Ctrl+K. */
export function FindAnything() {
  const [isOpen, setIsOpen] = useState(false);
  const { t } = useWords();
  useEffect(() => {
    const hear = (event: KeyboardEvent): void => {
      const isCombination = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "k";
      const isSlash = event.key === "/" && !event.ctrlKey && !event.metaKey && !event.altKey;
      if (!isCombination && !(isSlash && !isTyping(event.target))) return;
      if (document.querySelector("dialog[open]")) return;
      event.preventDefault();
      setIsOpen(true);
    };
    window.addEventListener("keydown", hear);
    return () => window.removeEventListener("keydown", hear);
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
      {isOpen ? <FindDialog onClose={() => setIsOpen(false)} /> : null}
    </div>
  );
}

function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof Element && target.closest("input, textarea, select, [contenteditable=true]") !== null
  );
}
