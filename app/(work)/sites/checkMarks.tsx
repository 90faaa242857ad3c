"use client";

import { useWords } from "@/app/_ui/language/LanguageProvider";
import { StateMark } from "@/app/_ui/StateMark";

export const CHECK_WORDS = ["not estimated yet", "fails", "to check", "no findings"] as const;

type CheckWord = (typeof CHECK_WORDS)[number];

/** Failed checks first, then warnings, of a site or a hop; null = not estimated yet. */
export function CheckMarks({ fails, warns }: { fails: number | null; warns: number | null }) {
  const { t } = useWords();
  if (fails === null || warns === null) return <span className="text-quiet">{t("not estimated yet")}</span>;
  if (fails > 0) {
    return (
      <StateMark state="fail">
        {t("{{count}} fail", { count: fails })}
        {warns > 0 ? `, ${t("{{warns}} to check", { warns })}` : ""}
      </StateMark>
    );
  }
  if (warns > 0) return <StateMark state="warn">{t("{{warns}} to check", { warns })}</StateMark>;
  return <StateMark state="pass">{t("no findings")}</StateMark>;
}

/** The same as one word to filter and sort by; tables say it in the reader's language. */
export function checkWord(fails: number | null, warns: number | null): CheckWord {
  if (fails === null || warns === null) return "not estimated yet";
  if (fails > 0) return "fails";
  return warns > 0 ? "to check" : "no findings";
}
