/** To which crews a visit was given by the plans that were in force: who worked by an earlier one may still say so. */
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { loadPlanVisits, type PlannedVisit, planInForce } from "./plans";

/** A visit as a plan gave it to a crew. */
export interface GivenVisit {
  visit: PlannedVisit;
  crewCode: string;
  /** The plan that gave it. */
  givenBy: number;
  /** Where its kit and its neighbours stand: the plan in force while that has the visit, else the one that gave it. */
  planId: number;
}

interface Gift {
  planId: number;
  crewCode: string;
  /** When the plan after it came in force; null = it still is. */
  untilAt: number | null;
}

/** Who had the visit by the plans in force, one after another, the latest first. */
function giftsOf(db: Db, visitId: string): Gift[] {
  return db.$client
    .prepare(
      `WITH was AS (
         SELECT id, LEAD(COALESCE(published_at, created_at)) 
           OVER (ORDER BY state = 'in force', COALESCE(published_at, created_at), id) AS until_at
         FROM plan WHERE state <> 'draft')
       SELECT v.plan_id AS planId, v.crew_code AS crewCode, was.until_at AS untilAt
       FROM was JOIN plan_visit v ON v.plan_id = was.id AND v.visit_id = ?
       WHERE v.crew_code IS NOT NULL ORDER BY was.until_at IS NOT NULL, was.until_at DESC`,
    )
    .all(visitId) as Gift[];
}

/** Crews that have the visit by the plan in force or had it by an earlier one. */
export const crewsGiven = (db: Db, visitId: string): string[] => [
  ...new Set(giftsOf(db, visitId).map((g) => g.crewCode)),
];

/**
 * The visit by the latest plan that gave it to this crew and was in force at `sinceAt` or after.
 * @param sinceAt 0 = however long ago
 */
export function givenTo(db: Db, visitId: string, crewCode: string, sinceAt = 0): GivenVisit | undefined {
  const gift = giftsOf(db, visitId).find(
    (g) => g.crewCode === crewCode && (g.untilAt === null || g.untilAt > sinceAt),
  );
  const visit = gift && loadPlanVisits(db, gift.planId).find((v) => v.visitId === visitId);
  if (!visit) return undefined;
  const inForce = planInForce(db);
  const isThere = inForce && loadPlanVisits(db, inForce.id).some((v) => v.visitId === visitId);
  return { visit, crewCode, givenBy: gift.planId, planId: isThere ? inForce.id : gift.planId };
}

/** Whose the visit is by the plan in force, and from when; undefined when that has no place for it. */
export function holderOf(db: Db, visitId: string): { crewCode: string; startOn: CalendarDate } | undefined {
  const plan = planInForce(db);
  const visit = plan && loadPlanVisits(db, plan.id).find((v) => v.visitId === visitId);
  return visit?.crewCode && visit.startOn && !visit.isWithdrawn
    ? { crewCode: visit.crewCode, startOn: visit.startOn }
    : undefined;
}
