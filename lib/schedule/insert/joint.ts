/** The cheapest place of joint work: one day, two crews, one start. */
import type { PlanEdit } from "../edit";
import { paceOf } from "../pace";
import { OK } from "../rules";
import { jointTimes, times } from "../synchronise";
import type { Blink } from "./blink";
import { detour, freeMin, leastOvertime, passing, setUpBy } from "./detour";
import { dayRange, lastAwaited, mayStart, range, type Within, waitsFor } from "./range";
import { Shortlist } from "./shortlist";
import type { Spot } from "./spot";

/** How many of the places that hold their end alone are tried in pairs. */
const SHORTLIST = 6;

const near = new Shortlist();
const far = new Shortlist();

/** Fills `spot` with the best place of `a` and its partner, neither of which is placed. */
export function findJointSpot(edit: PlanEdit, a: number, blink: Blink, spot: Spot, within: Within): void {
  const { model: m, state: s } = edit;
  const b = m.partner[a]!;
  spot.clear();
  if (dayRange(m, s, a) !== OK) return;
  let { firstDay, lastDay } = range;
  if (dayRange(m, s, b) !== OK) return;
  firstDay = Math.max(firstDay, range.firstDay, within.firstDay);
  lastDay = Math.min(lastDay, range.lastDay, within.lastDay);
  edit.aim(a);

  for (let day = firstDay; day <= lastDay; day++) {
    const dayCost = edit.aimed.with(a, day, day) - edit.aimed.now;
    if (dayCost >= spot.cost) continue;
    offers(edit, a, day, blink, near, spot.cost - dayCost, within.crews);
    if (near.count === 0) continue;
    offers(edit, b, day, blink, far, spot.cost - dayCost - near.cost[0]!, within.otherCrews);
    if (far.count === 0) continue;
    keepThoseThatHold(edit, a, day, near, spot.cost - dayCost - far.cost[0]!);
    if (near.count === 0) continue;
    keepThoseThatHold(edit, b, day, far, spot.cost - dayCost - near.cost[0]!);
    for (let i = 0; i < near.count; i++) {
      for (let j = 0; j < far.count; j++) {
        if (near.crew[i] === far.crew[j]) continue;
        if (dayCost + near.cost[i]! + far.cost[j]! >= spot.cost) break;
        const from = Math.max(near.earliest[i]!, far.earliest[j]!);
        if (!jointTimes(m, s, a, near.crew[i]!, far.crew[j]!, day, from)) continue;
        const { atMin, untilMin } = times;
        let cost = edit.trial(a, near.crew[i]!, day, near.after[i]!, atMin, untilMin) - dayCost;
        if (cost + dayCost >= spot.cost) continue;
        cost += edit.trial(b, far.crew[j]!, day, far.after[j]!, atMin, untilMin);
        if (cost < spot.cost) {
          spot.set(cost, near.crew[i]!, day, near.after[i]!);
          spot.setJoint(far.crew[j]!, far.after[j]!, atMin, untilMin);
        }
      }
    }
  }
}

/** Places of one end of joint work on `day` with their earliest start and what they cost at least. */
function offers(
  edit: PlanEdit,
  v: number,
  day: number,
  blink: Blink,
  list: Shortlist,
  under: number,
  among: Int32Array,
): void {
  const { model: m, state: s } = edit;
  const w = m.problem.weights;
  const crews = m.crewCount;
  const crewDays = crews * m.dayCount;
  const workMin = m.workMin[v]! * m.stretch[v]![day]!;
  list.count = 0;
  for (let i = 0; i < among.length; i++) {
    const c = among[i]!;
    const at = day * crews + c;
    if (!mayStart(m, v, at, day, crewDays) || blink.now()) continue;
    const room = freeMin(m, s, at) - workMin * paceOf(m, c, v);
    if (room < 0) continue;
    const risk = (w.riskMin * workMin * paceOf(m, c, v) * m.riskMinPerH[v]![day]!) / 60;
    const fixedCost = risk + edit.movedCost(v, c, day) + (s.used[at] === 1 ? 0 : edit.newDayPrice);
    if (fixedCost >= under) continue;
    const carried = s.inCarry[at]!;
    if (carried >= 0 && s.endDay[carried] !== day) continue;
    let after = lastAwaited(m, s, v, at);
    while (true) {
      const follower = after < 0 ? s.head[at]! : s.next[after]!;
      detour(m, s, v, c, at, after);
      const added = workMin * paceOf(m, c, v) + passing.busyMin;
      const cost = fixedCost + passing.cost + leastOvertime(m, s, at, added);
      if (passing.busyMin <= room && cost < under) list.offer(cost, c, after, setUpBy(m, s, v, at, after));
      if (follower < 0 || waitsFor(m, follower, v)) break;
      after = follower;
    }
  }
}

/** A place that does not even hold its end alone need not be tried with any place of the other end. */
function keepThoseThatHold(edit: PlanEdit, v: number, day: number, list: Shortlist, under: number): void {
  const { model: m, state: s } = edit;
  let kept = 0;
  for (let i = 0; i < list.count && kept < SHORTLIST && list.cost[i]! < under; i++) {
    const c = list.crew[i]!;
    if (!jointTimes(m, s, v, c, c, day, list.earliest[i]!)) continue;
    if (edit.trial(v, c, day, list.after[i]!, times.atMin, times.untilMin) < Number.POSITIVE_INFINITY)
      list.move(i, kept++);
  }
  list.count = kept;
}
