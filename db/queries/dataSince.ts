/** What came in since a plan was made that the plan does not know of. */
import { and, desc, gt, inArray, ne } from "drizzle-orm";
import type { Db } from "../open";
import { logEntry, visitReport, weatherBlock } from "../schema";
import type { LogAction } from "./log";
import { loadPlan, type PlanHead } from "./plans";

export type DataKind =
  | "gates"
  | "crews"
  | "acceptance"
  | "reports"
  | "orders"
  | "rules"
  | "brought in"
  | "by hand"
  | "forecast";

export interface DataSince {
  kind: DataKind;
  count: number;
  lastAt: number;
  /** Who changed it last; of a forecast nobody. */
  by?: string;
}

/** By the log's words for what was done. What the plan takes no notice of stands not here. */
const KINDS: Readonly<Partial<Record<LogAction, DataKind>>> = {
  "add gate": "gates",
  "change gate": "gates",
  "add certificate": "crews",
  "change certificate": "crews",
  "remove certificate": "crews",
  "add leave": "crews",
  "change leave": "crews",
  "remove leave": "crews",
  "record readings": "acceptance",
  "withdraw revisit": "acceptance",
  "order changed": "orders",
  "count approved": "orders",
  "fault recorded": "orders",
  "spares decided": "orders",
  import: "brought in",
  "add site": "by hand",
  "change site": "by hand",
  "add hop": "by hand",
  "change hop": "by hand",
  "change takeoff policy": "rules",
  "change takeoff rules": "rules",
  "change hour norms": "rules",
  "change hour calibration": "rules",
  "change weather limits": "rules",
  "change plan weights": "rules",
  "change cutting": "rules",
  "change stock": "rules",
};

/** When the search read its data: a copy with moves by hand knows no more than the plan it was copied from. */
export function knownAt(db: Db, plan: PlanHead): number {
  const seen = new Set<number>();
  let head: PlanHead = plan;
  for (;;) {
    seen.add(head.id);
    const { copyOf } = head.basis;
    const from = typeof copyOf === "number" && !seen.has(copyOf) ? loadPlan(db, copyOf) : undefined;
    if (!from) return head.createdAt;
    head = from;
  }
}

/** Each kind of data with how often it changed, the latest first. */
export function loadDataSince(db: Db, plan: PlanHead): DataSince[] {
  const since = knownAt(db, plan);
  const found = new Map<DataKind, DataSince>();
  const add = (kind: DataKind, at: number, by?: string) => {
    const known = found.get(kind);
    if (!known) found.set(kind, { kind, count: 1, lastAt: at, by });
    else {
      known.count++;
      if (at > known.lastAt) Object.assign(known, { lastAt: at, by });
    }
  };
  const entries = db
    .select({ action: logEntry.action, at: logEntry.at, by: logEntry.userName })
    .from(logEntry)
    .where(and(gt(logEntry.at, since), inArray(logEntry.action, Object.keys(KINDS))))
    .all();
  for (const { action, at, by } of entries) add(KINDS[action as LogAction]!, at, by);
  // What was reported done stays where it was; a hold and work that is left want another place.
  const reports = db
    .select({ at: visitReport.reportedAt, by: visitReport.reportedBy })
    .from(visitReport)
    .where(and(gt(visitReport.reportedAt, since), ne(visitReport.outcome, "done")))
    .all();
  for (const { at, by } of reports) add("reports", at, by);
  const forecast = db
    .select({ at: weatherBlock.issuedAt })
    .from(weatherBlock)
    .where(and(gt(weatherBlock.issuedAt, since), inArray(weatherBlock.kind, ["forecast"])))
    .orderBy(desc(weatherBlock.issuedAt))
    .limit(1)
    .get();
  if (forecast) add("forecast", forecast.at);
  return [...found.values()].sort((a, b) => b.lastAt - a.lastAt || a.kind.localeCompare(b.kind));
}
