import type { ReactNode } from "react";
import { serverWords } from "@/app/_server/language";
import { Check, FieldGroup } from "@/app/_ui/Field";

export interface StepFilterProps {
  /** Where there are steps, and what that is called. */
  places: readonly { where: string; words: string }[];
  children: ReactNode;
}

/** All steps in their order, or those of one place only (by the style sheet, so before any script and without a signal). */
export async function StepFilter({ places, children }: StepFilterProps) {
  const { t } = await serverWords();
  return (
    <div className="ui-steps grid gap-3">
      {places.length > 1 ? (
        <FieldGroup label={t("Which steps")}>
          {[{ where: "", words: t("all, in order") }, ...places].map(({ where, words }) => (
            <Check
              key={where}
              kind="radio"
              name="steps-where"
              label={words}
              value={where}
              defaultChecked={where === ""}
            />
          ))}
        </FieldGroup>
      ) : null}
      {children}
    </div>
  );
}
