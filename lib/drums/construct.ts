/** First plans: best-fit decreasing in several orders, and drums filled one by one as tightly as they go. */
import { Layout } from "./layout";
import { type Assignment, dayFor, distinctKinds, isSent, kindFor, type PackingProblem } from "./packing";
import { tightest } from "./tightest";

/**
 * Best-fit decreasing, dated. Each run goes to the drum that serves it in time and is left with least; cable that is
 * already part-used or bought before an uncut drum, a drum at the place that wants the run before one elsewhere, all
 * that is on hand before a purchase; a late drum only when nothing is in time, then the least late.
 *
 * @param order      run indices in the order in which they choose
 * @param preferKind kind to buy when several would serve; -1 = the cheapest that serves
 */
export function bestFit(problem: PackingProblem, order: readonly number[], preferKind: number): Assignment {
  const layout = new Layout(problem);
  for (const run of order) placeBest(layout, run, preferKind);
  return layout.assignment();
}

/** By late days; then 0 started, 1 uncut on hand, 2 and 3 the same elsewhere, 4 to buy, 5 to buy elsewhere; then the least left over or the least price. Long-handed: called for every run of every first plan. */
function placeBest(layout: Layout, run: number, preferKind: number): void {
  const { problem } = layout;
  const size = problem.sizesCm[run]!;
  let bestLate = Number.POSITIVE_INFINITY;
  let bestGroup = 0;
  let bestRank = 0;
  let bestDrum = -1;
  let bestKind = -1;
  const isBetter = (late: number, group: number, rank: number) =>
    late !== bestLate ? late < bestLate : group !== bestGroup ? group < bestGroup : rank < bestRank;
  for (let drum = 0; drum < layout.drumCount; drum++) {
    const free = layout.freeCm(drum);
    if (free < size) continue;
    const late = layout.lateDays(run, drum);
    const isUntouched = layout.stocks[drum]!.isUncut && layout.loads[drum] === 0;
    const group = (isUntouched ? 1 : 0) + (layout.isSent(run, drum) ? 2 : 0);
    if (!isBetter(late, group, free - size)) continue;
    [bestLate, bestGroup, bestRank, bestDrum] = [late, group, free - size, drum];
  }
  const preferred = problem.kinds[preferKind];
  for (let kind = 0; kind < problem.kinds.length; kind++) {
    const stock = problem.kinds[kind]!;
    if (stock.capacityCm < size) continue;
    const late = Math.max(0, dayFor(problem, stock, run) - problem.needDays[run]!);
    const isPreferred =
      stock.capacityCm === preferred?.capacityCm &&
      stock.priceMinor === preferred.priceMinor &&
      stock.availableDay === preferred.availableDay;
    const rank = isPreferred ? -1 : stock.priceMinor;
    const group = isSent(problem, stock, run) ? 5 : 4;
    if (!isBetter(late, group, rank)) continue;
    [bestLate, bestGroup, bestRank, bestDrum, bestKind] = [late, group, rank, -1, kind];
  }
  if (bestLate < Number.POSITIVE_INFINITY) layout.place(run, bestDrum >= 0 ? bestDrum : layout.buy(bestKind));
}

/** Nodes that the search for the tightest filling of one drum may visit. */
const FILL_NODES = 500;

/**
 * Drum by drum: fill each as tightly as it goes from the runs it serves in time (minimum bin slack, Gupta and Ho 1999;
 * a bought drum starts with the longest run left, Fleszar and Hindi 2002). Drums on hand come first, shortest first,
 * so that remnants are used up, for the runs of their own place before those of others; what is left over is bought for, then placed by best fit where nothing is in time.
 */
export function fillTightly(problem: PackingProblem, preferKind: number): Assignment {
  const layout = new Layout(problem);
  const onHand = problem.onHand
    .map((stock, drum) => ({ stock, drum }))
    .sort(
      (a, b) => Number(a.stock.isUncut) - Number(b.stock.isUncut) || a.stock.capacityCm - b.stock.capacityCm,
    );
  const left = new Set(problem.sizesCm.keys());
  const fill = (drum: number, seed: number[], maySend: boolean) => {
    const candidates = [...left].filter(
      (run) =>
        !seed.includes(run) && layout.lateDays(run, drum) === 0 && (maySend || !layout.isSent(run, drum)),
    );
    const free = layout.freeCm(drum) - seed.reduce((sum, run) => sum + problem.sizesCm[run]!, 0);
    for (const run of [...seed, ...tightest(problem.sizesCm, candidates, free, FILL_NODES).chosen]) {
      layout.place(run, drum);
      left.delete(run);
    }
  };
  for (const { drum } of onHand) fill(drum, [], false);
  if (problem.places) for (const { drum } of onHand) fill(drum, [], true);
  const preferred = problem.kinds[preferKind];
  for (const run of [...left]) {
    if (!preferred || !left.has(run)) continue;
    const kind = kindFor(problem, preferKind, [run]);
    const isLate = problem.needDays[run]! < dayFor(problem, problem.kinds[kind]!, run);
    if (problem.sizesCm[run]! > preferred.capacityCm || isLate) continue;
    fill(layout.buy(kind), [run], true);
  }
  for (const run of left) placeBest(layout, run, preferKind);
  return layout.assignment();
}

/** The first plans that are worth having, in a fixed order. */
export function firstPlans(problem: PackingProblem): Assignment[] {
  const bySize = problem.sizesCm.map((_, run) => run); // given largest first
  const urgentFirst = [...bySize].sort((a, b) => serving(problem, a) - serving(problem, b) || a - b);
  const byNeed = [...bySize].sort((a, b) => problem.needDays[a]! - problem.needDays[b]! || a - b);
  const kinds = [-1, ...distinctKinds(problem)];
  return [
    ...kinds.flatMap((kind) => [
      bestFit(problem, bySize, kind),
      bestFit(problem, urgentFirst, kind),
      bestFit(problem, byNeed, kind),
      fillTightly(problem, kind),
    ]),
    bestFit(problem, [...bySize].reverse(), -1), // most runs, where what is on hand is not enough for all
  ];
}

/** How many kinds could be bought in time for the run: 0 = it must live on what is on hand. */
function serving(problem: PackingProblem, run: number): number {
  const size = problem.sizesCm[run]!;
  const day = problem.needDays[run]!;
  return problem.kinds.filter((kind) => kind.capacityCm >= size && dayFor(problem, kind, run) <= day).length;
}
