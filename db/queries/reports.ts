/** Reports from the field and the log of who did what. */
import { eq, isNotNull, notInArray } from "drizzle-orm";
import type { WorkLeft } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { reportPart, reportUse, visitReport } from "../schema";
import type { Known } from "./dataSince";

export interface ReportUse {
  itemCode: string;
  runId?: string;
  drumSerial?: string;
  usedC: number;
  leftC: number;
}

export interface NewReport {
  key: string;
  visitId: string;
  hopCode: string;
  crewCode: string;
  workedOn: CalendarDate;
  outcome: "done" | "part done" | "hold";
  workedMin: number;
  /** Part done: what is left, minutes; undefined = nobody said. */
  leftMin?: number;
  holdReason?: string;
  note: string;
  reportedBy: string;
  reportedAt: number;
  uses: ReportUse[];
  /** The report of the same visit in whose place it stands. */
  correctsId?: number;
  /** Minutes that the crew timed, by part of the norms. */
  parts?: readonly { part: string; workedMin: number }[];
}

export type StoredReport = typeof visitReport.$inferSelect;

/** Adds a report; a key that is there already adds nothing and gives the report it made then. */
export function addReport(db: Db, r: NewReport): { id: number; isNew: boolean } {
  const known = db.select({ id: visitReport.id }).from(visitReport).where(eq(visitReport.key, r.key)).get();
  if (known) return { id: known.id, isNew: false };
  const { uses, parts = [], ...head } = r;
  const { id } = db.insert(visitReport).values(head).returning({ id: visitReport.id }).get();
  addUses(db, id, uses);
  for (const p of parts)
    db.insert(reportPart)
      .values({ reportId: id, ...p })
      .run();
  return { id, isNew: true };
}

/** What a report used, line by line; written once with it. */
export function addUses(db: Db, reportId: number, uses: readonly ReportUse[]): void {
  uses.forEach((u, i) => {
    db.insert(reportUse)
      .values({ reportId, lineNo: i + 1, ...u })
      .run();
  });
}

/** Of `visit_report v`: no other report stands in its place. Uses, hours and left overs of others count no more. */
export const STANDING = "NOT EXISTS (SELECT 1 FROM visit_report c WHERE c.corrects_id = v.id)";

/** All reports that count, oldest first. */
export function loadReports(db: Db): StoredReport[] {
  const corrected = db
    .select({ id: visitReport.correctsId })
    .from(visitReport)
    .where(isNotNull(visitReport.correctsId));
  return db
    .select()
    .from(visitReport)
    .where(notInArray(visitReport.id, corrected))
    .orderBy(visitReport.id)
    .all();
}

/** As `loadReports`, without holds that were lifted: what the visits stand at. */
export const tellingReports = (db: Db): StoredReport[] => loadReports(db).filter((r) => r.liftedAt === null);

/** Of a visit's reports, oldest first, the one that says how it stands. */
export const latestOf = (reports: readonly StoredReport[]): StoredReport | undefined =>
  reports.findLast((r) => r.liftedAt === null);

/** A line of what was used, as it is kept. */
export type StoredUse = typeof reportUse.$inferSelect;

/** What the reports of a visit that count say of material. */
export function usesOfVisit(db: Db, visitId: string): StoredUse[] {
  return db.$client
    .prepare(
      `SELECT u.report_id AS reportId, u.line_no AS lineNo, u.item_code AS itemCode, u.run_id AS runId, u.drum_serial AS drumSerial,
              u.used_c AS usedC, u.left_c AS leftC
       FROM report_use u JOIN visit_report v ON v.id = u.report_id
       WHERE v.visit_id = ? AND ${STANDING} ORDER BY u.report_id, u.line_no`,
    )
    .all(visitId) as StoredUse[];
}

/** All reports of a visit, corrected ones too, oldest first. */
export function reportsOfVisit(db: Db, visitId: string): StoredReport[] {
  return db.select().from(visitReport).where(eq(visitReport.visitId, visitId)).orderBy(visitReport.id).all();
}

/** Does a visit's latest report say done? */
export const isVisitDone = (db: Db, visitId: string): boolean =>
  latestOf(reportsOfVisit(db, visitId))?.outcome === "done";

/** Visits whose latest report says done, with the day. */
export function doneVisits(db: Db): Map<string, CalendarDate> {
  const done = new Map<string, CalendarDate>();
  for (const r of tellingReports(db)) {
    if (r.outcome === "done") done.set(r.visitId, r.workedOn);
    else done.delete(r.visitId);
  }
  return done;
}

/** What a crew said of a visit last. */
export interface LastReport {
  outcome: StoredReport["outcome"];
  crewCode: string;
  reportedAt: number;
  reportedBy: string;
  holdReason?: string;
}

/**
 * The latest report of each visit, as far as it still tells something of a plan that knew what `known` says: done stays, what went on hold or was
 * done in part before the plan was made has its place in it already.
 */
export function reportsSince(db: Db, known: Known): Map<string, LastReport> {
  return lastReports(db, (r) => r.outcome === "done" || isNewer(r, known));
}

/** The same for whoever looks at a plan: that a visit is part done stays true, also where the plan has only what is left. */
export function reportsOn(db: Db, known: Known): Map<string, LastReport> {
  return lastReports(db, (r) => r.outcome !== "hold" || isNewer(r, known));
}

const isNewer = ({ id, reportedAt: at }: StoredReport, known: Known): boolean =>
  at > known.at || (at === known.at && known.rows !== undefined && id > known.rows.reportId);

function lastReports(db: Db, tells: (report: StoredReport) => boolean): Map<string, LastReport> {
  const last = new Map<string, LastReport>();
  for (const r of tellingReports(db)) {
    const { visitId, outcome, crewCode, reportedAt, reportedBy, holdReason } = r;
    if (!tells(r)) last.delete(visitId);
    else
      last.set(visitId, { outcome, crewCode, reportedAt, reportedBy, holdReason: holdReason ?? undefined });
  }
  return last;
}

/** Minutes left of the visits whose latest report says part done and how much is left, by visit id. */
export function workLeft(db: Db): Map<string, WorkLeft> {
  const left = new Map<string, WorkLeft>();
  for (const r of loadReports(db)) {
    if (r.leftMin !== null) left.set(r.visitId, { leftMin: r.leftMin, on: r.workedOn });
    // A lifted hold without work leaves as much to do as before.
    else if (r.liftedAt === null || r.workedMin > 0) left.delete(r.visitId);
  }
  return left;
}
