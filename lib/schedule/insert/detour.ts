/** What it costs to pass by one more place: known before any time is. */
import type { Model } from "../model";
import type { PlanState } from "../plan";

/**
 * Travel cost that visit `v` adds behind `after` (-1 = first) on a crew's day. Where it would be the first or last of
 * a day and the crew may sleep out, a night near it can be cheaper than the way home: the lower of both counts.
 */
export function detourCost(
  m: Model,
  s: PlanState,
  v: number,
  c: number,
  crewDay: number,
  after: number,
): number {
  const n = m.placeCount;
  const w = m.problem.weights;
  const home = m.depot[c]!;
  const p = m.place[v]!;
  const carried = s.inCarry[crewDay]!;
  const follower = after < 0 ? s.head[crewDay]! : s.next[after]!;
  const a = after >= 0 ? m.place[after]! : carried >= 0 ? m.place[carried]! : s.inPlace[crewDay]!;
  const b = follower >= 0 ? m.place[follower]! : home;
  const way =
    w.travelKm * (m.travelKm[a * n + p]! + m.travelKm[p * n + b]! - m.travelKm[a * n + b]!) +
    w.travelMin * (m.travelMin[a * n + p]! + m.travelMin[p * n + b]! - m.travelMin[a * n + b]!);
  if (m.nightsMax[c] === 0 || (follower >= 0 && after >= 0)) return way;
  const oneWay = w.travelKm * m.travelKm[p * n + home]! + w.travelMin * m.travelMin[p * n + home]!;
  return Math.min(way, Math.max(0, w.nightAway + way - 2 * oneWay));
}
