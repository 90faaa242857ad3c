"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { keepOnDevice } from "./keepOnDevice";
import { useWords } from "./LanguageProvider";
import { LANGUAGE_COOKIE, LANGUAGES, type Language } from "./languages";

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
              keepOnDevice(LANGUAGE_COOKIE, code);
              router.refresh();
            }}
          />
          {LANGUAGES[code].name}
        </label>
      ))}
    </fieldset>
  );
}
