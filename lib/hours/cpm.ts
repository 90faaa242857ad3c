import { normalCdf } from "./normal";

export interface CriticalPath {
  length: number;
  earliestStart: readonly number[];
  latestStart: readonly number[];
  /** Total slack: how far a task may slip without a longer project. */
  slack: readonly number[];
  critical: readonly boolean[];
}

const SLACK_TOLERANCE = 1e-9;

/**
 * Critical path method (Kelley and Walker 1959): forward and backward pass, no limit on people.
 *
 * @param durations any unit, >= 0; results are in the same unit
 * @param after `after[i]`: tasks that must end before task i starts
 * @throws RangeError when the precedences form a cycle
 */
export function criticalPath(
  durations: readonly number[],
  after: readonly (readonly number[])[],
): CriticalPath {
  const order = precedenceOrder(after);
  const n = durations.length;
  const earliestStart = new Array<number>(n).fill(0);
  let length = 0;
  for (const i of order) {
    for (const p of after[i]!) {
      earliestStart[i] = Math.max(earliestStart[i]!, earliestStart[p]! + durations[p]!);
    }
    length = Math.max(length, earliestStart[i]! + durations[i]!);
  }
  const latestStart = durations.map((d) => length - d);
  for (const i of [...order].reverse()) {
    for (const p of after[i]!) {
      latestStart[p] = Math.min(latestStart[p]!, latestStart[i]! - durations[p]!);
    }
  }
  const slack = latestStart.map((late, i) => Math.max(0, late - earliestStart[i]!));
  return { length, earliestStart, latestStart, slack, critical: slack.map((s) => s <= SLACK_TOLERANCE) };
}

/** Task indices so that each comes behind all of its `after`; ties by index. */
export function precedenceOrder(after: readonly (readonly number[])[]): number[] {
  const waitsFor = after.map((list) => list.length);
  const before: number[][] = after.map(() => []);
  for (const [i, list] of after.entries()) for (const p of list) before[p]!.push(i);
  const ready = waitsFor.flatMap((count, i) => (count === 0 ? [i] : []));
  const order: number[] = [];
  for (let k = 0; k < ready.length; k++) {
    const i = ready[k]!;
    order.push(i);
    for (const j of before[i]!) if (--waitsFor[j]! === 0) ready.push(j);
  }
  if (order.length < after.length) {
    const stuck = after.flatMap((_, i) => (order.includes(i) ? [] : [i]));
    throw new RangeError(`precedences form a cycle among tasks ${stuck.join(", ")}`);
  }
  return order;
}

/**
 * Chance that a path of independent tasks ends by a due time, by the normal approximation.
 *
 * @param mean sum of the path's means
 * @param variance sum of the path's variances, same unit squared; 0 gives a step at the mean
 */
export function pathProbability(mean: number, variance: number, due: number): number {
  if (variance < 0) throw new RangeError(`variance must be >= 0, got ${variance}`);
  if (variance === 0) return due >= mean ? 1 : 0;
  return normalCdf((due - mean) / Math.sqrt(variance));
}
