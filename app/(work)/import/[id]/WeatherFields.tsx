"use client";

import { useId } from "react";
import { Check, FieldGroup, TextInput } from "@/app/_ui/Field";
import { English } from "@/app/_ui/language/English";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import type { TableAnswers, WeatherAnswers, WeatherHead } from "@/db/queries/imports";

interface WeatherFieldsProps {
  head: WeatherHead;
  answers: TableAnswers;
  onChange: (answers: TableAnswers) => void;
}

/** Rules of lib/weather that a person may answer with "yes, it is so". */
const isQuestion = (rule: string) => rule.endsWith("-unit") || rule === "gust-under-wind";

/** What a file of hours does not say about itself. */
export function WeatherFields({ head, answers, onChange }: WeatherFieldsProps) {
  const words = useWords();
  const { t } = words;
  const name = useId();
  const now: WeatherAnswers = answers.weather ?? head.answers;
  const set = (change: Partial<WeatherAnswers>) => onChange({ ...answers, weather: { ...now, ...change } });
  const issued =
    now.issuedAtMillis === undefined ? "" : new Date(now.issuedAtMillis).toISOString().slice(0, 16);
  return (
    <div className="grid gap-3">
      {head.problems.map((p) => (
        <Notice
          key={`${p.path} ${p.rule}`}
          kind="problem"
          title={
            p.said?.message ? (
              `${p.path}: ${messageOf(p, words)}`
            ) : (
              <English>{`${p.path}: ${p.message}`}</English>
            )
          }
        >
          {p.said?.remedy ? remedyOf(p, words) : <English>{p.remedy}</English>}
          {isQuestion(p.rule) ? (
            <Check
              label={t("The figures are right as they are")}
              checked={now.confirmed.includes(p.rule)}
              onChange={(event) =>
                set({
                  confirmed: event.target.checked
                    ? [...now.confirmed, p.rule]
                    : now.confirmed.filter((r) => r !== p.rule),
                })
              }
            />
          ) : null}
        </Notice>
      ))}
      <div className="grid gap-3 sm:grid-cols-2">
        <FieldGroup label={t("These hours are")}>
          {(["history", "forecast"] as const).map((kind) => (
            <Check
              key={kind}
              kind="radio"
              name={`${name} kind`}
              label={kind === "history" ? t("past hours, as measured") : t("a forecast")}
              checked={now.kind === kind}
              onChange={() => set({ kind })}
            />
          ))}
        </FieldGroup>
        {now.kind === "forecast" ? (
          <TextInput
            type="datetime-local"
            label={t("Issued at")}
            unit="UTC"
            hint={t("The latest issue is the one that plans use.")}
            value={issued}
            onChange={(event) => {
              const millis = Date.parse(`${event.target.value}Z`);
              set({ issuedAtMillis: Number.isNaN(millis) ? undefined : millis });
            }}
          />
        ) : null}
        <TextInput
          label={t("Source")}
          hint={t("Shown beside every figure that comes from it.")}
          value={now.source}
          onChange={(event) => set({ source: event.target.value })}
        />
        <FieldGroup label={t("When the file has no thunder column")}>
          {(["unknown", "none"] as const).map((value) => (
            <Check
              key={value}
              kind="radio"
              name={`${name} thunder`}
              label={
                value === "unknown"
                  ? t("thunder is unknown: work that stops for it stays closed")
                  : t("there was no thunder: my decision, noted in the source")
              }
              checked={now.withoutThunder === value}
              onChange={() => set({ withoutThunder: value })}
            />
          ))}
        </FieldGroup>
      </div>
      <Check
        label={t("These hours are made up, for practice")}
        checked={now.isMadeUp}
        onChange={(event) => set({ isMadeUp: event.target.checked })}
      />
    </div>
  );
}
