"use client";

import { useState } from "react";
import type { WantedChange } from "@/app/_server/ruleChange";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
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
  const [open, setOpen] = useState<number>();
  return (
    <Panel title="History" note={`In force: ${basedOn === 0 ? "as delivered" : `version ${basedOn}`}.`} flush>
      <ScrollRegion label={`History of ${kind}`} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">Version</th>
              <th scope="col">When</th>
              <th scope="col">Who</th>
              <th scope="col">Why</th>
              {mayEdit ? (
                <th scope="col">
                  <span className="sr-only">Bring back</span>
                </th>
              ) : null}
            </tr>
          </thead>
          <tbody>
            {[...rows, DELIVERED].map((row) => (
              <tr key={row.version}>
                <th scope="row" data-label="Version">
                  {row.version}
                  {row.version === basedOn ? ", in force" : ""}
                </th>
                <td data-label="When">{row.at || "\u2013"}</td>
                <td data-label="Who">{row.by || "\u2013"}</td>
                <td data-label="Why">{row.reason}</td>
                {mayEdit ? (
                  <td>
                    <div>
                      {row.version === basedOn ? null : (
                        <Button size="small" kind="plain" onClick={() => setOpen(row.version)}>
                          Bring back <span className="sr-only">version {row.version}</span>
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
        title={open === 0 ? "Bring back what was delivered?" : `Bring back version ${open}?`}
        wide={effectFirst}
      >
        <SaveChange
          {...{ kind, basedOn, effectFirst, reasonHint }}
          onClose={() => setOpen(undefined)}
          readChange={() => ({ restore: open ?? 0 })}
        >
          <p>It becomes a new version, {basedOn + 1}. The versions in between stay in the history.</p>
        </SaveChange>
      </Dialog>
    </Panel>
  );
}
