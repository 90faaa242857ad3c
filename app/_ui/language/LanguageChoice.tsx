"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { useWords } from "./LanguageProvider";
import { LANGUAGE_COOKIE, LANGUAGES, type Language } from "./languages";

const YEAR_SECONDS = 366 * 24 * 3600;

/** Chooses the language of this device. */
export function LanguageChoice() {
  const router = useRouter();
  const { language, t } = useWords();
  // Marked at once: the page in the other language comes a moment later.
  const [chosen, setChosen] = useState(language);
  return (
    <fieldset className="grid gap-1">
      <legend className="font-semibold">{t("Language")}</legend>
      {(Object.keys(LANGUAGES) as Language[]).map((code) => (
        <label key={code} className="ui-check" lang={code}>
          <input
            type="radio"
            name="language"
            value={code}
            checked={chosen === code}
            onChange={() => {
              setChosen(code);
              // biome-ignore lint/suspicious/noDocumentCookie: a preference of this device, no secret; not every browser has the other way
              document.cookie = `${LANGUAGE_COOKIE}=${code}; path=/; max-age=${YEAR_SECONDS}; samesite=lax`;
              router.refresh();
            }}
          />
          {LANGUAGES[code].name}
        </label>
      ))}
    </fieldset>
  );
}
