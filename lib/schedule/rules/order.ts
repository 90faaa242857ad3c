/** "Order": a visit starts when all that it waits for has ended. */
import type { Model } from "../model";
import type { PlanState } from "../plan";

export const ORDER = {
  name: "order",
  text: (before: string) => `it must wait for ${before}`,
  tooLate: (after: string) => `${after}, which waits for it, would begin before it ends`,
  waitsFor: (before: string) => `waits for ${before}`,
};

/** Latest end among what `v` waits for on other crews, minutes from the first midnight; 0 = none. */
export function readyAt(m: Model, s: PlanState, v: number, crew: number): number {
  let ready = 0;
  for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) {
    const u = m.preds[i]!;
    if (s.crewOf[u]! < 0 || s.crewOf[u] === crew) continue; // on one crew the order of its list decides
    const end = s.endAt(u);
    if (end > ready) ready = end;
  }
  return ready;
}

/** Earliest start among what waits for `v` on other crews; Infinity = none. */
export function dueBy(m: Model, s: PlanState, v: number, crew: number): number {
  let due = Number.POSITIVE_INFINITY;
  for (let i = m.succFrom[v]!; i < m.succFrom[v + 1]!; i++) {
    const u = m.succs[i]!;
    if (s.crewOf[u]! < 0 || s.crewOf[u] === crew) continue;
    const start = s.startAt(u);
    if (start < due) due = start;
  }
  return due;
}
