/**
 * Joint work of two crews: the minute at which both can start, and until when both stay.
 *
 * Once placed, the start is a fixed point in both crews' days: work put in front of it later must still leave it
 * where it is. So a change on one crew's day never runs through pairs into other crews' days, no circle of pairs
 * can arise, and the start moves only when the pair is taken out and put in again, which the search does all the
 * time.
 */
import type { Model } from "./model";
import { paceOf } from "./pace";
import type { PlanState } from "./plan";
import { dueBy, readyAt } from "./rules/order";
import { newWork, workDay } from "./work";

/** Result of `jointTimes`; one object is reused. */
export const times = { atMin: 0, untilMin: 0 };
const work = newWork();

/**
 * Earliest joint start of `a` (crew `crewA`) and its partner (crew `crewB`) on `day`, not before minute `from`: hours
 * open at both ends, both sites open, all awaited work ended. The slower crew sets the duration. It must end that day.
 */
export function jointTimes(
  m: Model,
  s: PlanState,
  a: number,
  crewA: number,
  crewB: number,
  day: number,
  from: number,
): boolean {
  const b = m.partner[a]!;
  const midnight = day * 1440;
  const start = Math.max(from, readyAt(m, s, a, crewA) - midnight, readyAt(m, s, b, crewB) - midnight);
  const weekday = m.weekday[day]!;
  const limit = Math.min(
    m.accessTo[a * 7 + weekday]!,
    m.accessTo[b * 7 + weekday]!,
    m.homeByMin[day * m.crewCount + crewA]!,
    m.homeByMin[day * m.crewCount + crewB]!,
    dueBy(m, s, a, crewA) - midnight,
    dueBy(m, s, b, crewB) - midnight,
  );
  const factor = Math.max(
    paceOf(m, crewA, a) * m.stretch[a]![day]!,
    paceOf(m, crewB, b) * m.stretch[b]![day]!,
  );
  const seg = m.segFrom[a]!;
  workDay(work, m, a, day, start, limit, factor, seg, m.segMin[seg]!, m.masks[a]!, m.masks[b]!);
  times.atMin = work.first;
  times.untilMin = work.last;
  return work.done;
}
