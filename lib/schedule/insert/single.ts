/** The cheapest place of a visit that one crew does. */
import type { PlanEdit } from "../edit";
import { paceOf } from "../pace";
import { OK } from "../rules";
import { isSupplied } from "../supplies";
import type { Blink } from "./blink";
import { couldGoOn, detour, freeMin, leastOvertime, passing } from "./detour";
import { dayRange, lastAwaited, mayStart, range, type Within, waitsFor } from "./range";
import type { Spot } from "./spot";

/** Fills `spot` with the best place of `v`; its cost stays Infinity when there is none. */
export function findSpot(edit: PlanEdit, v: number, blink: Blink, spot: Spot, within: Within): void {
  const { model: m, state: s } = edit;
  spot.clear();
  if (dayRange(m, s, v) !== OK) return;
  const firstDay = Math.max(range.firstDay, within.firstDay);
  const lastDay = Math.min(range.lastDay, within.lastDay);
  const w = m.problem.weights;
  const crews = m.crewCount;
  const crewDays = crews * m.dayCount;
  edit.aim(v);
  const firstClass = m.segClass[m.segFrom[v]!]! * m.dayCount;

  for (let day = firstDay; day <= lastDay; day++) {
    if ((m.masks[v]![firstClass + day]! & 0xffffff) === 0 || !isSupplied(m, s, v, day)) continue;
    const dayCost = edit.aimed.with(v, day, day) - edit.aimed.now;
    if (dayCost >= spot.cost) continue;
    const workMin = m.workMin[v]! * m.stretch[v]![day]!;
    for (let i = 0; i < within.crews.length; i++) {
      const c = within.crews[i]!;
      const at = day * crews + c;
      if (!mayStart(m, v, at, day, crewDays) || blink.now()) continue;
      const work = workMin * paceOf(m, c, v);
      const risk = (w.riskMin * work * m.riskMinPerH[v]![day]!) / 60;
      const fixedCost =
        dayCost + risk + edit.movedCost(v, c, day) + (s.used[at] === 1 ? 0 : edit.newDayPrice);
      if (fixedCost >= spot.cost) continue;
      let room = freeMin(m, s, at) - work;
      // Where the day's last visit goes on tomorrow, more of it can: tomorrow's room counts too.
      const next = m.nextWork[at]!;
      const mayPushOn = next >= 0 && s.tail[at]! >= 0 && s.inCarry[next * crews + c] === s.tail[at];
      if (mayPushOn) room += freeMin(m, s, next * crews + c);
      const goesOn = room < 0 && m.canPause[v] === 1 && couldGoOn(m, s, v, c, day, work);
      if (room < 0 && !goesOn) continue;

      let after = goesOn ? s.tail[at]! : lastAwaited(m, s, v, at);
      while (true) {
        const follower = after < 0 ? s.head[at]! : s.next[after]!;
        detour(m, s, v, c, at, after);
        // Cheap to expensive: what the place costs at least, whether there is room, the walk.
        let least = fixedCost + passing.cost;
        const fitsToday = passing.busyMin <= room;
        if (fitsToday && !mayPushOn) least += leastOvertime(m, s, at, work + passing.busyMin);
        if (
          least < spot.cost &&
          (fitsToday || goesOn || (follower < 0 && m.canPause[v] === 1 && couldGoOn(m, s, v, c, day, work)))
        ) {
          const cost = edit.trial(v, c, day, after, -1, -1);
          if (cost < spot.cost) spot.set(cost, c, day, after);
        }
        if (follower < 0 || waitsFor(m, follower, v)) break;
        after = follower;
      }
    }
  }
}
