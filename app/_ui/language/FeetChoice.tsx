"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { keepOnDevice } from "./keepOnDevice";
import { useWords } from "./LanguageProvider";
import { FEET_COOKIE } from "./languages";

/** Whether this device shows feet and miles per hour beside metric. What is planned and booked stays metric. */
export function FeetChoice() {
  const router = useRouter();
  const { isFeetToo, t } = useWords();
  // Marked at once: the page with the other units comes a moment later.
  const [isChosen, setChosen] = useState(isFeetToo);
  return (
    <fieldset className="grid gap-1">
      <legend className="font-semibold">{t("Units")}</legend>
      <label className="ui-check">
        <input
          type="checkbox"
          checked={isChosen}
          onChange={({ target }) => {
            setChosen(target.checked);
            keepOnDevice(FEET_COOKIE, target.checked ? "yes" : "no");
            router.refresh();
          }}
        />
        {t("Feet and mph beside metric")}
      </label>
    </fieldset>
  );
}
