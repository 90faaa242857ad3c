/** Actual hours as rows of files: out of the crews' reports, and back into them. */
import { and, eq, inArray } from "drizzle-orm";
import { partKeys, WORK_KINDS, type WorkKind } from "@/lib/calibration";
import type { ActualHoursRow } from "@/lib/exchange";
import { DEFAULT_NORMS } from "@/lib/hours";
import { parseVisitId, visitIdOf } from "@/lib/programme";
import type { Problem } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { reportPart, visitReport } from "../schema";
import { groupBy } from "./design";
import { addReport, loadReports } from "./reports";

const PARTS = partKeys(DEFAULT_NORMS);

/** Hours of installs and alignments, all reports of a visit on a day together. */
export function actualHoursRows(db: Db): ActualHoursRow[] {
  const parts = groupBy(db.select().from(reportPart).all(), (p) => String(p.reportId));
  const byDay = groupBy(loadReports(db), (r) => `${r.visitId} ${r.workedOn}`);
  return [...byDay.values()].flatMap((reports): ActualHoursRow[] => {
    const { visitId, workedOn, crewCode } = reports[0]!;
    const named = parseVisitId(visitId);
    const workedMin = Math.round(reports.reduce((sum, r) => sum + r.workedMin, 0));
    if (!named || !isWorkKind(named.kind) || workedMin <= 0) return [];
    const minutes = new Map<string, number>();
    for (const p of reports.flatMap((r) => parts.get(String(r.id)) ?? []))
      minutes.set(p.part, (minutes.get(p.part) ?? 0) + p.workedMin);
    const { hopCode, side, kind, part } = named;
    return [
      {
        hopCode,
        side,
        work: kind,
        visitNo: part,
        workedOn,
        crewCode,
        workedMin,
        isFinished: reports.at(-1)!.outcome === "done",
        tasks: PARTS.flatMap((name) => {
          const min = minutes.get(name);
          return min === undefined ? [] : [{ part: name, workedMin: min }];
        }),
      },
    ];
  });
}

const isWorkKind = (kind: string): kind is WorkKind => (WORK_KINDS as readonly string[]).includes(kind);

/**
 * Stores rows of a file as reports; a day that crews reported already takes the file's figures.
 * @returns what cannot be stored; then nothing of it counts and the caller takes the rest back
 */
export function storeActualHours(
  db: Db,
  rows: readonly ActualHoursRow[],
  { by, now, today }: { by: string; now: number; today: CalendarDate },
): Problem[] {
  const problems: Problem[] = [];
  for (const row of rows) {
    if (row.workedOn > today) {
      problems.push({
        path: "Actual hours, Worked on",
        rule: "future-report",
        value: row.workedOn,
        message: `${row.hopCode} ${row.side} ${row.work}: the day worked lies in the future.`,
        remedy: `Give a day up to ${today}, or leave the row out.`,
      });
      continue;
    }
    const visitId = visitIdOf(row.hopCode, row.side, row.work, row.visitNo);
    const onDay = and(eq(visitReport.visitId, visitId), eq(visitReport.workedOn, row.workedOn));
    const known = db.select().from(visitReport).where(onDay).orderBy(visitReport.id).all();
    if (known.length === 0) addRow(db, visitId, row, by, now);
    else changeReports(db, known, row);
  }
  return problems;
}

function addRow(db: Db, visitId: string, row: ActualHoursRow, by: string, now: number): void {
  addReport(db, {
    key: `file ${visitId} ${row.workedOn}`,
    visitId,
    hopCode: row.hopCode,
    crewCode: row.crewCode,
    workedOn: row.workedOn,
    outcome: row.isFinished ? "done" : "part done",
    workedMin: row.workedMin,
    note: "Brought in from a file",
    reportedBy: by,
    reportedAt: now,
    uses: [],
    parts: row.tasks,
  });
}

/** The day's last report carries what the file says, the earlier ones of the day nothing any more. */
function changeReports(
  db: Db,
  reports: readonly (typeof visitReport.$inferSelect)[],
  row: ActualHoursRow,
): void {
  const last = reports.at(-1)!;
  const ids = reports.map((r) => r.id);
  const was = last.outcome === "done";
  db.update(visitReport)
    .set({ workedMin: 0, crewCode: row.crewCode })
    .where(inArray(visitReport.id, ids))
    .run();
  db.update(visitReport)
    .set({
      workedMin: row.workedMin,
      // A hold stays one until the file says that the visit was finished.
      ...(row.isFinished === was ? {} : { outcome: row.isFinished ? "done" : "part done" }),
    })
    .where(eq(visitReport.id, last.id))
    .run();
  db.delete(reportPart).where(inArray(reportPart.reportId, ids)).run();
  for (const t of row.tasks)
    db.insert(reportPart)
      .values({ reportId: last.id, ...t })
      .run();
}
