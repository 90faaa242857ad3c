"use client";

import { type RefObject, useEffect, useRef, useState } from "react";
import type { Problem } from "@/lib/result";
import { fieldWords } from "./language/fieldWords";
import { useWords } from "./language/LanguageProvider";
import { messageOf, remedyOf } from "./language/problemWords";
import { Notice } from "./Notice";
import { ScrollRegion } from "./ScrollRegion";

/** A problem with the place in a file that it came from, where there is one. */
export interface LocatedProblem extends Problem {
  file?: string;
  /** As the person counts in the spreadsheet: the head is row 1. */
  row?: number;
}

export interface ProblemListProps {
  problems: readonly LocatedProblem[];
  title?: string;
  /** Show at most so many; the rest is counted. */
  most?: number;
  /** What a field is called where no form around the list tells it. */
  nameOf?: (path: string) => string;
}

function shown(value: unknown): string | undefined {
  if (value === undefined || value === null || value === "") return undefined;
  return typeof value === "object" ? JSON.stringify(value) : String(value);
}

const NO_LABELS: ReadonlyMap<string, string> = new Map();

/** The fields of the form around it by their names: a person knows a field by what stands over it. */
function useLabels(
  root: RefObject<HTMLElement | null>,
  problems: readonly LocatedProblem[],
): ReadonlyMap<string, string> {
  const [labels, setLabels] = useState(NO_LABELS);
  useEffect(() => {
    const form = root.current?.closest("form");
    if (!form) return;
    setLabels(
      new Map(
        problems.flatMap(({ path }) => {
          const field = form.elements.namedItem(path);
          const label =
            field instanceof Element && "labels" in field ? (field as HTMLInputElement).labels?.[0] : null;
          // A unit, "required" or a hint may follow inside the label: its first words are the name.
          const words = [...(label?.childNodes ?? [])].map((n) => n.textContent?.trim()).find(Boolean);
          return words ? [[path, words] as const] : [];
        }),
      ),
    );
  }, [root, problems]);
  return labels;
}

/** What is wrong with an input: file, row, field, value, what is wrong and what to do. Nothing when there is no problem. */
export function ProblemList({ problems, title, most = 200, nameOf }: ProblemListProps) {
  const words = useWords();
  const { t } = words;
  const root = useRef<HTMLDivElement>(null);
  const labels = useLabels(root, problems);
  // A refusal below the screen's edge looks as if nothing had happened. The first problem is another one with every
  // answer; the list around it may be made anew with every letter typed. A page that opens with problems stays at its top.
  const first = problems[0];
  const shownBefore = useRef(first);
  useEffect(() => {
    if (first && first !== shownBefore.current) root.current?.scrollIntoView({ block: "nearest" });
    shownBefore.current = first;
  }, [first]);
  if (problems.length === 0) return null;
  const labelOf = (path: string) => nameOf?.(path) ?? labels.get(path) ?? fieldWords(path, t);
  const list = problems.slice(0, most);
  const hasFile = list.some((p) => p.file !== undefined);
  const hasRow = list.some((p) => p.row !== undefined);
  const count = problems.length;
  return (
    <div className="grid scroll-my-24 gap-2" ref={root}>
      <Notice kind="problem" announce title={title ?? t("{{count}} problems", { count })}>
        {t("Nothing was saved. Do what is said beside each and try again.")}
      </Notice>
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
            {list.map((p, i) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: two rows may hold the very same problem
              <tr key={i}>
                {hasFile ? <td data-label={t("File")}>{p.file}</td> : null}
                {hasRow ? (
                  <td data-label={t("Row")} data-align="end">
                    {p.row}
                  </td>
                ) : null}
                <th scope="row" data-label={t("Field")}>
                  {labelOf(p.path) ?? p.path}
                </th>
                <td data-label={t("Value")}>
                  <code>{shown(p.value) ?? t("(empty)")}</code>
                </td>
                <td data-label={t("What is wrong")}>{messageOf(p, words, labelOf(p.path))}</td>
                <td data-label={t("What to do")}>{remedyOf(p, words)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      {count > list.length ? (
        <p className="text-quiet">
          {t("and {{more}} more of the same file", { more: String(count - list.length) })}
        </p>
      ) : null}
    </div>
  );
}
