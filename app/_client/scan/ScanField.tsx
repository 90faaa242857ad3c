"use client";

import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Camera } from "./Camera";

export interface ScanFieldProps {
  label: string;
  hint?: string;
  error?: string;
  /** Every code that is read or typed, trimmed and never empty. */
  onScan: (text: string) => void;
  /** For a page that is about scanning: the field has the focus at once. */
  hasFocus?: boolean;
}

/**
 * Takes a code from a scanner that types, from the keyboard, or from the camera. A scanner types its text and presses
 * Enter: the field is empty again for the next one. No form of its own, because it may stand inside one.
 */
export function ScanField({ label, hint, error, onScan, hasFocus = false }: ScanFieldProps) {
  const { t } = useWords();
  const [text, setText] = useState("");
  const [isCamera, setIsCamera] = useState(false);

  function take(raw: string): void {
    const code = raw.trim();
    setText("");
    if (code !== "") onScan(code);
  }

  return (
    <div className="grid gap-2">
      <TextInput
        label={label}
        hint={hint}
        error={error}
        value={text}
        onChange={(e) => setText(e.target.value)}
        onKeyDown={(e) => {
          if (e.key !== "Enter") return;
          e.preventDefault(); // it would send the form around
          take(e.currentTarget.value);
        }}
        autoFocus={hasFocus}
        autoComplete="off"
        autoCapitalize="characters"
        spellCheck={false}
        enterKeyHint="go"
      />
      <div className="flex flex-wrap gap-2">
        <Button onClick={() => take(text)}>{t("Take it")}</Button>
        <Button onClick={() => setIsCamera(true)}>{t("Use the camera")}</Button>
      </div>
      <Dialog open={isCamera} onClose={() => setIsCamera(false)} title={label}>
        <Camera
          onRead={(read) => {
            setIsCamera(false);
            take(read);
          }}
        />
      </Dialog>
    </div>
  );
}
