/** From the ends of many runs to P50, P80 and promises kept. */
import type { ScheduleProblem } from "@/lib/schedule";
import type { FinishRange, HopRisk } from "./types";

/**
 * Nearest rank: the end of a run that happened. Sorts `endMin`.
 * @param lastMin end of the last day followed: what ends there did not end
 */
export function finishRange(endMin: Float64Array, plannedMin: number, lastMin: number): FinishRange {
  endMin.sort();
  const rank = (p: number): number | undefined => {
    const end = endMin[Math.max(0, Math.ceil(p * endMin.length - 1e-9) - 1)]!;
    return end < lastMin ? end : undefined;
  };
  return {
    plannedMin,
    p10Min: rank(0.1),
    p50Min: rank(0.5),
    p80Min: rank(0.8),
    p90Min: rank(0.9),
    unfinishedShare: endMin.filter((end) => end >= lastMin).length / endMin.length,
  };
}

/** @param endMin one row a hop, one column a run as they were asked for; the first `runs` of a row are filled */
export function hopRisks(
  problem: ScheduleProblem,
  hops: readonly number[],
  endMin: Float64Array,
  plannedMin: Float64Array,
  runs: number,
  lastMin: number,
): HopRisk[] {
  const width = endMin.length / Math.max(1, hops.length);
  return hops.map((hop, k) => {
    const ends = endMin.slice(k * width, k * width + runs);
    const { promiseDay } = problem.hops[hop]!;
    return {
      hop,
      promiseMetShare:
        promiseDay === undefined ? undefined : shareBefore(ends, (promiseDay + 1) * 1440, lastMin),
      finish: finishRange(ends, plannedMin[k]!, lastMin),
    };
  });
}

/** Share of runs in which all of `hops` keep their promises; undefined when none has one. */
export function allPromisesMet(
  problem: ScheduleProblem,
  hops: readonly number[],
  endMin: Float64Array,
  runs: number,
): number | undefined {
  const width = endMin.length / Math.max(1, hops.length);
  const promised = hops.flatMap((hop, k) => {
    const { promiseDay } = problem.hops[hop]!;
    return promiseDay === undefined ? [] : [{ row: k * width, limit: (promiseDay + 1) * 1440 }];
  });
  if (promised.length === 0) return undefined;
  let met = 0;
  for (let run = 0; run < runs; run++) {
    if (promised.every(({ row, limit }) => endMin[row + run]! <= limit)) met++;
  }
  return met / runs;
}

/** What did not end within the days followed did not keep its promise. */
function shareBefore(endMin: Float64Array, limit: number, lastMin: number): number {
  return endMin.filter((end) => end <= limit && end < lastMin).length / endMin.length;
}
