/** Orders that somebody approved: a file may say when they come, and nothing else of them. */
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";
import { showCell } from "./cells";
import type { Draft } from "./draft";
import { columnOf } from "./kinds";
import { problemAt } from "./problems";
import type { KindName, OrderRow } from "./rows";

/** A line that stands, and whether somebody approved its order here; no file says that. */
export type StandingOrderRow = OrderRow & { isApproved?: true };

/** A file is no way around who may approve what: what was approved stays, but for the day it comes. */
export function refuseApproved(
  kind: KindName,
  drafts: readonly Draft[],
  existing: ReadonlyMap<string, unknown>,
): void {
  if (kind !== "orders") return;
  const rows = [...existing.values()] as StandingOrderRow[];
  const approved = new Set(rows.filter((r) => r.isApproved).map((r) => r.orderCode));
  for (const draft of drafts) {
    const code = draft.merged.orderCode as string;
    if (draft.problems.length > 0 || !approved.has(code)) continue;
    const changed = draft.changes.filter((c) => c.key !== "dueOn");
    if (!draft.isNew && changed.length === 0) continue;
    const { key, label } = changed[0] ?? { key: "lineNo", label: columnOf(kind, "lineNo").label };
    draft.problems.push(
      problemAt(
        { ...draft.at, column: label },
        {
          rule: "order-approved",
          value: showCell(columnOf(kind, key), draft.merged[key]),
          ...sentences(
            draft.isNew
              ? phrase("Order {{code}} was approved here, and has no line {{line}} to come.", {
                  code,
                  line: String(draft.merged.lineNo),
                })
              : phrase("Order {{code}} was approved here: a file changes its due dates and nothing else.", {
                  code,
                }),
            phrase(
              "Leave the row out. If it is right, close the order with a reason and propose another one.",
            ),
          ),
        },
      ),
    );
  }
}
