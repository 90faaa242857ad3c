/** Finished visits beside their estimates, and what people decided about the factors that follow from them. */
import { desc } from "drizzle-orm";
import type { Actuals, HourCalibration } from "@/lib/calibration";
import type { HourNorms } from "@/lib/hours";
import {
  actualsOf,
  crewPaces,
  paceSample,
  parseVisitId,
  referenceCrew,
  type WorkedVisit,
} from "@/lib/programme";
import type { Scheme } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { calibrationRejection, reportPart } from "../schema";
import { loadCrews } from "./crews";
import { groupBy, loadHops } from "./design";
import { loadKeptHops } from "./estimates";
import { loadTakeoffContext, rulesInForce } from "./programme";
import { loadReports } from "./reports";

export interface LoadedActuals extends Actuals {
  /** Finished visits whose estimate is not yet made under the rules in force. */
  waiting: readonly WorkedVisit[];
  norms: HourNorms;
  calibration: HourCalibration;
}

/** @param today certificates of a crew's people count as of this day */
export function loadActuals(db: Db, today: CalendarDate): LoadedActuals {
  return remembered(db, `actuals ${today}`, ["design", "crews", "reports", "rules"], () =>
    readActuals(db, today),
  );
}

function readActuals(db: Db, today: CalendarDate): LoadedActuals {
  const { norms, calibration } = rulesInForce(db);
  const worked = workedVisits(db);
  const finished = [...new Set(worked.flatMap((w) => parseVisitId(w.visitId)?.hopCode ?? []))];
  const kept = loadKeptHops(db, finished);
  const { paces, schemes } = crewFactors(db, today);
  const actuals = actualsOf({
    worked,
    schemes,
    estimates: new Map([...kept].map(([code, w]) => [code, w.estimates])),
    paceOf: (crewCode) => paces.get(crewCode) ?? 1,
    norms,
    calibration,
  });
  return { ...actuals, norms, calibration };
}

/** Finished visits, each with all of its reports together. */
function workedVisits(db: Db): WorkedVisit[] {
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

export interface CrewFactors {
  /** Factor of each crew's people and pace on the reference crew's work, by crew code. */
  paces: ReadonlyMap<string, number>;
  /** By hop code. */
  schemes: ReadonlyMap<string, Scheme>;
}

/** What a crew's hours differ by before any actual hours speak. */
export function crewFactors(db: Db, today: CalendarDate): CrewFactors {
  return remembered(db, `crew factors ${today}`, ["design", "crews", "rules"], () => {
    const paces = loadPaces(db, today);
    return {
      paces: new Map(loadCrews(db).map((c) => [c.code, c.pace * (paces.get(c.code) ?? 1)])),
      schemes: new Map(db.$client.prepare("SELECT code, scheme FROM hop").raw().all() as [string, Scheme][]),
    };
  });
}

/** Factor of each crew's people on the reference crew's hours, from the same sample of hops as a plan takes. */
function loadPaces(db: Db, today: CalendarDate): Map<string, number> {
  const rules = rulesInForce(db);
  const codes = db.$client.prepare("SELECT code FROM hop ORDER BY code").pluck().all() as string[];
  const sample = paceSample(codes);
  const crews = loadCrews(db);
  return crewPaces(
    crews,
    today,
    loadHops(db, sample),
    loadKeptHops(db, sample),
    loadTakeoffContext(db, rules),
    rules.norms,
    referenceCrew(crews, today),
    rules.calibration,
  );
}

export type StoredRejection = typeof calibrationRejection.$inferSelect;

/** Newest first. */
export function loadRejections(db: Db): StoredRejection[] {
  return db.select().from(calibrationRejection).orderBy(desc(calibrationRejection.id)).all();
}

export function addRejection(db: Db, r: Omit<StoredRejection, "id">): void {
  db.insert(calibrationRejection).values(r).run();
}
