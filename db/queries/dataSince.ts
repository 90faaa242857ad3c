/** What came in since a plan was made that the plan does not know of. */
import { and, desc, eq, gt, inArray, max, or } from "drizzle-orm";
import type { SQLiteColumn } from "drizzle-orm/sqlite-core";
import type { Db } from "../open";
import { logEntry, visitReport, weatherBlock } from "../schema";
import type { LogAction } from "./log";
import { loadPlan, type PlanHead } from "./plans";
import { reportsSince } from "./reports";

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

/**
 * What changes the shelves or what is on the way to them, taking back included. Not here: what the plan's own kits take,
 * and orders that nobody has sent yet, which bring nothing.
 */
const SUPPLY: readonly LogAction[] = [
  "order sent",
  "order received",
  "order closed",
  "order changed",
  "order brought in by a file",
  "delivery day changed",
  "wrong item received",
  "receipt taken back",
  "return to the supplier taken back",
  "receipt recorded",
  "return recorded",
  "transfer recorded",
  "scrap recorded",
  "count adjustment recorded",
  "ledger row taken back",
  "coil came over",
  "coil not there after all",
  "run lost",
  "run found again",
  "kit returned",
  "count approved",
  "transfer planned",
  "transfer moved",
  "transfer cancelled",
  "fault recorded",
  "fault: to repair",
  "fault: from repair",
  "fault: exchange",
  "fault: release",
  "fault: return",
  "fault: scrap",
  "fault: promised back",
  "spares decided",
];

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
  "open revisit": "acceptance",
  "withdraw revisit": "acceptance",
  ...Object.fromEntries(SUPPLY.map((action) => [action, "orders" as const])),
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

/** The last rows that were there when a search read its data: of what has the same time, the rows after them are newer. */
export interface SeenRows {
  logId: number;
  reportId: number;
}

/** Asked before the data are read: what comes in between is rather told twice than not at all. */
export function seenRows(db: Db): SeenRows {
  const last = (table: typeof logEntry | typeof visitReport): number =>
    db
      .select({ id: max(table.id) })
      .from(table)
      .get()?.id ?? 0;
  return { logId: last(logEntry), reportId: last(visitReport) };
}

/** What a plan's search knew. */
export interface Known {
  at: number;
  /** Left out by plans made before it was kept: then the time alone tells. */
  rows?: SeenRows;
}

/** When the search read its data: a copy with moves by hand knows no more than the plan it was copied from. */
export function knownAt(db: Db, plan: PlanHead): Known {
  const seen = new Set<number>();
  let head: PlanHead = plan;
  for (;;) {
    seen.add(head.id);
    const { copyOf } = head.basis;
    const from = typeof copyOf === "number" && !seen.has(copyOf) ? loadPlan(db, copyOf) : undefined;
    if (!from) return { at: head.createdAt, rows: head.basis.seen as SeenRows | undefined };
    head = from;
  }
}

/** Rows of a later time, and of the same time those that were written later: a clock that stands tells no order. */
const isNewer = (at: SQLiteColumn, id: SQLiteColumn, known: Known, seenId: number | undefined) =>
  seenId === undefined ? gt(at, known.at) : or(gt(at, known.at), and(eq(at, known.at), gt(id, seenId)));

/** Each kind of data with how often it changed, the latest first. */
export function loadDataSince(db: Db, plan: PlanHead): DataSince[] {
  const known = knownAt(db, plan);
  // What was reported done stays where it was; a hold and work that is left want another place.
  const wanting = [...reportsSince(db, known).values()].filter((r) => r.outcome !== "done");
  return dataSince(
    db,
    known,
    wanting.map((r) => ({ at: r.reportedAt, by: r.reportedBy })),
  );
}

/** Of each visit that was reported since, whatever was said of it, the last report. */
export function reportedSince(db: Db, known: Known): { at: number; by: string }[] {
  const rows = db
    .select({ visitId: visitReport.visitId, at: visitReport.reportedAt, by: visitReport.reportedBy })
    .from(visitReport)
    .where(isNewer(visitReport.reportedAt, visitReport.id, known, known.rows?.reportId))
    .orderBy(visitReport.id)
    .all();
  return [...new Map(rows.map((r) => [r.visitId, { at: r.at, by: r.by }])).values()];
}

/** The same of whatever was worked out from data that were read at `known`. */
export function dataSince(db: Db, known: Known, reports: readonly { at: number; by: string }[]): DataSince[] {
  const found = new Map<DataKind, DataSince>();
  const add = (kind: DataKind, at: number, by?: string) => {
    const one = found.get(kind);
    if (!one) found.set(kind, { kind, count: 1, lastAt: at, by });
    else {
      one.count++;
      if (at > one.lastAt) Object.assign(one, { lastAt: at, by });
    }
  };
  const entries = db
    .select({ action: logEntry.action, at: logEntry.at, by: logEntry.userName })
    .from(logEntry)
    .where(
      and(
        isNewer(logEntry.at, logEntry.id, known, known.rows?.logId),
        inArray(logEntry.action, Object.keys(KINDS)),
      ),
    )
    .all();
  for (const { action, at, by } of entries) add(KINDS[action as LogAction]!, at, by);
  for (const { at, by } of reports) add("reports", at, by);
  const forecast = db
    .select({ at: weatherBlock.issuedAt })
    .from(weatherBlock)
    .where(and(gt(weatherBlock.issuedAt, known.at), inArray(weatherBlock.kind, ["forecast"])))
    .orderBy(desc(weatherBlock.issuedAt))
    .limit(1)
    .get();
  if (forecast) add("forecast", forecast.at);
  return [...found.values()].sort((a, b) => b.lastAt - a.lastAt || a.kind.localeCompare(b.kind));
}
