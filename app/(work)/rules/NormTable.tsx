"use client";

import { useState } from "react";
import type { FigureGroup } from "@/app/_server/ruleFigures/figure";
import { Button } from "@/app/_ui/Button";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { CLASS_WORDS } from "@/app/_ui/weather/factors";
import type { WorkClass } from "@/lib/weather";
import { FigureDialog } from "./FigureDialog";
import { figureName, peopleSaid } from "./figureWords";

export interface NormTableProps {
  title: string;
  basedOn: number;
  mayEdit: boolean;
  rows: readonly NormRow[];
}

export interface NormRow {
  group: FigureGroup;
  where: string;
  people: string;
  workClass: WorkClass;
  each?: string;
}

/** Three figures in one line: `10 / 15 / 30`. */
function triples(group: FigureGroup, words: Words): { label: string; words: string; isChanged: boolean }[] {
  const { locale } = words;
  const starts = group.figures.filter((f) => f.path.endsWith(".aMin"));
  const shown = starts.map((a) => {
    const stem = a.path.slice(0, -5);
    const points = group.figures.filter((f) => f.path.startsWith(`${stem}.`));
    return {
      label: figureName(a.label.replace(/, optimistic$/, ""), words),
      words: points.map((p) => formatNumber(p.value as number, 3, locale)).join(" / "),
      isNought: points.every((p) => p.value === 0 && p.delivered === 0),
      isChanged: points.some((p) => p.value !== p.delivered),
    };
  });
  // A task that takes time per unit only needs no line of noughts; the dialog has its fields.
  return shown.filter((t) => !t.isNought || shown.length === 1);
}

/** Task templates with their minutes: optimistic, likely, pessimistic. */
export function NormTable({ title, basedOn, mayEdit, rows }: NormTableProps) {
  const words = useWords();
  const { t } = words;
  const [open, setOpen] = useState<string>();
  return (
    <Panel
      title={title}
      note={t("Minutes: optimistic / likely / pessimistic.")}
      foot={t(
        "Source of the delivered figures: from memory, common practice: calibrate with your own actuals.",
      )}
      flush
    >
      <ScrollRegion label={title} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Task")}</th>
              <th scope="col">{t("Minutes")}</th>
              <th scope="col">{t("Where")}</th>
              <th scope="col">{t("People")}</th>
              <th scope="col">{t("Weather limits of")}</th>
              {mayEdit ? (
                <th scope="col">
                  <span className="sr-only">{t("Change (verb)")}</span>
                </th>
              ) : null}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ group, where, people, workClass }) => (
              <tr key={group.id}>
                <th scope="row" data-label={t("Task")}>
                  {words.task(group.title)}
                </th>
                <td data-label={t("Minutes")}>
                  <div>
                    {triples(group, words).map((line) => (
                      <span key={line.label} className="block">
                        {line.label}: {line.words}
                        {line.isChanged ? ` (${t("changed")})` : ""}
                      </span>
                    ))}
                  </div>
                </td>
                <td data-label={t("Where")}>{t(where)}</td>
                <td data-label={t("People")}>{peopleSaid(people, words)}</td>
                <td data-label={t("Weather limits of")}>{t(CLASS_WORDS[workClass])}</td>
                {mayEdit ? (
                  <td>
                    <div>
                      <Button size="small" kind="plain" onClick={() => setOpen(group.id)}>
                        {t("Change (verb)")} <span className="sr-only">{words.task(group.title)}</span>
                      </Button>
                    </div>
                  </td>
                ) : null}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <FigureDialog
        kind="hour norms"
        basedOn={basedOn}
        effectFirst={false}
        group={rows.find((r) => r.group.id === open)?.group}
        onClose={() => setOpen(undefined)}
      />
    </Panel>
  );
}
