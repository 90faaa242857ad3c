"use client";

import { useState } from "react";
import type { WantedChange } from "@/app/_server/ruleChange";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { SaveChange } from "./SaveChange";

export interface HistoryRow {
  version: number;
  by: string;
  /** Already formatted, with its zone. */
  at: string;
  reason: string;
}

export interface HistoryProps {
  kind: WantedChange["kind"];
  basedOn: number;
  effectFirst: boolean;
  mayEdit: boolean;
  /** Newest first, without the delivered one. */
  rows: readonly HistoryRow[];
  reasonHint?: string;
}

const DELIVERED: HistoryRow = { version: 0, by: "", at: "", reason: "As delivered with the product" };

/** Who changed it when and why; an earlier version comes back as a new one. */
export function History({ kind, basedOn, effectFirst, mayEdit, rows, reasonHint }: HistoryProps) {
  const { t } = useWords();
  const [open, setOpen] = useState<number>();
  return (
    <Panel
      title={t("History")}
      note={t("In force: {{version}}.", {
        version: basedOn === 0 ? t("as delivered") : t("version {{version}}", { version: basedOn }),
      })}
      flush
    >
      <ScrollRegion label={t("History of {{kind}}", { kind: t(kind) })} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Version")}</th>
              <th scope="col">{t("When")}</th>
              <th scope="col">{t("Who")}</th>
              <th scope="col">{t("Why")}</th>
              {mayEdit ? (
                <th scope="col">
                  <span className="sr-only">{t("Bring back")}</span>
                </th>
              ) : null}
            </tr>
          </thead>
          <tbody>
            {[...rows, DELIVERED].map((row) => (
              <tr key={row.version}>
                <th scope="row" data-label={t("Version")}>
                  {row.version}
                  {row.version === basedOn ? `, ${t("in force")}` : ""}
                </th>
                <td data-label={t("When")}>{row.at || "\u2013"}</td>
                <td data-label={t("Who")}>{row.by || "\u2013"}</td>
                <td data-label={t("Why")}>{row.version === 0 ? t(row.reason) : row.reason}</td>
                {mayEdit ? (
                  <td>
                    <div>
                      {row.version === basedOn ? null : (
                        <Button size="small" kind="plain" onClick={() => setOpen(row.version)}>
                          {t("Bring back")}{" "}
                          <span className="sr-only">
                            {t("version {{version}}", { version: row.version })}
                          </span>
                        </Button>
                      )}
                    </div>
                  </td>
                ) : null}
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <Dialog
        open={open !== undefined}
        onClose={() => setOpen(undefined)}
        title={
          open === 0
            ? t("Bring back what was delivered?")
            : t("Bring back version {{version}}?", { version: open ?? 0 })
        }
        wide={effectFirst}
      >
        <SaveChange
          {...{ kind, basedOn, effectFirst, reasonHint }}
          onClose={() => setOpen(undefined)}
          readChange={() => ({ restore: open ?? 0 })}
        >
          <p>
            {t("It becomes a new version, {{version}}. The versions in between stay in the history.", {
              version: basedOn + 1,
            })}
          </p>
        </SaveChange>
      </Dialog>
    </Panel>
  );
}
