/**
 * What a move by hand leaves as it was. The engine reads a plan in with the times that follow from the data as they
 * are now; when these changed since the plan was made, every visit of it gets other times. A planner who moves one
 * visit asked for none of that: what the move does not reach keeps the times that it was planned with.
 */
import type { Model } from "./model";
import type { NightAway, PlacedVisit, Plan } from "./types";

type PlanDates = Pick<Plan, "placed"> & { nights: readonly NightAway[] };

/**
 * @param stored the plan as it stands
 * @param read the same plan as the engine read it in, before the move
 * @param walked what the engine made of it by the move
 * @param moved visits that the hand moves
 */
export function keepOthers(
  m: Model,
  stored: PlanDates,
  read: PlanDates,
  walked: PlanDates,
  moved: ReadonlySet<number>,
): PlanDates {
  const was = byVisit(stored.placed);
  const before = byVisit(read.placed);
  const after = byVisit(walked.placed);
  const takesNew = new Set<number>();
  const touched = new Set<number>();
  const crewDays = (x: PlacedVisit | undefined): number[] =>
    x
      ? Array.from({ length: x.endDay - x.startDay + 1 }, (_, i) => (x.startDay + i) * m.crewCount + x.crew)
      : [];
  const take = (v: number): void => {
    if (takesNew.has(v)) return;
    takesNew.add(v);
    if (samePlace(was.get(v), after.get(v))) return;
    for (const at of [...crewDays(was.get(v)), ...crewDays(after.get(v))]) touched.add(at);
    if (m.partner[v]! >= 0) take(m.partner[v]!);
  };
  const all = new Set([...was.keys(), ...after.keys()]);
  for (const v of all) if (moved.has(v) || !samePlace(before.get(v), after.get(v))) take(v);
  // One day of one crew is walked as one: beside a visit with new times those of another day's data would overlap.
  for (let size = -1; size !== takesNew.size; ) {
    size = takesNew.size;
    for (const v of all) {
      if (crewDays(was.get(v)).some((at) => touched.has(at))) take(v);
      for (let i = m.predFrom[v]!; i < m.predFrom[v + 1]!; i++) {
        const u = m.preds[i]!;
        if (takesNew.has(u) === takesNew.has(v)) continue;
        const first = (takesNew.has(u) ? after : was).get(u);
        const then = (takesNew.has(v) ? after : was).get(v);
        if (first && then && endOf(first) > startOf(then)) {
          take(u);
          take(v);
        }
      }
    }
  }
  const atOf = (n: NightAway): number => n.day * m.crewCount + n.crew;
  const slept = new Set(read.nights.map(atOf));
  const sleeps = new Set(walked.nights.map(atOf));
  const isNew = (n: NightAway): boolean => touched.has(atOf(n)) || slept.has(atOf(n)) !== sleeps.has(atOf(n));
  return {
    placed: [...all].sort((a, b) => a - b).flatMap((v) => (takesNew.has(v) ? after : was).get(v) ?? []),
    nights: [...stored.nights.filter((n) => !isNew(n)), ...walked.nights.filter(isNew)],
  };
}

const byVisit = (placed: readonly PlacedVisit[]) => new Map(placed.map((x) => [x.visit, x]));
const startOf = (x: PlacedVisit): number => x.startDay * 1440 + x.startMin;
const endOf = (x: PlacedVisit): number => x.endDay * 1440 + x.endMin;

function samePlace(a: PlacedVisit | undefined, b: PlacedVisit | undefined): boolean {
  if (!a || !b) return a === b;
  return a.crew === b.crew && startOf(a) === startOf(b) && endOf(a) === endOf(b);
}
