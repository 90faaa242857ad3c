/** Plain bin packing: the cutting problem with one drum length, nothing on hand and no dates. Measured on published sets. */
import type { Random } from "@/lib/random";
import { assignRuns } from "./assign";
import { purchaseBound } from "./bounds";
import { assignExactly } from "./exact";
import type { LinearSolver } from "./linearSolver";
import type { PackingProblem } from "./packing";

export interface Packing {
  /** Item indices per bin. */
  bins: number[][];
  /** No packing has fewer bins. */
  lowerBound: number;
}

export interface PackOptions {
  random?: Random;
  /** Candidate moves looked at, as in `CutOptions`. */
  effort?: number;
  shouldStop?: () => boolean;
  /** Given: the exact method, until the packing is proved or `shouldStop` says so. */
  solver?: LinearSolver;
}

/**
 * Packs items into as few bins as it finds, with the lower bound it is measured by.
 *
 * @param items    sizes, whole numbers from 1 to the capacity
 * @throws RangeError on an item that is not, or a capacity that is not a whole positive number
 */
export function packBins(items: readonly number[], capacity: number, options: PackOptions = {}): Packing {
  checkItems(items, capacity);
  const { pairs, rest } = exactPairs(items, capacity);
  const problem = binProblem(
    rest.map((item) => items[item]!),
    capacity,
  );
  const simple = Math.max(binsBound(items, capacity) - pairs.length, binsBound(problem.sizesCm, capacity));
  const { solver } = options;
  const target = { drums: simple, priceMinor: simple };
  const { assignment, bound } = solver
    ? assignExactly(problem, { ...options, solver, target })
    : assignRuns(problem, { ...options, target });
  const bins: number[][] = assignment.bought.map(() => []);
  for (const [k, bin] of assignment.drumOf.entries()) bins[bin]!.push(rest[k]!);
  return { bins: [...pairs, ...bins], lowerBound: pairs.length + Math.max(bound.drums, bound.priceMinor) };
}

/** Items that fill a bin together may share one in some best packing (dominance, Martello and Toth 1990). */
function exactPairs(items: readonly number[], capacity: number): { pairs: number[][]; rest: number[] } {
  const waiting = new Map<number, number[]>();
  const pairs: number[][] = [];
  const isPaired = new Uint8Array(items.length);
  for (const [item, size] of items.entries()) {
    const mate = waiting.get(capacity - size)?.pop();
    if (mate !== undefined) {
      pairs.push([mate, item]);
      isPaired[item] = 1;
      isPaired[mate] = 1;
    } else waiting.set(size, [...(waiting.get(size) ?? []), item]);
  }
  const rest = [...items.keys()].filter((item) => !isPaired[item]);
  return { pairs, rest: rest.sort((a, b) => items[b]! - items[a]! || a - b) };
}

function binProblem(sizes: readonly number[], capacity: number): PackingProblem {
  return {
    sizesCm: sizes,
    needDays: sizes.map(() => 0),
    ends: sizes.map((_, item) => item),
    onHand: [],
    kinds: [{ capacityCm: capacity, availableDay: 0, priceMinor: 1, isUncut: true }],
    minUsefulCm: 0,
  };
}

/** First-fit decreasing. At most 11/9 of the optimum + 6/9 (Dosa 2007), which is tight. */
export function firstFitDecreasing(items: readonly number[], capacity: number): number[][] {
  return decreasing(items, capacity, (free, size) => free.findIndex((room) => room >= size));
}

/** Best-fit decreasing: the fullest bin that takes the item, the first of equals. */
export function bestFitDecreasing(items: readonly number[], capacity: number): number[][] {
  return decreasing(items, capacity, (free, size) => {
    let best = -1;
    for (const [bin, room] of free.entries()) {
      if (room >= size && (best < 0 || room < free[best]!)) best = bin;
    }
    return best;
  });
}

function decreasing(
  items: readonly number[],
  capacity: number,
  choose: (free: readonly number[], size: number) => number,
): number[][] {
  checkItems(items, capacity);
  const bins: number[][] = [];
  const free: number[] = [];
  const order = [...items.keys()].sort((a, b) => items[b]! - items[a]! || a - b);
  for (const item of order) {
    let bin = choose(free, items[item]!);
    if (bin < 0) bin = bins.push([]) - 1;
    free[bin] ??= capacity;
    bins[bin]!.push(item);
    free[bin]! -= items[item]!;
  }
  return bins;
}

/**
 * Lower bound on the number of bins: the greatest of the purchase bounds (material over reachable sums, L2) and two
 * more families of dual feasible functions, u(k) of Fekete and Schepers 2001 and f(CCM,1) of Carlier, Clautiaux and
 * Moukrim 2007 (both from memory; tests hold them against exhaustive packing).
 */
export function binsBound(items: readonly number[], capacity: number): number {
  let best = purchaseBound(binProblem(items, capacity)).drums;
  for (let k = 2; k <= 20; k++) {
    // Scaled by k * capacity so that everything is a whole number.
    let total = 0;
    for (const size of items) {
      const times = (k + 1) * size;
      total += times % capacity === 0 ? k * size : Math.floor(times / capacity) * capacity;
    }
    best = Math.max(best, Math.ceil(total / (k * capacity)));
  }
  const steps = new Set<number>();
  for (let j = 2; j <= 100; j++) steps.add(Math.floor(capacity / j) + 1);
  for (const size of items) steps.add(size).add(capacity - size + 1);
  for (const step of steps) {
    if (step < 1 || 2 * step > capacity) continue;
    const whole = Math.floor(capacity / step);
    let total = 0;
    for (const size of items) {
      if (2 * size > capacity) total += 2 * (whole - Math.floor((capacity - size) / step));
      else if (2 * size === capacity) total += whole;
      else total += 2 * Math.floor(size / step);
    }
    best = Math.max(best, Math.ceil(total / (2 * whole)));
  }
  return best;
}

function checkItems(items: readonly number[], capacity: number): void {
  if (!Number.isSafeInteger(capacity) || capacity < 1) {
    throw new RangeError(`capacity must be a whole number >= 1, got ${capacity}`);
  }
  for (const size of items) {
    if (!Number.isSafeInteger(size) || size < 1 || size > capacity) {
      throw new RangeError(`item size must be a whole number from 1 to ${capacity}, got ${size}`);
    }
  }
}
