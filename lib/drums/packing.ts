/**
 * The cutting problem of one cable code in dense numbers, and a plan for it under edit.
 *
 * This is the seam between the trade (drums.ts) and the method (assign.ts): a method gets a `PackingProblem`
 * and gives back which drum each run is cut from. Another method, such as column generation over the
 * drum classes, needs to know nothing else.
 */

/** A drum that exists, or one of a kind that may be bought. Day numbers count from any common origin. */
export interface Stock {
  /** Length that may still be cut, cm, saw allowances included. */
  capacityCm: number;
  availableDay: number;
  /** Price, 0 for a drum on hand. */
  priceMinor: number;
  /** Is it uncut? An uncut drum that stays so is neither scrap nor part-used. */
  isUncut: boolean;
  /** Its place among those that want runs; absent = it is wherever it is wanted. */
  place?: number;
  /** Calendar days from `availableDay` to each of those places, 0 to its own; Infinity = nothing is sent there. Given wherever `place` is. */
  daysOver?: readonly number[];
}

export interface PackingProblem {
  /** Run length + saw allowance, cm. Largest first. */
  sizesCm: readonly number[];
  /** Day from which a run is late, as day number; never before today. */
  needDays: readonly number[];
  /** Link end of each run, dense: runs of one end are best cut from one drum. */
  ends: readonly number[];
  /** Place that wants each run, dense; -1 = any. Absent = places are left aside. */
  places?: readonly number[];
  /** Drums on hand or on order. */
  onHand: readonly Stock[];
  /** Kinds that may be bought, any number of each; with places one for each place that it can be delivered to. */
  kinds: readonly Stock[];
  minUsefulCm: number;
}

/** Drum of each run: 0 .. onHand.length-1 on hand, above that `bought[index - onHand.length]`; -1 = uncut. */
export interface Assignment {
  drumOf: readonly number[];
  /** Index into `kinds` of each bought drum. None is empty. */
  bought: readonly number[];
}

/** Terms in the order in which they count (docs/methods/drums.md). Less is better. */
export type Cost = readonly [
  uncutRuns: number,
  lateRuns: number,
  lateDays: number,
  priceMinor: number,
  boughtDrums: number,
  /** Runs cut at another place than the one that wants them. */
  sentRuns: number,
  /** Uncut drums on hand that are cut into: remnants come first. */
  openedDrums: number,
  scrapCm: number,
  partUsedDrums: number,
  splitEnds: number,
];

/** Day on which a piece of the drum is where the run is wanted; Infinity = never. */
export function dayFor({ places }: Pick<PackingProblem, "places">, stock: Stock, run: number): number {
  const place = stock.daysOver ? places![run]! : -1;
  return place < 0 ? stock.availableDay : stock.availableDay + stock.daysOver![place]!;
}

export function isSent({ places }: Pick<PackingProblem, "places">, stock: Stock, run: number): boolean {
  return stock.daysOver !== undefined && places![run]! >= 0 && places![run] !== stock.place;
}

/** For each kind the first that differs from it by nothing but its place. */
export function alikeKinds({ kinds }: Pick<PackingProblem, "kinds">): number[] {
  return kinds.map((kind) =>
    kinds.findIndex(
      (other) =>
        other.capacityCm === kind.capacityCm &&
        other.priceMinor === kind.priceMinor &&
        other.availableDay === kind.availableDay,
    ),
  );
}

/** The kinds without their places: one of each that are alike. */
export function distinctKinds(problem: Pick<PackingProblem, "kinds">): number[] {
  return alikeKinds(problem).flatMap((first, kind) => (first === kind ? [kind] : []));
}

/** Of the kinds alike `kind` the one whose drum serves these runs best: fewest late, fewest days late, fewest sent. */
export function kindFor(problem: PackingProblem, kind: number, runs: readonly number[]): number {
  if (!problem.places) return kind;
  const alike = alikeKinds(problem);
  let best = kind;
  let least: readonly number[] | undefined;
  for (const [other, first] of alike.entries()) {
    if (first !== alike[kind]) continue;
    const cost = servingCost(problem, problem.kinds[other]!, runs);
    if (least && compareCost(cost, least) >= 0) continue;
    least = cost;
    best = other;
  }
  return best;
}

function servingCost(problem: PackingProblem, stock: Stock, runs: readonly number[]): number[] {
  let late = 0;
  let lateDays = 0;
  let sent = 0;
  for (const run of runs) {
    const days = dayFor(problem, stock, run) - problem.needDays[run]!;
    if (days > 0) {
      late++;
      lateDays += days;
    }
    if (isSent(problem, stock, run)) sent++;
  }
  return [late, lateDays, sent];
}

/** Negative when `a` is better. Lexicographic. */
export function compareCost(a: readonly number[], b: readonly number[]): number {
  for (let k = 0; k < a.length; k++) {
    const d = a[k]! - b[k]!;
    if (d !== 0) return d;
  }
  return 0;
}

/**
 * What is left of a drum, as two of the cost terms. A part-used drum that lies untouched counts as what it is, so that
 * using a short remnant up lowers the cost instead of raising it.
 */
export function leftoverCost(
  stock: Stock,
  loadCm: number,
  minUsefulCm: number,
): { scrap: number; partUsed: number } {
  const left = stock.capacityCm - loadCm;
  if (left === 0 || (loadCm === 0 && stock.isUncut)) return { scrap: 0, partUsed: 0 };
  return left < minUsefulCm ? { scrap: left, partUsed: 0 } : { scrap: 0, partUsed: 1 };
}

export function stockAt(problem: PackingProblem, bought: readonly number[], drum: number): Stock {
  return drum < problem.onHand.length
    ? problem.onHand[drum]!
    : problem.kinds[bought[drum - problem.onHand.length]!]!;
}

/** The whole cost, from nothing. The improvement keeps its own running figures; tests hold the two together. */
export function costOf(problem: PackingProblem, assignment: Assignment): Cost {
  const drumCount = problem.onHand.length + assignment.bought.length;
  const load = new Array<number>(drumCount).fill(0);
  const drumsOfEnd = new Map<number, Set<number>>();
  let uncut = 0;
  let late = 0;
  let lateDays = 0;
  let sent = 0;
  for (const [run, drum] of assignment.drumOf.entries()) {
    if (drum < 0) {
      uncut++;
      continue;
    }
    load[drum]! += problem.sizesCm[run]!;
    const stock = stockAt(problem, assignment.bought, drum);
    if (isSent(problem, stock, run)) sent++;
    const days = dayFor(problem, stock, run) - problem.needDays[run]!;
    if (days > 0) {
      late++;
      lateDays += days;
    }
    const end = problem.ends[run]!;
    drumsOfEnd.set(end, (drumsOfEnd.get(end) ?? new Set<number>()).add(drum));
  }
  let price = 0;
  let boughtCount = 0;
  let opened = 0;
  let scrap = 0;
  let partUsed = 0;
  for (let drum = 0; drum < drumCount; drum++) {
    const stock = stockAt(problem, assignment.bought, drum);
    if (drum >= problem.onHand.length) {
      if (load[drum] === 0) continue;
      price += stock.priceMinor;
      boughtCount++;
    } else if (stock.isUncut && load[drum]! > 0) opened++;
    const left = leftoverCost(stock, load[drum]!, problem.minUsefulCm);
    scrap += left.scrap;
    partUsed += left.partUsed;
  }
  let split = 0;
  for (const drums of drumsOfEnd.values()) split += drums.size - 1;
  return [uncut, late, lateDays, price, boughtCount, sent, opened, scrap, partUsed, split];
}
