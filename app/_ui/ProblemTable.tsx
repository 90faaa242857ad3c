"use client";

import type { Problem } from "@/lib/result";
import { useWords } from "./language/LanguageProvider";
import { messageOf, remedyOf } from "./language/problemWords";
import { ScrollRegion } from "./ScrollRegion";

/** A problem with the place in a file that it came from, where there is one. */
export interface LocatedProblem extends Problem {
  file?: string;
  /** As the person counts in the spreadsheet: the head is row 1. */
  row?: number;
}

function shown(value: unknown): string | undefined {
  if (value === undefined || value === null || value === "") return undefined;
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}

export interface ProblemTableProps {
  problems: readonly LocatedProblem[];
  /** What a field is called; undefined = its path says it. */
  nameOf: (path: string) => string | undefined;
  /** Rows are `id-0`, `id-1`, for fields that point at what is wrong with them. */
  id?: string;
}

/** File, row, field, value, what is wrong and what to do, a row for each problem. */
export function ProblemTable({ problems, nameOf, id }: ProblemTableProps) {
  const words = useWords();
  const { t } = words;
  const hasFile = problems.some((p) => p.file !== undefined);
  const hasRow = problems.some((p) => p.row !== undefined);
  return (
    <ScrollRegion label={t("List of problems")}>
      <table className="ui-facts ui-facts-stack">
        <thead>
          <tr>
            {hasFile ? <th scope="col">{t("File")}</th> : null}
            {hasRow ? (
              <th scope="col" data-align="end">
                {t("Row")}
              </th>
            ) : null}
            <th scope="col">{t("Field")}</th>
            <th scope="col">{t("Value")}</th>
            <th scope="col">{t("What is wrong")}</th>
            <th scope="col">{t("What to do")}</th>
          </tr>
        </thead>
        <tbody>
          {problems.map((p, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: two rows may hold the very same problem
            <tr key={i} id={id === undefined ? undefined : `${id}-${i}`}>
              {hasFile ? <td data-label={t("File")}>{p.file}</td> : null}
              {hasRow ? (
                <td data-label={t("Row")} data-align="end">
                  {p.row}
                </td>
              ) : null}
              <th scope="row" data-label={t("Field")}>
                {nameOf(p.path) ?? p.path}
              </th>
              <td data-label={t("Value")}>
                <code>{shown(p.value) ?? t("(empty)")}</code>
              </td>
              <td data-label={t("What is wrong")}>{messageOf(p, words, nameOf(p.path))}</td>
              <td data-label={t("What to do")}>{remedyOf(p, words)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollRegion>
  );
}
