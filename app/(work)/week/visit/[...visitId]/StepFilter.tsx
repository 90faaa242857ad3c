"use client";

import { type ReactNode, useState } from "react";
import { Check, FieldGroup } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";

export interface StepFilterProps {
  /** Where there are steps, and what that is called. */
  places: readonly { where: string; words: string }[];
  children: ReactNode;
}

/** All steps in their order, or those of one place only; works without a signal. */
export function StepFilter({ places, children }: StepFilterProps) {
  const { t } = useWords();
  const [shown, setShown] = useState("");
  return (
    <div className="ui-steps grid gap-3" data-shown={shown || undefined}>
      {places.length > 1 ? (
        <FieldGroup label={t("Which steps")}>
          {[{ where: "", words: t("all, in order") }, ...places].map(({ where, words }) => (
            <Check
              key={where}
              kind="radio"
              name="steps-where"
              label={words}
              checked={shown === where}
              onChange={() => setShown(where)}
            />
          ))}
        </FieldGroup>
      ) : null}
      {children}
    </div>
  );
}
