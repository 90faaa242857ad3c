/**
 * The master of column generation (Gilmore and Gomory 1961, 1963): how often each pattern is cut, in fractions, so that
 * every run is covered at the least price. One column a pattern, made when the pricing (pricing.ts) finds that it helps.
 *
 *   min sum p(k) x(j)   sum of a(i, j) x(j) >= d(i) for every size i,   sum over the columns of class k <= u(k), x >= 0
 *
 * u(k) binds drums on hand; kinds that may be bought are unlimited. Patterns take no more runs of a size than are
 * wanted (proper patterns), which lifts the value.
 *
 * Lower bound (Farley 1990, with drums on hand): for any worths w(i) >= 0, V(k) the greatest worth that a drum of class
 * k can carry, N = sum d(i) w(i) - sum over drums on hand u(k) V(k). What the drums on hand do not carry must be bought,
 * so any whole plan pays at least min over kinds p(k) N / V(k). Worths are whole numbers (scaled duals, rounded down),
 * V is exact, the division is done in whole numbers: no rounding of doubles can lift the bound above the truth.
 */
import type { Random } from "@/lib/random";
import type { LinearModel, LinearSolver, WholeLimits } from "./linearSolver";
import { bestPatterns, type DrumClass, type Pattern, type RunSize } from "./pricing";

export interface PricedClass extends DrumClass {
  /** In steps: minor units over the greatest common divisor of the prices. 0 on hand. */
  price: number;
}

/** What is still to be cut, and the drums on hand that are left. */
export interface Residual {
  demand: Int32Array;
  supply: Float64Array;
}

export interface MasterSolution {
  /** Value of the relaxation over the columns so far, in steps of price; Infinity when they cannot cover the runs. */
  value: number;
  /** Times each column is cut. */
  columns: Float64Array;
  /** No whole plan for the residual pays less: steps of price. Infinity when there is none. */
  bound: number;
  /** The same worths, priced by number of drums. */
  drumsBound: number;
}

/** What a bound rests on. */
export interface Proof {
  /** Whole worth of one run of each size. */
  worth: Float64Array;
  /** Worth of all that is wanted, less what the drums on hand can carry. */
  need: number;
  /** Greatest worth of a drum, by class. */
  greatest: Float64Array;
}

export interface SolveUntil {
  /** The relaxation need not be improved once it is at or under this. */
  enough: number;
  /** Nor once no whole plan can be at or under this. */
  wanted: number;
  shouldStop: () => boolean;
}

/** A pattern must save this much, in steps, to become a column: above the solver's tolerance of 1e-7. */
const LEAST_GAIN = 1e-6;
/** Up to this share a demand is raised to look for other worths: little enough to leave the best ones best, or nearly so. */
const RAISE = 0.02;
/** New columns a pass, for each kind to buy and each class on hand. More make the program grow faster than it gains (measured). */
const COLUMNS_PER_KIND = 12;
const COLUMNS_ON_HAND = 1;

/** A class because it owns the kept model, which changes with every column and residual. */
export class Master {
  readonly sizes: readonly RunSize[];
  readonly classes: readonly PricedClass[];
  readonly patterns: Pattern[] = [];
  readonly #model: LinearModel;
  readonly #known = new Set<string>();
  /** Row of each class whose supply binds; -1 otherwise. */
  readonly #supplyRow: number[];
  /** Cost of leaving a run out: above any price that covering it can save. */
  readonly #lacking: number;
  #residual: Residual;
  /** Columns that take more of a size than is left are shut. */
  readonly #isShut: boolean[] = [];

  constructor(sizes: readonly RunSize[], classes: readonly PricedClass[], solver: LinearSolver) {
    this.sizes = sizes;
    this.classes = classes;
    let row = sizes.length;
    this.#supplyRow = classes.map((c) => (Number.isFinite(c.supply) ? row++ : -1));
    this.#residual = {
      demand: Int32Array.from(sizes, (size) => size.demand),
      supply: Float64Array.from(classes, (c) => c.supply),
    };
    this.#model = solver.createModel([
      ...sizes.map((size) => ({ lower: size.demand, upper: Number.POSITIVE_INFINITY })),
      ...classes
        .filter((c) => Number.isFinite(c.supply))
        .map((c) => ({ lower: Number.NEGATIVE_INFINITY, upper: c.supply })),
    ]);
    this.#lacking = 10 * classes.reduce((most, c) => Math.max(most, c.price), 1);
    // The first columns, one a size, stand for runs left out, so that there always is a solution.
    this.#model.addColumns(sizes.map((_, size) => ({ cost: this.#lacking, rows: [size], values: [1] })));
  }

  /** Everything that is wanted, and every drum. */
  get whole(): Residual {
    return {
      demand: Int32Array.from(this.sizes, (size) => size.demand),
      supply: Float64Array.from(this.classes, (c) => c.supply),
    };
  }

  /** Adds columns that are not there yet; @returns how many. */
  add(patterns: readonly Pattern[]): number {
    const fresh = patterns.filter((pattern) => {
      const key = `${pattern.drumClass}:${pattern.sizes.join()}:${pattern.counts.join()}`;
      if (this.#known.has(key)) return false;
      this.#known.add(key);
      return true;
    });
    this.#model.addColumns(
      fresh.map(({ drumClass, sizes, counts }) => {
        const row = this.#supplyRow[drumClass]!;
        return {
          cost: this.classes[drumClass]!.price,
          rows: row < 0 ? sizes : [...sizes, row],
          values: row < 0 ? counts : [...counts, 1],
        };
      }),
    );
    for (const pattern of fresh) {
      this.patterns.push(pattern);
      this.#isShut.push(false);
      this.#shutOrOpen(this.patterns.length - 1);
    }
    return fresh.length;
  }

  /** From now on only this much is to be cut, from these drums. */
  restrict(residual: Residual): void {
    const old = this.#residual;
    this.#residual = { demand: residual.demand.slice(), supply: residual.supply.slice() };
    for (const [size, demand] of residual.demand.entries()) {
      if (demand !== old.demand[size]) this.#model.setRow(size, demand, Number.POSITIVE_INFINITY);
    }
    for (const [k, row] of this.#supplyRow.entries()) {
      if (row >= 0 && residual.supply[k] !== old.supply[k])
        this.#model.setRow(row, Number.NEGATIVE_INFINITY, residual.supply[k]!);
    }
    for (let column = 0; column < this.patterns.length; column++) this.#shutOrOpen(column);
  }

  #shutOrOpen(column: number): void {
    const isShut = !fits(this.patterns[column]!, this.#residual);
    if (isShut === this.#isShut[column]) return;
    this.#isShut[column] = isShut;
    this.#model.setColumnUpper(this.sizes.length + column, isShut ? 0 : Number.POSITIVE_INFINITY);
  }

  /** Solves the relaxation, making columns until none helps or `until` is met. */
  solve(until: SolveUntil): MasterSolution {
    const none = new Float64Array(this.patterns.length);
    const best: MasterSolution = { value: Number.POSITIVE_INFINITY, columns: none, bound: 0, drumsBound: 0 };
    for (;;) {
      const solved = this.#model.solve();
      if (!solved) return best;
      best.columns = solved.columns.subarray(this.sizes.length);
      const lacking = sum(solved.columns.subarray(0, this.sizes.length));
      best.value = lacking > 1e-6 ? Number.POSITIVE_INFINITY : solved.value;
      if (best.value <= until.enough + LEAST_GAIN || until.shouldStop()) return best;
      const { bound, drumsBound, patterns } = this.#price(solved.duals);
      best.bound = Math.max(best.bound, bound);
      best.drumsBound = Math.max(best.drumsBound, drumsBound);
      if (best.bound > until.wanted || Math.ceil(best.value - LEAST_GAIN) <= best.bound) return best;
      if (this.add(patterns) === 0) return best;
    }
  }

  /** Bound, and patterns that would help, by the duals of the rows. */
  #price(duals: Float64Array): { bound: number; drumsBound: number; patterns: Pattern[]; proof: Proof } {
    const { demand, supply } = this.#residual;
    // All that is wanted adds up to some 2^40, and with up to 2^12 drums on hand no sum leaves what doubles hold exactly.
    const total = demand.reduce((sum, wanted, size) => sum + wanted * Math.max(0, duals[size]!), 1);
    const scale = 2 ** (40 - Math.ceil(Math.log2(total)));
    const worth = Float64Array.from(this.sizes, (_, size) => Math.max(0, Math.floor(duals[size]! * scale)));
    const above = Float64Array.from(this.classes, (c, k) => {
      const row = this.#supplyRow[k]!;
      if (supply[k] === 0) return Number.POSITIVE_INFINITY;
      return (c.price - (row < 0 ? 0 : Math.min(0, duals[row]!)) + LEAST_GAIN) * scale;
    });
    const { greatest, patterns } = bestPatterns(this.sizes, this.classes, worth, demand, {
      above,
      most: this.classes.map((c) => (Number.isFinite(c.supply) ? COLUMNS_ON_HAND : COLUMNS_PER_KIND)),
    });
    let need = 0;
    for (const [size, each] of worth.entries()) need += each * demand[size]!;
    for (const [k, row] of this.#supplyRow.entries()) if (row >= 0) need -= supply[k]! * greatest[k]!;
    const kinds = this.classes.flatMap((c, k) => (this.#supplyRow[k]! < 0 ? [{ ...c, k }] : []));
    const least = (priceOf: (c: PricedClass) => number) =>
      leastPurchase(
        need,
        kinds.map((kind) => ({ price: priceOf(kind), worth: greatest[kind.k]! })),
      );
    return {
      bound: least((c) => c.price),
      drumsBound: least(() => 1),
      patterns,
      proof: { worth, need, greatest },
    };
  }

  /**
   * Worths between several that are all the best: those of the relaxation with each demand a little raised, at random,
   * added up. Where the best worths are not the only ones, a corner of them makes many patterns look like the best that
   * only happen to lie on its face; the middle tells them apart.
   * @returns undefined when it was told to stop
   */
  sharpen(count: number, random: Random, shouldStop: () => boolean): Proof | undefined {
    const { demand } = this.#residual;
    const worth = new Float64Array(this.sizes.length);
    for (let k = 0; k < count; k++) {
      for (const [size, wanted] of demand.entries()) {
        this.#model.setRow(size, wanted * (1 + RAISE * random.next()), Number.POSITIVE_INFINITY);
      }
      for (let added = 1; added > 0; ) {
        const solved = this.#model.solve();
        if (!solved || shouldStop()) return undefined;
        added = this.add(this.#price(solved.duals).patterns);
        if (added === 0)
          for (const [size, dual] of solved.duals.subarray(0, worth.length).entries()) worth[size]! += dual;
      }
    }
    for (const [size, wanted] of demand.entries()) this.#model.setRow(size, wanted, Number.POSITIVE_INFINITY);
    const middle = new Float64Array(this.sizes.length + this.classes.length);
    for (const [size, total] of worth.entries()) middle[size] = total / count;
    return this.#price(middle).proof;
  }

  /** The best whole-numbered use of the columns so far for the residual, or undefined. */
  solveWhole(limits: WholeLimits): Float64Array | undefined {
    const columns = this.#model.solveWhole(limits);
    if (!columns || sum(columns.subarray(0, this.sizes.length)) > 0.5) return undefined;
    return columns.subarray(this.sizes.length);
  }

  dispose(): void {
    this.#model.dispose();
  }
}

/** Whether a pattern takes no more than is left, from a drum that is left. */
export function fits(pattern: Pattern, residual: Residual): boolean {
  if (residual.supply[pattern.drumClass]! < 1) return false;
  for (let i = 0; i < pattern.sizes.length; i++) {
    if (pattern.counts[i]! > residual.demand[pattern.sizes[i]!]!) return false;
  }
  return true;
}

/** min over kinds of ceil(price * need / worth), in whole numbers; Infinity when something is needed and nothing helps. */
export function leastPurchase(need: number, kinds: readonly { price: number; worth: number }[]): number {
  if (need <= 0) return 0;
  let least = Number.POSITIVE_INFINITY;
  for (const { price, worth } of kinds) {
    if (worth <= 0) continue;
    const divisor = BigInt(worth);
    least = Math.min(least, Number((BigInt(price) * BigInt(need) + divisor - 1n) / divisor));
  }
  return least;
}

function sum(values: Float64Array): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
