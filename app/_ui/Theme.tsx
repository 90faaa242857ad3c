"use client";

import { useSyncExternalStore } from "react";
import { Check, FieldGroup } from "./Field";
import { useWords } from "./language/LanguageProvider";
import { THEME_KEY } from "./themeScript";

type Theme = "system" | "light" | "dark";
const THEMES: readonly { theme: Theme; word: string }[] = [
  { theme: "system", word: "As the device" },
  { theme: "light", word: "Light" },
  { theme: "dark", word: "Dark" },
];
function read(): Theme {
  const theme = document.documentElement.dataset.theme;
  return theme === "light" || theme === "dark" ? theme : "system";
}

const listeners = new Set<() => void>();
function subscribe(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function choose(theme: Theme): void {
  if (theme === "system") delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  try {
    localStorage.setItem(THEME_KEY, theme);
  } catch {
    // Storage may be closed to us; the choice then lasts until the page is left.
  }
  for (const listener of listeners) listener();
}

/** Light, dark, or whatever the device says. */
export function ThemeChoice() {
  const { t } = useWords();
  const current = useSyncExternalStore(subscribe, read, () => "system" as const);
  return (
    <FieldGroup label={t("Light or dark")}>
      {THEMES.map(({ theme, word }) => (
        <Check
          key={theme}
          kind="radio"
          name="theme"
          label={t(word)}
          checked={current === theme}
          onChange={() => choose(theme)}
        />
      ))}
    </FieldGroup>
  );
}
