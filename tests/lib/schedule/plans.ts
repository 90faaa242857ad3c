/** Solving in tests: by iterations, never by the clock. */
import { type PlacedVisit, type Plan, type ScheduleProblem, schedule } from "@/lib/schedule";

export function solved(problem: ScheduleProblem, maxIterations = 50, seed = "test"): Plan {
  const result = schedule(problem, { seed, maxIterations });
  if (!result.ok) throw new Error(JSON.stringify(result.problems, null, 1));
  return result.value;
}

/** Where visit `v` stands; throws when it is unplaced. */
export function placeOf(plan: Plan, v: number): PlacedVisit {
  const found = plan.placed.find((x) => x.visit === v);
  if (!found) throw new Error(`visit ${v} is unplaced: ${JSON.stringify(plan.unplaced)}`);
  return found;
}

export const clock = (min: number) =>
  `${String(Math.floor(min / 60)).padStart(2, "0")}:${String(min % 60).padStart(2, "0")}`;

/** "0 08:30 - 0 10:30": days and times of a visit. */
export const when = (x: PlacedVisit) => `${x.startDay} ${clock(x.startMin)} - ${x.endDay} ${clock(x.endMin)}`;
