"use client";

import { useRouter } from "next/navigation";
import { useState, useTransition } from "react";
import { Button } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { Select } from "@/app/_ui/Field";
import { English } from "@/app/_ui/language/English";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import type { Words } from "@/app/_ui/language/words";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import type { TableAnswers, TableHead } from "@/db/queries/imports";
import type { KindName } from "@/lib/exchange";
import type { Problem } from "@/lib/result";
import { answerTable } from "../actions";
import type { KindWords } from "../kinds";
import { ColumnMatching } from "./ColumnMatching";
import { QuestionFields } from "./QuestionFields";
import { WeatherFields } from "./WeatherFields";

export interface TableCardProps {
  importId: string;
  table: TableHead;
  /** What the person said so far. */
  answers: TableAnswers;
  kinds: readonly KindWords[];
  /** May still be changed. */
  isOpen: boolean;
  hasRefused: boolean;
}

const ENCODING = {
  "utf-8": "UTF-8",
  "utf-16le": "UTF-16",
  "utf-16be": "UTF-16",
  "windows-1252": "Windows-1252",
} as const;
export const SEPARATOR = {
  ",": "separated by commas",
  ";": "separated by semicolons",
  "\t": "separated by tabs",
} as const;

/** One table of a file: what it was taken for, how its columns were matched, what it leaves open. */
export function TableCard({ importId, table, answers: stored, kinds, isOpen, hasRefused }: TableCardProps) {
  const words = useWords();
  const { t, say } = words;
  const router = useRouter();
  const [answers, setAnswers] = useState<TableAnswers>(stored);
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [busy, start] = useTransition();
  const kind = answers.kind ?? table.kind;
  const isOtherKind = kind !== table.kind;
  const isDirty = JSON.stringify(answers) !== JSON.stringify(stored);
  const own = kinds.find((k) => k.name === table.kind)!;
  const sheet = table.sheet ?? "";
  const { totals, weather } = table;

  function send(next: TableAnswers): void {
    start(async () => {
      const answer = await answerTable({ importId, seq: table.seq, sheet, answers: next as never });
      setProblems(answer.ok ? [] : answer.problems);
      router.refresh();
    });
  }

  const facts = [
    t("{{count}} rows", { count: table.rowCount }),
    ...(table.encoding ? [ENCODING[table.encoding]] : []),
    ...(table.separator ? [t(SEPARATOR[table.separator])] : []),
  ].join(", ");
  const fates = totals
    ? t(
        "{{fresh}} new, {{changed}} changed, {{same}} same, {{refused}} refused; {{others}} standing are not in the file and stay",
        {
          fresh: totals.new,
          changed: totals.changed,
          same: totals.same,
          refused: totals.refused,
          others: totals.notInFile,
        },
      )
    : weather
      ? weather.places
          .map((p) =>
            t("{{place}}: {{fresh}} new hours, {{changed}} changed, {{same}} same", {
              place: p.placeCode,
              fresh: p.newHours,
              changed: p.changedHours,
              same: p.sameHours,
            }),
          )
          .join("; ") || t("no hours of a known place")
      : t("not read row by row yet");

  return (
    <Panel
      title={`${table.fileName}${table.sheet ? `, ${table.sheet}` : ""}`}
      note={`${facts}. ${fates}.`}
      level={3}
      actions={
        hasRefused ? (
          <a
            className="ui-button"
            data-kind="quiet"
            data-size="small"
            href={`/import/${importId}/refused?seq=${table.seq}&sheet=${encodeURIComponent(sheet)}`}
          >
            {t("Refused rows as CSV")}
          </a>
        ) : undefined
      }
    >
      <div className="grid gap-3">
        {problems.map((p) => (
          <Notice key={p.rule} kind="problem" announce title={messageOf(p, words)}>
            {remedyOf(p, words)}
          </Notice>
        ))}
        {table.notices.length > 0 ? (
          <Notice kind="info" title={t("How it was read")}>
            <ul>
              {table.notices.map((text) => (
                <li key={text}>
                  <English>{text}</English>
                </li>
              ))}
            </ul>
          </Notice>
        ) : null}
        {table.doubts ? (
          <Notice kind="warn" title={t("Look at these rows before you bring them in")}>
            <ul>
              {table.doubts.map((d) => (
                <li key={JSON.stringify(d)}>{say(d)}</li>
              ))}
            </ul>
          </Notice>
        ) : null}
        {table.kind === "orders" && table.matching.columns.some((c) => c.key === "priceMinor") ? (
          <Notice kind="info">
            {t(
              "Prices are kept with the lines of these orders; what a new order costs follows the item's own price.",
            )}
          </Notice>
        ) : null}
        <fieldset disabled={!isOpen} className="contents">
          <div className="max-w-sm">
            <Select
              label={t("This table holds")}
              value={kind}
              choices={kinds.map((k) => ({ value: k.name, label: t(k.title) }))}
              onChange={(event) => {
                const next = event.target.value as KindName;
                // Choices of columns belong to a kind.
                setAnswers({
                  kind: next,
                  options: answers.options,
                  ...(next === "weather" && { weather: answers.weather }),
                });
              }}
            />
          </div>
          {isOtherKind ? (
            <p>{t("The columns are matched anew when the table is read again.")}</p>
          ) : (
            <>
              <QuestionFields questions={table.questions} answers={answers} onChange={setAnswers} />
              {weather ? <WeatherFields head={weather} answers={answers} onChange={setAnswers} /> : null}
              <Disclosure summary={matchWords(table, words)} open={needsLook(table)}>
                <ColumnMatching table={table} kind={own} answers={answers} onChange={setAnswers} />
              </Disclosure>
            </>
          )}
        </fieldset>
        {isOpen ? (
          <div className="ui-form-actions">
            <Button
              kind={isDirty ? "primary" : "quiet"}
              disabled={!isDirty}
              busy={busy}
              onClick={() => send(answers)}
            >
              {t("Read again with these choices")}
            </Button>
            <Button
              kind="plain"
              busy={busy}
              onClick={() => send({ ...stored, isLeftOut: true })}
              label={t("Leave out {{table}}", {
                table: `${table.fileName}${table.sheet ? `, ${table.sheet}` : ""}`,
              })}
            >
              {t("Leave this table out")}
            </Button>
          </div>
        ) : null}
      </div>
    </Panel>
  );
}

/** Nothing could be read, a needed column is missing while rows are refused, or a name only resembles a field's. */
function needsLook({ totals, weather, matching }: TableHead): boolean {
  if (!totals && !weather) return true;
  if (matching.unmatched.some((u) => u.suggestion)) return true;
  return (totals?.refused ?? 0) > 0 && matching.missing.some((m) => m.required);
}

function matchWords({ matching }: TableHead, words: Words): string {
  const { t } = words;
  const converted = matching.columns.filter((c) => c.conversion).length;
  const missing = matching.missing.filter((m) => m.required).length;
  return [
    t("{{count}} columns matched", { count: matching.columns.length }),
    ...(converted > 0 ? [t("{{converted}} converted to another unit", { converted })] : []),
    ...(matching.unmatched.length > 0
      ? [t("{{columns}} not read", { columns: matching.unmatched.length })]
      : []),
    ...(missing > 0 ? [t("{{count}} needed columns not in the file", { count: missing })] : []),
  ].join(", ");
}
