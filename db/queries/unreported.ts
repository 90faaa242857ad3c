/** Visits whose days are over and that nobody reported on: a new plan would count them as still to do. */
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { loadPlanVisits, type PlanHead, type PlannedVisit } from "./plans";
import { doneVisits, tellingReports } from "./reports";

/** Of a plan, those that should have ended before `today`, first ended first. What was reported part done or on hold since it began is told. */
export function unreportedVisits(db: Db, plan: PlanHead, today: CalendarDate): PlannedVisit[] {
  const done = doneVisits(db);
  const workedOn = new Map(tellingReports(db).map((r) => [r.visitId, r.workedOn]));
  return loadPlanVisits(db, plan.id)
    .filter(
      (v) =>
        v.crewCode !== null &&
        !v.isWithdrawn &&
        v.endOn! < today &&
        !done.has(v.visitId) &&
        (workedOn.get(v.visitId) ?? "") < v.startOn!,
    )
    .sort((a, b) => (a.endOn! < b.endOn! ? -1 : a.endOn! > b.endOn! ? 1 : a.endMin! - b.endMin!));
}
