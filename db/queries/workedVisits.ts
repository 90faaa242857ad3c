/** Finished visits out of the crews' reports, and how many ends each crew has done of each scheme. */
import { type CompletedEnds, completedEndsOf, type WorkedVisit } from "@/lib/programme";
import type { Scheme } from "@/lib/site";
import type { Db } from "../open";
import { reportPart } from "../schema";
import { groupBy } from "./design";
import { loadReports } from "./reports";

/** Finished visits, each with all of its reports together. */
export function workedVisits(db: Db): WorkedVisit[] {
  const parts = groupBy(db.select().from(reportPart).all(), (p) => String(p.reportId));
  const byVisit = groupBy(loadReports(db), (r) => r.visitId);
  return [...byVisit].flatMap(([visitId, reports]): WorkedVisit[] => {
    if (reports.at(-1)!.outcome !== "done") return [];
    const ofCrews = new Map<string, number>();
    const minutes = new Map<string, number>();
    for (const r of reports) {
      ofCrews.set(r.crewCode, (ofCrews.get(r.crewCode) ?? 0) + r.workedMin);
      for (const p of parts.get(String(r.id)) ?? [])
        minutes.set(p.part, (minutes.get(p.part) ?? 0) + p.workedMin);
    }
    const [crewCode] = [...ofCrews].sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1))[0]!;
    const workedMin = reports.reduce((sum, r) => sum + r.workedMin, 0);
    const workedOn = reports.reduce(
      (last, r) => (r.workedOn > last ? r.workedOn : last),
      reports[0]!.workedOn,
    );
    return workedMin > 0 ? [{ visitId, crewCode, workedOn, workedMin, parts: minutes }] : [];
  });
}

/** By hop code. */
export const schemesOfHops = (db: Db): Map<string, Scheme> =>
  new Map(db.$client.prepare("SELECT code, scheme FROM hop").raw().all() as [string, Scheme][]);

export const completedEnds = (db: Db): CompletedEnds => completedEndsOf(workedVisits(db), schemesOfHops(db));
