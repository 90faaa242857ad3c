"use client";

import { type ReactNode, useId, useRef, useState } from "react";
import { Glyph } from "./Glyph";
import { FeetChoice } from "./language/FeetChoice";
import { LanguageChoice } from "./language/LanguageChoice";
import { useWords } from "./language/LanguageProvider";
import { ROLE_WORDS, type Role } from "./nav";
import { useDismiss } from "./Popover";
import { ThemeChoice } from "./Theme";

export interface UserMenuProps {
  role: Role;
  regions?: readonly string[];
  userName: string;
  extra?: ReactNode;
  signOut: ReactNode;
}

function initials(name: string): string {
  const words = name.trim().split(/\s+/);
  const first = words[0]?.[0] ?? "";
  const last = words.length > 1 ? (words[words.length - 1]?.[0] ?? "") : "";
  return (first + last).toUpperCase();
}

/** Who is signed in, as what, the choice of light or dark, and the way out. */
export function UserMenu({ role, regions, userName, extra, signOut }: UserMenuProps) {
  const [open, setOpen] = useState(false);
  const root = useRef<HTMLDivElement>(null);
  const id = useId();
  const { t } = useWords();
  useDismiss(open, root, () => setOpen(false));
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: only hears Escape on its way up from the controls inside
    <div
      className="ui-user ui-pop"
      data-side="end"
      ref={root}
      onKeyDown={(event) => {
        if (event.key !== "Escape" || !open) return;
        setOpen(false);
        root.current?.querySelector("button")?.focus();
      }}
    >
      <button
        type="button"
        className="ui-user-button"
        aria-expanded={open}
        aria-controls={id}
        onClick={() => setOpen(!open)}
      >
        <span className="ui-user-initials" aria-hidden="true">
          {initials(userName)}
        </span>
        <span className="ui-user-name">{userName}</span>
        <span className="sr-only">, {t("account")}</span>
        <Glyph name="down" />
      </button>
      {open ? (
        <div className="ui-pop-panel" id={id}>
          <p className="font-semibold">{userName}</p>
          <p className="text-quiet mb-3">
            {t(ROLE_WORDS[role])}
            {regions ? `, ${regions.join(", ")}` : ""}
          </p>
          <ThemeChoice />
          <LanguageChoice />
          <FeetChoice />
          {extra ? <div className="border-line mt-3 border-t pt-3">{extra}</div> : null}
          <div className="border-line mt-3 border-t pt-3">{signOut}</div>
        </div>
      ) : null}
    </div>
  );
}
