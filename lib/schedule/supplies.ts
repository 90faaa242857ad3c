/**
 * Scarce items: what visits share as it comes in. A visit that starts on a day takes its share out of everything that
 * has come by then; the kits begun by any day never take more than has come by that day. Which visit waits is left
 * to the search: claims are swapped by moving visits.
 */
import type { Model } from "./model";
import type { PlanState } from "./plan";

/** Quantities are sums of doubles. */
const TOLERANCE = 1e-6;

/** Is there enough of everything that `v` takes when it starts on `day`, beside what is claimed already? */
export function isSupplied(m: Model, s: PlanState, v: number, day: number): boolean {
  for (let i = m.takesFrom[v]!; i < m.takesFrom[v + 1]!; i++) {
    if (s.spare[m.takesItem[i]! * m.dayCount + day]! + TOLERANCE < m.takesQuantity[i]!) return false;
  }
  return true;
}

/** Enters what `v`, started on `day`, claims (+1) or gives back (-1). */
export function claim(m: Model, s: PlanState, v: number, day: number, sign: 1 | -1): void {
  for (let i = m.takesFrom[v]!; i < m.takesFrom[v + 1]!; i++) {
    const first = m.takesItem[i]! * m.dayCount;
    const taken = sign * m.takesQuantity[i]!;
    for (let d = m.dayCount - 1; d >= day; d--) {
      const left = s.unclaimed[first + d]!;
      if (left === Number.POSITIVE_INFINITY) continue;
      s.putReal(s.unclaimed, first + d, left - taken);
    }
    keepLeast(m, s, first);
  }
}

/** `spare` on a day is the least that stays unclaimed on that day or any later one. */
export function keepLeast(m: Model, s: PlanState, first: number): void {
  let least = Number.POSITIVE_INFINITY;
  for (let d = m.dayCount - 1; d >= 0; d--) {
    least = Math.min(least, s.unclaimed[first + d]!);
    s.putReal(s.spare, first + d, least);
  }
}
