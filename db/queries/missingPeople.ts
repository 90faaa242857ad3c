/** Visits of a plan that miss people of their crew. */
import { type VisitMissingPeople, visitsMissingPeople } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { loadCrews } from "./crews";
import { loadPlanNeeds } from "./estimates";
import { loadPlanVisits, type PlanHead, type PlannedVisit, planInForce } from "./plans";
import { doneVisits } from "./reports";

/** What is still to do, from `today` on; of the plan in force unless another is given. */
export function loadVisitsMissingPeople(
  db: Db,
  today: CalendarDate,
  plan: Pick<PlanHead, "id"> | undefined = planInForce(db),
): readonly VisitMissingPeople<PlannedVisit>[] {
  if (!plan) return [];
  return remembered(db, `missing people ${plan.id} ${today}`, ["design", "plan", "crews", "reports"], () => {
    const done = doneVisits(db);
    const toDo = loadPlanVisits(db, plan.id).filter((v) => !v.isWithdrawn && !done.has(v.visitId));
    const needs = loadPlanNeeds(db, plan.id, today);
    return visitsMissingPeople(toDo, loadCrews(db), today, (v) => needs.get(v.visitId));
  });
}

/** How many of them miss one of these members on these days, and of how many the crew that is left cannot do the work. */
export function countOnLeave(
  db: Db,
  today: CalendarDate,
  l: { memberCodes: readonly string[]; fromOn: CalendarDate; toOn: CalendarDate },
): { visits: number; short: number } {
  const hit = loadVisitsMissingPeople(db, today).filter(
    ({ visit, crew }) =>
      crew.members.some((m) => l.memberCodes.includes(m.code)) &&
      visit.startOn! <= l.toOn &&
      l.fromOn <= visit.endOn!,
  );
  return { visits: hit.length, short: hit.filter((v) => v.short !== "").length };
}

/** Visits that their crew, as it is, cannot do. */
export const shortVisits = (db: Db, today: CalendarDate): ReadonlySet<string> =>
  new Set(
    loadVisitsMissingPeople(db, today)
      .filter((v) => v.short !== "")
      .map((v) => v.visit.visitId),
  );
