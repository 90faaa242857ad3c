/**
 * The last step where one kind of drum is bought and nothing is on hand: is there a plan with as many drums as the
 * bound, or does it take one more?
 *
 * Let w be the worths behind the bound, V the greatest worth of a drum, N the sum of what is wanted. In a plan with T
 * drums the other T - 1 carry at most (T - 1) V, so each drum carries at least N - (T - 1) V. Where the bound is sharp
 * few patterns do. They are all listed, and a branch and bound over them, with the relaxation in fractions at each
 * node, either ends in a plan or proves that T drums are not enough. Branching: two sizes on one drum, or not (Ryan and
 * Foster 1981, from memory). A node is dropped by whole-numbered arithmetic only, as in master.ts; the same inequality
 * with the worths of the node shuts further patterns.
 */
import type { LinearModel, LinearSolver } from "./linearSolver";
import type { RunSize } from "./pricing";

export interface SharpBound {
  /** Whole worth of one run of each size. */
  worth: Float64Array;
  /** Worth of all that is wanted. */
  need: number;
  /** Greatest worth of one drum. */
  greatest: number;
}

export interface ListedPattern {
  sizes: readonly number[];
  counts: readonly number[];
}

export type Closed =
  | { kind: "plan"; drums: readonly ListedPattern[] }
  /** No plan has so few drums. */
  | { kind: "none" }
  /** Too many patterns, or no time. */
  | { kind: "open" };

/** Above this many patterns the relaxation of a node takes too long for a tree. */
const MOST_PATTERNS = 30_000;
/** Places of the search for patterns: some seconds. */
const MOST_STEPS = 20_000_000;
/** Most cells of the table of what is ahead. */
const MOST_CELLS = 8_000_000;

/** @param drums  T: the number of drums in question, at most the bound rounded up */
export function closeGap(
  sizes: readonly RunSize[],
  capacity: number,
  drums: number,
  sharp: SharpBound,
  solver: LinearSolver,
  shouldStop: () => boolean,
): Closed {
  const total = sizes.reduce((sum, { length, demand }) => sum + length * demand, 0);
  const patterns = everyPattern(sizes, capacity, sharp.worth, {
    worth: sharp.need - (drums - 1) * sharp.greatest,
    length: total - (drums - 1) * capacity,
  });
  if (!patterns) return { kind: "open" };
  const tree = new Tree(sizes, patterns, drums, solver);
  try {
    return tree.search(shouldStop);
  } finally {
    tree.dispose();
  }
}

/**
 * Every pattern that reaches a worth and a length, proper ones only; undefined when there are too many.
 * Depth first, with the most that the sizes ahead can add within the room left.
 */
export function everyPattern(
  sizes: readonly RunSize[],
  capacity: number,
  worth: Float64Array,
  least: { worth: number; length: number },
): ListedPattern[] | undefined {
  const width = capacity + 1;
  if (width * (sizes.length + 1) > MOST_CELLS) return undefined;
  const worthAhead = mostAhead(sizes, capacity, (size) => worth[size]!);
  const lengthAhead = mostAhead(sizes, capacity, (size) => sizes[size]!.length);
  const found: ListedPattern[] = [];
  const chosen: number[] = [];
  const counts: number[] = [];
  let steps = 0;
  const search = (size: number, room: number, sum: number): boolean => {
    if (steps++ > MOST_STEPS) return false;
    const cell = size * width + room;
    if (sum + worthAhead[cell]! < least.worth || capacity - room + lengthAhead[cell]! < least.length)
      return true;
    if (size === sizes.length) {
      found.push({ sizes: [...chosen], counts: [...counts] });
      return found.length <= MOST_PATTERNS;
    }
    const { length, demand } = sizes[size]!;
    for (let count = Math.min(demand, Math.floor(room / length)); count > 0; count--) {
      chosen.push(size);
      counts.push(count);
      const goesOn = search(size + 1, room - count * length, sum + count * worth[size]!);
      chosen.pop();
      counts.pop();
      if (!goesOn) return false;
    }
    return search(size + 1, room, sum);
  };
  return search(0, capacity, 0) ? found : undefined;
}

/** Per size and room the most that this size and those behind it add up to. */
function mostAhead(
  sizes: readonly RunSize[],
  capacity: number,
  amountOf: (size: number) => number,
): Float64Array {
  const width = capacity + 1;
  const most = new Float64Array(width * (sizes.length + 1));
  for (let size = sizes.length - 1; size >= 0; size--) {
    const { length, demand } = sizes[size]!;
    const value = amountOf(size);
    for (let room = 0; room < width; room++) {
      let best = most[(size + 1) * width + room]!;
      for (let count = 1; count <= demand && count * length <= room; count++) {
        best = Math.max(best, most[(size + 1) * width + room - count * length]! + count * value);
      }
      most[size * width + room] = best;
    }
  }
  return most;
}

/** Cost of a run left out, in drums. */
const LACKING = 4;
/** Duals are scaled by this and rounded, so that sums of worths are whole and exact. */
const SCALE = 2 ** 30;
const TINY = 1e-6;

/** A size wanted once, and another that may share its drum. */
interface Pair {
  single: number;
  other: number;
}

/** A class because it owns the kept model and changes it node by node. */
class Tree {
  readonly #sizes: readonly RunSize[];
  readonly #patterns: readonly ListedPattern[];
  readonly #drums: number;
  readonly #model: LinearModel;
  /** Which patterns are open in the model as it stands. */
  readonly #isOpen: Uint8Array<ArrayBuffer>;
  /** Patterns that have the size, by size. */
  readonly #with: number[][];

  constructor(
    sizes: readonly RunSize[],
    patterns: readonly ListedPattern[],
    drums: number,
    solver: LinearSolver,
  ) {
    this.#sizes = sizes;
    this.#patterns = patterns;
    this.#drums = drums;
    this.#isOpen = new Uint8Array(patterns.length).fill(1);
    this.#with = sizes.map(() => []);
    for (const [p, pattern] of patterns.entries())
      for (const size of pattern.sizes) this.#with[size]!.push(p);
    this.#model = solver.createModel(sizes.map(({ demand }) => ({ lower: demand, upper: demand })));
    this.#model.addColumns([
      ...sizes.map((_, size) => ({ cost: LACKING, rows: [size], values: [1] })),
      ...patterns.map((pattern) => ({ cost: 1, rows: pattern.sizes, values: pattern.counts })),
    ]);
  }

  search(shouldStop: () => boolean): Closed {
    const waiting = [this.#isOpen.slice()];
    while (waiting.length > 0) {
      if (shouldStop()) return { kind: "open" };
      const open = waiting.pop()!;
      this.#show(open);
      const solved = this.#model.solve();
      if (!solved) return { kind: "open" };
      if (this.#isDeadEnd(solved.duals, open)) continue;
      const times = solved.columns.subarray(this.#sizes.length);
      const plan = this.#planOf(times);
      if (plan && plan.length <= this.#drums) return { kind: "plan", drums: plan };
      const pair = this.#pairToBranch(times);
      if (!pair) return { kind: "open" };
      // Taken from the end: first both on one drum, which sooner leads to a plan.
      waiting.push(this.#branch(open, pair, false), this.#branch(open, pair, true));
    }
    return { kind: "none" };
  }

  #show(open: Uint8Array<ArrayBuffer>): void {
    for (let p = 0; p < open.length; p++) {
      if (open[p] === this.#isOpen[p]) continue;
      this.#isOpen[p] = open[p]!;
      this.#model.setColumnUpper(this.#sizes.length + p, open[p] ? Number.POSITIVE_INFINITY : 0);
    }
  }

  /** Proved by these duals that the open patterns make no plan? Else shuts those that no plan has. */
  #isDeadEnd(duals: Float64Array, open: Uint8Array<ArrayBuffer>): boolean {
    const worth = this.#sizes.map((_, size) => Math.floor(duals[size]! * SCALE));
    const need = this.#sizes.reduce((sum, { demand }, size) => sum + demand * worth[size]!, 0);
    const worths = new Float64Array(open.length);
    let greatest = 0;
    for (let p = 0; p < open.length; p++) {
      if (!open[p]) continue;
      const { sizes, counts } = this.#patterns[p]!;
      let sum = 0;
      for (let i = 0; i < sizes.length; i++) sum += counts[i]! * worth[sizes[i]!]!;
      worths[p] = sum;
      if (sum > greatest) greatest = sum;
    }
    if (need > this.#drums * greatest) return true;
    const least = need - (this.#drums - 1) * greatest;
    for (let p = 0; p < open.length; p++) if (open[p] && worths[p]! < least) open[p] = 0;
    return false;
  }

  #planOf(times: Float64Array): ListedPattern[] | undefined {
    const plan: ListedPattern[] = [];
    const left = this.#sizes.map(({ demand }) => demand);
    for (let p = 0; p < times.length; p++) {
      const whole = Math.round(times[p]!);
      if (Math.abs(times[p]! - whole) > TINY) return undefined;
      const pattern = this.#patterns[p]!;
      for (let n = 0; n < whole; n++) plan.push(pattern);
      for (const [i, size] of pattern.sizes.entries()) left[size]! -= whole * pattern.counts[i]!;
    }
    return left.every((count) => count === 0) ? plan : undefined;
  }

  /**
   * A size wanted once, and another that it shares a drum with in part. Of those the one with the fewest open patterns,
   * the nearer to half the better: both branches soon end.
   */
  #pairToBranch(times: Float64Array): Pair | undefined {
    let best: Pair | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (const [single, { demand }] of this.#sizes.entries()) {
      if (demand !== 1) continue;
      const together = new Map<number, number>();
      for (const p of this.#with[single]!) {
        if (times[p]! < TINY) continue;
        for (const other of this.#patterns[p]!.sizes) {
          if (other !== single) together.set(other, (together.get(other) ?? 0) + times[p]!);
        }
      }
      const open = this.#with[single]!.reduce((count, p) => count + this.#isOpen[p]!, 0);
      for (const [other, value] of together) {
        if (value < TINY || value > 1 - TINY) continue;
        const weight = open * (1 + 2 * Math.abs(value - 0.5));
        if (weight >= least) continue;
        least = weight;
        best = { single, other };
      }
    }
    return best;
  }

  /** Of the patterns with `single` only those with `other` too stay open, or only those without. */
  #branch(
    open: Uint8Array<ArrayBuffer>,
    { single, other }: Pair,
    isTogether: boolean,
  ): Uint8Array<ArrayBuffer> {
    const next = open.slice();
    for (const p of this.#with[single]!) {
      if (this.#patterns[p]!.sizes.includes(other) !== isTogether) next[p] = 0;
    }
    return next;
  }

  dispose(): void {
    this.#model.dispose();
  }
}
