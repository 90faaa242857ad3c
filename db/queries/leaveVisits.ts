/** Visits of the plan in force that fall on leave of somebody of their crew. */
import { type LeaveVisit, visitsOnLeave } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { loadCrews } from "./crews";
import { loadVisitEstimate } from "./estimates";
import { loadPlanVisits, type PlannedVisit, planInForce } from "./plans";
import { doneVisits } from "./reports";

/** What is still to do, from `today` on. */
export function loadVisitsOnLeave(db: Db, today: CalendarDate): LeaveVisit<PlannedVisit>[] {
  const plan = planInForce(db);
  if (!plan) return [];
  const done = doneVisits(db);
  const toDo = loadPlanVisits(db, plan.id).filter((v) => !v.isWithdrawn && !done.has(v.visitId));
  return visitsOnLeave(toDo, loadCrews(db), today, (v) => loadVisitEstimate(db, v)?.needs);
}

/** How many of them miss one of these members on these days, and of how many the crew that is left cannot do the work. */
export function countOnLeave(
  db: Db,
  today: CalendarDate,
  l: { memberCodes: readonly string[]; fromOn: CalendarDate; toOn: CalendarDate },
): { visits: number; short: number } {
  const hit = loadVisitsOnLeave(db, today).filter(
    ({ visit, crew }) =>
      crew.members.some((m) => l.memberCodes.includes(m.code)) &&
      visit.startOn! <= l.toOn &&
      l.fromOn <= visit.endOn!,
  );
  return { visits: hit.length, short: hit.filter((v) => v.short !== "").length };
}
