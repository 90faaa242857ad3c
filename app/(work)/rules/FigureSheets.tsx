"use client";

import { useState } from "react";
import type { WantedChange } from "@/app/_server/ruleChange";
import type { FigureGroup } from "@/app/_server/ruleFigures/figure";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { SaidSource } from "@/app/_ui/language/SaidSource";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { Tag } from "@/app/_ui/StateMark";
import { FigureDialog } from "./FigureDialog";
import { figureName, figureWords } from "./figureWords";

export interface FigureSheetsProps {
  kind: WantedChange["kind"];
  basedOn: number;
  effectFirst: boolean;
  mayEdit: boolean;
  groups: readonly FigureGroup[];
  /** What a figure that differs from the delivered one is, by path; "changed" where nothing stands. */
  marks?: Readonly<Record<string, "stricter" | "looser">>;
  reasonHint?: string;
}

/** Figures in groups: in force, as delivered, source; each group is changed in a dialog. */
export function FigureSheets({ groups, mayEdit, marks, ...change }: FigureSheetsProps) {
  const words = useWords();
  const { t, task } = words;
  const [open, setOpen] = useState<string>();
  return (
    <div className="grid gap-4">
      {groups.map((g) => (
        <Panel
          key={g.id}
          id={g.id}
          title={task(g.title)}
          actions={
            mayEdit ? (
              <Button size="small" onClick={() => setOpen(g.id)}>
                {t("Change (verb)")} <span className="sr-only">{task(g.title)}</span>
              </Button>
            ) : undefined
          }
          flush
        >
          <ScrollRegion label={t("Figures: {{title}}", { title: task(g.title) })} className="max-md:px-4">
            <table className="ui-facts ui-facts-stack">
              <thead>
                <tr>
                  <th scope="col">{t("Figure")}</th>
                  <th scope="col">{t("In force")}</th>
                  <th scope="col">{t("As delivered")}</th>
                  <th scope="col">{t("Source of the delivered figure")}</th>
                </tr>
              </thead>
              <tbody>
                {g.figures.map((f) => (
                  <tr key={f.path}>
                    <th scope="row" data-label={t("Figure")}>
                      {figureName(f.label, words)}
                    </th>
                    <td data-label={t("In force")}>
                      <div>
                        <strong>{figureWords(f, f.value, words)}</strong>{" "}
                        {f.value === f.delivered ? null : (
                          <Tag tone={marks?.[f.path] === "looser" ? "warn" : "info"}>
                            {t(marks?.[f.path] ?? "changed")}
                          </Tag>
                        )}
                      </div>
                    </td>
                    <td data-label={t("As delivered")}>{figureWords(f, f.delivered, words)}</td>
                    <td data-label={t("Source")} className="text-quiet">
                      <SaidSource text={f.source} />
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </ScrollRegion>
        </Panel>
      ))}
      <FigureDialog
        {...change}
        group={groups.find((g) => g.id === open)}
        onClose={() => setOpen(undefined)}
      />
    </div>
  );
}
