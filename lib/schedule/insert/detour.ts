/** What one more visit does to a crew's day as far as it is known before any time is. */
import type { Model } from "../model";
import type { PlanState } from "../plan";

/** Result of `detour`; one object is reused. */
export const passing = { cost: 0, busyMin: 0 };

/**
 * Travel cost, and minutes of travel and set-up, that visit `v` adds behind `after` (-1 = first) on a crew's day.
 * Where it would be the first or last of a day and the crew may sleep out, a night near it can be cheaper and
 * shorter than the way home: then the lower figures count.
 */
export function detour(m: Model, s: PlanState, v: number, c: number, crewDay: number, after: number): void {
  const n = m.placeCount;
  const w = m.problem.weights;
  const home = m.depot[c]!;
  const p = m.place[v]!;
  const carried = s.inCarry[crewDay]!;
  const follower = after < 0 ? s.head[crewDay]! : s.next[after]!;
  const a = after >= 0 ? m.place[after]! : carried >= 0 ? m.place[carried]! : s.inPlace[crewDay]!;
  const b = follower >= 0 ? m.place[follower]! : home;
  const km = m.travelKm[a * n + p]! + m.travelKm[p * n + b]! - m.travelKm[a * n + b]!;
  const min = m.travelMin[a * n + p]! + m.travelMin[p * n + b]! - m.travelMin[a * n + b]!;
  passing.cost = w.travelKm * km + w.travelMin * min;
  passing.busyMin = min + (a === p || b === p ? 0 : m.setupMin[v]!);
  if (m.nightsMax[c] === 0 || (follower >= 0 && after >= 0)) return;
  const oneWayMin = m.travelMin[p * n + home]!;
  const oneWay = w.travelKm * m.travelKm[p * n + home]! + w.travelMin * oneWayMin;
  passing.cost = Math.min(passing.cost, Math.max(0, w.nightAway + passing.cost - 2 * oneWay));
  passing.busyMin = Math.max(0, passing.busyMin - 2 * oneWayMin);
}

/** Minutes of the day that are surely taken by nothing: shift, overtime and waiting. */
export function freeMin(m: Model, s: PlanState, crewDay: number): number {
  return m.homeByMin[crewDay]! - m.fromMin[crewDay]! - s.busy[crewDay]!;
}

/** What the minutes `added` to a crew-day cost in overtime at least, when nothing of it is left for another day. */
export function leastOvertime(m: Model, s: PlanState, crewDay: number, added: number): number {
  const over = s.busy[crewDay]! + added - (m.toMin[crewDay]! - m.fromMin[crewDay]!) - s.overtime[crewDay]!;
  return over > 0 ? m.problem.weights.overtimeMin * over : 0;
}

/**
 * Could `workMin` of `v`, begun as the last of the day, be ended on the crew's next working day? Only a bound: it
 * keeps hopeless places from being walked.
 */
export function couldGoOn(
  m: Model,
  s: PlanState,
  v: number,
  c: number,
  day: number,
  workMin: number,
): boolean {
  const at = day * m.crewCount + c;
  const next = m.nextWork[at]!;
  if (next < 0) return false;
  const nextAt = next * m.crewCount + c;
  if (s.inCarry[nextAt]! >= 0) return false; // the day's last visit already goes on
  const tail = s.tail[at]!;
  const n = m.placeCount;
  const p = m.place[v]!;
  const from = tail >= 0 ? m.place[tail]! : s.inPlace[at]!;
  const sleepsOut = m.nightsMax[c]! > 0;
  const begins =
    (tail >= 0 ? s.endMin[tail]! : m.fromMin[at]!) +
    m.travelMin[from * n + p]! +
    (from === p ? 0 : m.setupMin[v]!);
  const today = m.toMin[at]! - begins - (sleepsOut ? 0 : m.travelMin[p * n + m.depot[c]!]!);
  if (today <= 0) return false;
  if (s.used[nextAt] === 0) return true;
  let tomorrow = workMin - today + m.setupMin[v]!;
  const head = s.head[nextAt]!;
  if (!sleepsOut && head >= 0) {
    const home = m.depot[c]! * n;
    const q = m.place[head]!;
    tomorrow += m.travelMin[home + p]! + m.travelMin[p * n + q]! - m.travelMin[home + q]!;
  }
  return tomorrow <= freeMin(m, s, nextAt);
}

/** First minute at which a crew could start `v` behind `after` (-1 = first), set up. */
export function setUpBy(m: Model, s: PlanState, v: number, crewDay: number, after: number): number {
  const previous = after >= 0 ? after : s.inCarry[crewDay]!;
  const p = m.place[v]!;
  const from = previous >= 0 ? m.place[previous]! : s.inPlace[crewDay]!;
  const leaves = previous >= 0 ? s.endMin[previous]! : m.fromMin[crewDay]!;
  const arrives = leaves + m.travelMin[from * m.placeCount + p]!;
  const paid = previous >= 0 && from === p ? m.setupMin[previous]! : 0;
  const opens = m.accessFrom[v * 7 + m.weekday[(crewDay / m.crewCount) | 0]!]!;
  return Math.max(arrives, opens) + Math.max(0, m.setupMin[v]! - paid);
}
