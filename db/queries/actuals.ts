/** Finished visits beside their estimates, and what people decided about the factors that follow from them. */
import { desc } from "drizzle-orm";
import { type Actuals, crewFactor, type HourCalibration } from "@/lib/calibration";
import { type HourNorms, practiceFactor } from "@/lib/hours";
import { actualsOf, crewPaces, parseVisitId, referenceCrew, type WorkedVisit } from "@/lib/programme";
import type { Scheme } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { calibrationRejection } from "../schema";
import { loadCrews } from "./crews";
import { loadKeptHops } from "./estimates";
import { keptPaces } from "./keptPaces";
import { rulesInForce } from "./programme";
import { completedEnds, schemesOfHops, workedVisits } from "./workedVisits";

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
      schemes: schemesOfHops(db),
    };
  });
}

/** Factor of a crew on the work of a hop's visit, as a plan of today takes it: people, pace, practice, accepted factors. */
export function loadVisitPaces(db: Db, today: CalendarDate): (crewCode: string, hopCode: string) => number {
  const { paces, schemes } = crewFactors(db, today);
  const { norms, calibration } = rulesInForce(db);
  const ends = completedEnds(db);
  return (crewCode, hopCode) => {
    const scheme = schemes.get(hopCode);
    const own = paces.get(crewCode) ?? 1;
    if (!scheme) return own;
    const practice = practiceFactor(ends[crewCode]?.[scheme] ?? 0, norms.learning);
    return own * practice * crewFactor({ crewCode, scheme }, calibration);
  };
}

/** Factor of each crew's people on the reference crew's hours, on the same yardstick as a plan's. */
function loadPaces(db: Db, today: CalendarDate): Map<string, number> {
  const rules = rulesInForce(db);
  const crews = loadCrews(db);
  const { norms, calibration } = rules;
  return crewPaces(crews, today, norms, referenceCrew(crews, today), calibration, keptPaces(db, rules));
}

export type StoredRejection = typeof calibrationRejection.$inferSelect;

/** Begins the id of a proposal about material; all others are about hours. */
const OF_USE = "use: ";

/** Of hours or of material, newest first. */
export function loadRejections(db: Db, about: "hours" | "material" = "hours"): StoredRejection[] {
  return db
    .select()
    .from(calibrationRejection)
    .orderBy(desc(calibrationRejection.id))
    .all()
    .filter((r) => r.proposalId.startsWith(OF_USE) === (about === "material"));
}

export function addRejection(db: Db, r: Omit<StoredRejection, "id">): void {
  db.insert(calibrationRejection).values(r).run();
}
