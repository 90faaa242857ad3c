/** Puts a visit, or both ends of joint work, at the cheapest place. */
import type { PlanEdit } from "../edit";
import type { Model } from "../model";
import { OK } from "../rules";
import { jointTimes, times } from "../synchronise";
import type { Blink } from "./blink";
import { findJointSpot } from "./joint";
import { dayRange, lastAwaited, mayStart, range, type Within, waitsFor } from "./range";
import { findSpot } from "./single";
import { Spot } from "./spot";

const spot = new Spot();

/** The visit that stands for a pair: the lower index, or the one that is free when the other is kept. */
export function leadOf(m: Model, v: number): number {
  const other = m.partner[v]!;
  if (other < 0 || m.kept[other] !== undefined) return v;
  return other < v || m.kept[v] !== undefined ? other : v;
}

/** @returns whether it was placed */
export function insertCheapest(edit: PlanEdit, v: number, blink: Blink, within: Within): boolean {
  const m = edit.model;
  const b = m.partner[v]!;
  if (b < 0) {
    findSpot(edit, v, blink, spot, within);
    return placeAt(edit, v, spot);
  }
  if (m.kept[b] !== undefined) return joinKept(edit, v, b);
  if (m.kept[v] !== undefined) return false;
  findJointSpot(edit, v, blink, spot, within);
  return placeAt(edit, v, spot);
}

/** The other end is pinned or frozen: some second crew comes to its minutes, at the lowest cost. */
function joinKept(edit: PlanEdit, v: number, b: number): boolean {
  const { model: m, state: s } = edit;
  if (s.crewOf[b]! < 0 || s.endDay[b] !== s.startDay[b] || dayRange(m, s, v) !== OK) return false;
  const day = s.startDay[b]!;
  if (day < range.firstDay || day > range.lastDay) return false;
  edit.aim(v);
  spot.clear();
  for (let c = 0; c < m.crewCount; c++) {
    const at = day * m.crewCount + c;
    if (c === s.crewOf[b] || !mayStart(m, v, at, day, m.crewCount * m.dayCount)) continue;
    if (!jointTimes(m, s, v, c, s.crewOf[b]!, day, s.startMin[b]!) || times.atMin !== s.startMin[b]) continue;
    if (times.untilMin > s.endMin[b]!) continue;
    for (let after = lastAwaited(m, s, v, at); ; ) {
      const cost = edit.trial(v, c, day, after, s.startMin[b]!, s.endMin[b]!);
      if (cost < spot.cost) spot.set(cost, c, day, after);
      const follower = after < 0 ? s.head[at]! : s.next[after]!;
      if (follower < 0 || waitsFor(m, follower, v)) break;
      after = follower;
    }
  }
  if (spot.crew < 0) return false;
  edit.trial(v, spot.crew, day, spot.after, s.startMin[b]!, s.endMin[b]!);
  edit.place();
  return true;
}

/** Places `v`, and its partner, at a spot found for it. */
export function placeAt(edit: PlanEdit, v: number, at: Spot): boolean {
  const m = edit.model;
  if (at.crew < 0) return false;
  const b = m.partner[v]!;
  edit.aim(v);
  const joint = b >= 0;
  if (
    edit.trial(v, at.crew, at.day, at.after, joint ? at.atMin : -1, joint ? at.untilMin : -1) ===
    Number.POSITIVE_INFINITY
  )
    return false;
  edit.place();
  if (!joint) return true;
  edit.aim(b);
  // The first end may have pushed work on a site that the second crew passes: try it on the plan as it is now.
  if (
    edit.trial(b, at.otherCrew, at.day, at.otherAfter, at.atMin, at.untilMin) === Number.POSITIVE_INFINITY
  ) {
    edit.remove(v);
    return false;
  }
  edit.place();
  return true;
}
