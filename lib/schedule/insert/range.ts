/** What can be said about a visit's place before any crew is looked at. */
import type { Model } from "../model";
import type { PlanState } from "../plan";
import { BREAKS, OK } from "../rules";

/** Where a search looks. */
export interface Within {
  firstDay: number;
  lastDay: number;
  /** Crews to try, in this order; of joint work for the visit asked for and for its other end. */
  crews: Int32Array;
  otherCrews: Int32Array;
}

export function anywhere(m: Model): Within {
  const crews = Int32Array.from({ length: m.crewCount }, (_, c) => c);
  return { firstDay: 0, lastDay: m.dayCount - 1, crews, otherCrews: crews };
}

/** Days between which a visit may start; one object is reused. */
export const range = { firstDay: 0, lastDay: 0 };

/** Fills `range`; returns the rule that leaves no day at all, or OK. */
export function dayRange(m: Model, s: PlanState, v: number): number {
  let first = m.earliestDay[v]!;
  let last = m.dayCount - 1;
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) {
    const u = m.preds[i]!;
    if (s.crewOf[u]! < 0) return BREAKS.order;
    if (s.endDay[u]! > first) first = s.endDay[u]!;
  }
  for (let i = m.succFrom[v]!; i < m.succFrom[v + 1]!; i++) {
    const u = m.succs[i]!;
    if (s.crewOf[u]! >= 0 && s.startDay[u]! < last) last = s.startDay[u]!;
  }
  range.firstDay = first;
  range.lastDay = last;
  return OK;
}

/** May `v` start on this crew's day by what never changes: calendar, access, people, notice? */
export function mayStart(m: Model, v: number, crewDay: number, day: number, crewDays: number): boolean {
  return (
    m.works[crewDay] === 1 &&
    m.hasPeople[m.needKind[v]! * crewDays + crewDay] === 1 &&
    m.accessTo[v * 7 + m.weekday[day]!]! > 0 &&
    (day >= m.noticeDay[v]! || day === m.wasDay[v])
  );
}

/** Is `u` something that `v` waits for? */
export function waitsFor(m: Model, v: number, u: number): boolean {
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) if (m.preds[i] === u) return true;
  return false;
}

/** The first visit of the list from which on `v` may stand behind: past all it waits for; -2 = none on this day. */
export function lastAwaited(m: Model, s: PlanState, v: number, crewDay: number): number {
  let last = -1;
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) {
    const u = m.preds[i]!;
    const day = (crewDay / m.crewCount) | 0;
    if (s.crewOf[u] !== crewDay - day * m.crewCount || s.startDay[u] !== day) continue;
    if (last < 0 || s.startMin[u]! > s.startMin[last]!) last = u;
  }
  return last;
}
