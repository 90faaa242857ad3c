/**
 * Least purchase that any plan needs, so that the plan found can say how far from it it is.
 *
 * Let f be a function of the run size with these two properties, C being the longest kind that may be bought:
 *   (1) any set of runs that fits a bought drum of kind k has total f at most v(k) <= F,
 *   (2) any set of runs that fits drum d on hand has total f at most h(d).
 * In any plan that cuts all the runs, each lies on one drum, so  sum of f over all runs
 *   = sum over bought drums + sum over drums on hand  <=  sum of v(k) n(k)  +  sum of h(d).
 * Hence  sum over kinds of v(k) n(k) >= D := sum f - sum h.  At least ceil(D / max v) drums are bought, and the least
 * price of a purchase with sum v n >= D is a lower bound on the price. Leaving runs or dates out of account only
 * lets more plans in, so both bounds stay true when they do.
 *
 * Three families of rows are used:
 *   material: f(s) = s, h(r) and v(r) = the largest sum of run sizes not above r (not r itself: a remnant of 8 m
 *     gives nothing when the shortest run is 9 m).
 *   dated material: in a plan with at most L late runs, all but L of the runs needed by day t are cut from drums that
 *     are available by t. So the same inequality holds with the sum over those runs less their L largest sizes, the
 *     drums on hand by t, and v(k) = 0 for a kind that comes later. (The sums reached by fewer runs are among those
 *     reached by all, so h and v stay upper bounds.)
 *     With places the same holds for the runs of each place alone, with the drums whose pieces are there by t.
 *   Martello and Toth's L2, as a dual feasible function (Fekete and Schepers 2001) for a threshold a <= C/2:
 *     f(s) = C when s > C - a;  s when a <= s <= C - a;  0 when s < a.
 *     A drum of length r that carries j runs above C - a has at most r - B(j) left for the middle ones, B(j) being the
 *     sum of the j shortest of those large runs, so h(r) = max over j with B(j) <= r of  j C + m(r - B(j)),
 *     m(x) = x when x >= a, else 0 (no middle run is shorter than a). For r <= C this is at most C, which gives the
 *     classic bound when nothing is on hand; it holds for remnants and for drums longer than C alike.
 */
import { dayFor, distinctKinds, type PackingProblem } from "./packing";

export interface PurchaseBound {
  drums: number;
  priceMinor: number;
}

/**
 * What every plan with at most `mostLate` late runs buys at least. Without `mostLate` dates are left aside.
 * @returns whole drums and minor units of currency; 0 and 0 when nothing need be bought
 */
export function purchaseBound(
  placed: PackingProblem,
  mostLate: number = Number.POSITIVE_INFINITY,
): PurchaseBound {
  // Where a drum to buy is delivered is left aside, which only lets more plans in: at its own place it comes first.
  const problem = { ...placed, kinds: distinctKinds(placed).map((kind) => placed.kinds[kind]!) };
  const longest = Math.max(0, ...problem.kinds.map((kind) => kind.capacityCm));
  // Runs that no kind can give are left out: they are cut from what is on hand or not at all.
  const runs = [...problem.sizesCm.keys()].filter((run) => problem.sizesCm[run]! <= longest);
  if (runs.length === 0) return { drums: 0, priceMinor: 0 };
  const sizes = runs.map((run) => problem.sizesCm[run]!).sort((a, b) => b - a);
  const onHand = problem.onHand.map((stock) => stock.capacityCm);
  const kinds = problem.kinds.map((kind) => kind.capacityCm);
  const prices = problem.kinds.map((kind) => kind.priceMinor);

  const reach = reachableSums(sizes, Math.max(longest, ...onHand));
  const rows: Need[] = [
    { deficit: sum(sizes) - sum(onHand.map((r) => reach(r))), values: kinds.map((r) => reach(r)) },
    ...datedNeeds(problem, runs, mostLate, reach),
  ];
  const thresholds = new Set(sizes.filter((size) => 2 * size <= longest));
  for (const size of sizes) if (2 * size > longest) thresholds.add(longest - size + 1);
  for (const a of thresholds)
    if (2 * a <= longest) rows.push(thresholdNeed(sizes, longest, a, onHand, kinds));

  const drums = leastCover(
    rows,
    kinds.map(() => 1),
  );
  const enough = { deficit: drums, values: kinds.map(() => 1) };
  return { drums, priceMinor: leastCover([...rows, enough], prices) };
}

/** One inequality  sum of values(k) n(k) >= deficit  that every plan obeys. */
interface Need {
  deficit: number;
  values: readonly number[];
}

/** For each set of kinds that can have come by some day, the day that asks most of them. */
function datedNeeds(
  problem: PackingProblem,
  runs: readonly number[],
  mostLate: number,
  reach: (r: number) => number,
): Need[] {
  if (!Number.isFinite(mostLate)) return [];
  const best = new Map<string, Need>();
  const bySize = [...runs].sort((a, b) => problem.sizesCm[b]! - problem.sizesCm[a]!);
  const carries = problem.onHand.map((stock) => reach(stock.capacityCm));
  const values = problem.kinds.map((kind) => reach(kind.capacityCm));
  for (const own of [bySize, ...runsByPlace(problem, bySize)]) {
    for (const day of new Set(own.map((run) => problem.needDays[run]!))) {
      let deficit = 0;
      let spared = 0; // the longest may be the late ones
      const needed = own.filter((run) => problem.needDays[run]! <= day);
      for (const run of needed) {
        if (spared < mostLate) spared++;
        else deficit += problem.sizesCm[run]!;
      }
      for (const [drum, stock] of problem.onHand.entries()) {
        const isThere = stock.daysOver
          ? needed.some((run) => dayFor(problem, stock, run) <= day)
          : stock.availableDay <= day;
        if (isThere) deficit -= carries[drum]!;
      }
      const byThen = values.map((value, kind) => (problem.kinds[kind]!.availableDay <= day ? value : 0));
      const key = byThen.join();
      if (deficit > (best.get(key)?.deficit ?? 0)) best.set(key, { deficit, values: byThen });
    }
  }
  return [...best.values()];
}

/** The runs that each place wants, in the order given; none where places are left aside. */
function runsByPlace({ places }: PackingProblem, runs: readonly number[]): number[][] {
  const by = new Map<number, number[]>();
  for (const run of places ? runs : []) by.set(places![run]!, [...(by.get(places![run]!) ?? []), run]);
  return by.size > 1 ? [...by.values()] : [];
}

function thresholdNeed(
  sizes: readonly number[],
  longest: number,
  a: number,
  onHand: readonly number[],
  kinds: readonly number[],
): Need {
  let total = 0;
  let middle = 0;
  const large: number[] = [];
  for (const size of sizes) {
    if (size > longest - a) {
      large.push(size);
      total += longest;
    } else if (size >= a) {
      total += size;
      middle += size;
    }
  }
  large.reverse(); // shortest first
  const carries = (r: number): number => {
    let used = 0;
    let best = 0;
    for (let j = 0; ; j++) {
      const room = r - used;
      best = Math.max(best, j * longest + (room >= a ? Math.min(room, middle) : 0));
      if (j >= large.length || used + large[j]! > r) return best;
      used += large[j]!;
    }
  };
  return { deficit: total - sum(onHand.map(carries)), values: kinds.map(carries) };
}

/** Least price of one unit of a row if drums could be bought in parts, of the kinds from `first` on; Infinity = none gives any. */
function unitPrice(values: readonly number[], prices: readonly number[], first: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let k = first; k < values.length; k++) {
    if (values[k]! > 0) least = Math.min(least, prices[k]! / values[k]!);
  }
  return least;
}

/** The price of covering a deficit at that, rounded up to a whole minor unit. */
function relaxedPrice(deficit: number, unit: number): number {
  return deficit <= 0 ? 0 : Math.ceil(deficit * unit * (1 - 1e-12) - 1e-9); // never above the true value through rounding of doubles
}

/** Rows that go into the exact cover: those that ask for most; the others only count alone. */
const COVERED_ROWS = 6;
/** Most steps of the exact cover; above it the best single row stands. */
const COVER_STEPS = 20_000;

/** Least price of whole drums that meet the rows. Prices of 1 give the least number of drums. */
function leastCover(rows: readonly Need[], prices: readonly number[]): number {
  const asking = rows
    .filter((row) => row.deficit > 0 && row.values.some((value) => value > 0))
    .map((row) => ({ ...row, alone: relaxedPrice(row.deficit, unitPrice(row.values, prices, 0)) }))
    .sort((a, b) => b.alone - a.alone);
  if (asking.length === 0) return 0;
  const alone = asking[0]!.alone;
  // Of each set of kinds the row that asks most, then the rest.
  const pattern = (row: Need) => row.values.map((value) => (value > 0 ? 1 : 0)).join("");
  const isFirst = asking.map((row, i) => asking.findIndex((other) => pattern(other) === pattern(row)) === i);
  const covered = [...asking.filter((_, i) => isFirst[i]), ...asking.filter((_, i) => !isFirst[i])].slice(
    0,
    COVERED_ROWS,
  );

  const units = covered.map(({ values }) => [...prices, 0].map((_, k) => unitPrice(values, prices, k)));
  const isHopeless = (k: number, deficits: readonly number[], price: number): boolean => {
    for (let i = 0; i < deficits.length; i++) {
      if (price + relaxedPrice(deficits[i]!, units[i]![k]!) >= best) return true;
    }
    return false;
  };
  let best = Number.POSITIVE_INFINITY;
  let steps = 0;
  const search = (k: number, deficits: readonly number[], price: number) => {
    if (steps++ > COVER_STEPS || price >= best || isHopeless(k, deficits, price)) return;
    let most = 0;
    let isCovered = true;
    for (let i = 0; i < deficits.length; i++) {
      if (deficits[i]! <= 0) continue;
      isCovered = false;
      const value = covered[i]!.values[k] ?? 0;
      if (value > 0) most = Math.max(most, Math.ceil(deficits[i]! / value));
    }
    if (isCovered) best = price;
    if (isCovered || k === prices.length) return;
    for (let n = most; n >= 0; n--) {
      const left = deficits.map((deficit, i) => deficit - n * covered[i]!.values[k]!);
      search(k + 1, left, price + n * prices[k]!);
    }
  };
  search(
    0,
    covered.map((row) => row.deficit),
    0,
  );
  return steps > COVER_STEPS || best === Number.POSITIVE_INFINITY ? alone : Math.max(alone, best);
}

/** Largest sum of a subset of `sizes` not above r, for any r up to `most`. Bits of a word array, one shift-or per size. */
export function reachableSums(sizes: readonly number[], most: number): (r: number) => number {
  const words = new Uint32Array((most >>> 5) + 1);
  words[0] = 1;
  for (const size of sizes) {
    const byWords = size >>> 5;
    const byBits = size & 31;
    for (let w = words.length - 1; w >= byWords; w--) {
      const low = words[w - byWords]!;
      const carry = byBits > 0 && w > byWords ? words[w - byWords - 1]! >>> (32 - byBits) : 0;
      words[w]! |= (low << byBits) | carry;
    }
  }
  return (r) => {
    for (let s = Math.min(r, most); s > 0; s--) {
      if ((words[s >>> 5]! >>> (s & 31)) & 1) return s;
    }
    return 0;
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
