"use client";

import { useId } from "react";
import { Check, FieldGroup, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { TableAnswers, TableHead } from "@/db/queries/imports";

export const ASKED = {
  decimalMark: "Which mark stands before the decimals?",
  dateOrder: "Which comes first in a date?",
  zone: "In which time zone are the hours?",
} as const;

interface QuestionFieldsProps {
  questions: TableHead["questions"];
  answers: TableAnswers;
  onChange: (answers: TableAnswers) => void;
}

/** What the file leaves open, each with the cell that can be read two ways. The answer lets refused rows in. */
export function QuestionFields({ questions, answers, onChange }: QuestionFieldsProps) {
  const { t } = useWords();
  const name = useId();
  const byOption = new Map(questions.map((q) => [q.option, q]));
  // An answer that was given stays on show, so that it can be changed.
  const options = (["decimalMark", "dateOrder", "zone"] as const).filter(
    (o) => byOption.has(o) || answers.options?.[o] !== undefined,
  );
  const answer = (option: keyof typeof ASKED, value: string) =>
    onChange({ ...answers, options: { ...answers.options, [option]: value || undefined } });
  return options.map((option) => {
    const question = byOption.get(option);
    const given = answers.options?.[option];
    const choices = question?.choices ?? CHOICES[option];
    return (
      <FieldGroup key={option} label={t(ASKED[option])}>
        {question ? (
          <p>
            {t("Row {{row}}, {{column}}:", { row: question.row, column: question.column })}{" "}
            <code>{question.value}</code> {t("can be read in two ways.")}
          </p>
        ) : null}
        {choices.map((c) => (
          <Check
            key={c.answer}
            kind="radio"
            name={`${name} ${option}`}
            label={c.readsAs ? `${t(c.answer)}: ${c.readsAs}` : t(c.answer)}
            checked={given === c.answer}
            onChange={() => answer(option, c.answer)}
          />
        ))}
        {option === "zone" ? (
          <TextInput
            label={t("Another zone")}
            hint={t("An IANA name, e.g. Europe/Zurich")}
            value={given && given !== "UTC" ? given : ""}
            onChange={(event) => answer(option, event.target.value)}
          />
        ) : null}
      </FieldGroup>
    );
  });
}

const CHOICES = {
  decimalMark: [
    { answer: "point", readsAs: "" },
    { answer: "comma", readsAs: "" },
  ],
  dateOrder: [
    { answer: "day first", readsAs: "" },
    { answer: "month first", readsAs: "" },
  ],
  zone: [{ answer: "UTC", readsAs: "" }],
} as const;
