/** Visits that began before a plan's first day and go on: their crews stay with them, and go on on the first day. */
import { type Begun, goOn, type ScheduleProblem } from "@/lib/schedule";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import type { NamedVisit, WorkLeft } from "./types";

export interface KnownOfWork {
  workLeft: ReadonlyMap<string, WorkLeft>;
  /** Nights that the crews of that plan spend away; absent = none. */
  nightsAway?: readonly { crewCode: string; on: CalendarDate }[];
  /** Visits that were reported on hold since: nobody goes on with them. */
  onHold?: ReadonlySet<string>;
}

/** The rows of work under way on `today`; what should have ended before is overdue, and what is on hold waits. */
export const underWay = <R extends NamedVisit>(
  rows: readonly R[],
  today: CalendarDate,
  onHold: ReadonlySet<string> = new Set(),
): R[] => rows.filter((r) => r.startOn < today && r.endOn >= today && !onHold.has(r.visitId));

/**
 * The problem with the work under way by the rows of a plan: kept on its crew from the first day on. What is left of it is
 * what the crew said since it began, else what reaches until its planned end.
 */
export function withUnderWay(
  problem: ScheduleProblem,
  rows: readonly NamedVisit[],
  { workLeft, nightsAway = [], onHold }: KnownOfWork,
): ScheduleProblem {
  const { firstDay } = problem;
  const visitIndex = new Map(problem.visits.map((v, i) => [v.id, i]));
  const crewIndex = new Map(problem.crews.map((c, i) => [c.code, i]));
  const slept = new Set(nightsAway.filter((n) => n.on === addDays(firstDay, -1)).map((n) => n.crewCode));
  const begun = underWay(rows, firstDay, onHold).flatMap((r): Begun[] => {
    const visit = visitIndex.get(r.visitId);
    const crew = crewIndex.get(r.crewCode);
    const endDay = daysBetween(firstDay, r.endOn);
    if (visit === undefined || crew === undefined || endDay >= problem.dayCount) return [];
    const left = workLeft.get(r.visitId);
    const isRest = left !== undefined && left.on >= r.startOn;
    return [{ visit, crew, endDay, endMin: r.endMin, sleptThere: slept.has(r.crewCode), isRest }];
  });
  const found = goOn(problem, begun).filter((x) => x !== undefined);
  if (found.length === 0) return problem;
  const segmentsOf = new Map(found.map((x) => [x.placed.visit, x.segments]));
  const placed = found.map((x) => x.placed);
  return {
    ...problem,
    visits: problem.visits.map((v, i) => {
      const segments = segmentsOf.get(i);
      return segments ? { ...v, segments } : v;
    }),
    inForce: [...(problem.inForce ?? []).filter((x) => !segmentsOf.has(x.visit)), ...placed],
    underWay: placed,
  };
}
