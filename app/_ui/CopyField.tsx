"use client";

import { useRef, useState } from "react";
import { Button } from "./Button";
import { TextInput } from "./Field";
import { useWords } from "./language/LanguageProvider";

/** A text to be taken elsewhere: selected when it is reached, copied by a button. */
export function CopyField({ label, text, hint }: { label: string; text: string; hint?: string }) {
  const row = useRef<HTMLDivElement>(null);
  const [said, setSaid] = useState("");
  const { t } = useWords();

  async function copy(): Promise<void> {
    const field = row.current?.querySelector("input");
    field?.select();
    try {
      await navigator.clipboard.writeText(text);
      setSaid(t("Copied."));
    } catch {
      // Browsers withhold the clipboard over plain http; the text is selected, so the keys do it.
      setSaid(t("Selected: copy it with Ctrl+C or the menu of your device."));
    }
  }

  return (
    <div ref={row} className="grid gap-2">
      <TextInput label={label} hint={hint} value={text} readOnly onFocus={(e) => e.currentTarget.select()} />
      <div className="flex flex-wrap items-center gap-3">
        <Button size="small" onClick={copy}>
          {t("Copy")}
        </Button>
        <span role="status">{said}</span>
      </div>
    </div>
  );
}
