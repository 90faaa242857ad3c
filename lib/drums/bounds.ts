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
 * Two families of f are used:
 *   material: f(s) = s, h(r) and v(r) = the largest sum of run sizes not above r (not r itself: a remnant of 8 m
 *     gives nothing when the shortest run is 9 m).
 *   Martello and Toth's L2, as a dual feasible function (Fekete and Schepers 2001) for a threshold a <= C/2:
 *     f(s) = C when s > C - a;  s when a <= s <= C - a;  0 when s < a.
 *     A drum of length r that carries j runs above C - a has at most r - B(j) left for the middle ones, B(j) being the
 *     sum of the j shortest of those large runs, so h(r) = max over j with B(j) <= r of  j C + m(r - B(j)),
 *     m(x) = x when x >= a, else 0 (no middle run is shorter than a). For r <= C this is at most C, which gives the
 *     classic bound when nothing is on hand; it holds for remnants and for drums longer than C alike.
 */
import type { PackingProblem } from "./packing";

export interface PurchaseBound {
  drums: number;
  priceMinor: number;
}

/** @returns whole drums and minor units of currency; 0 and 0 when nothing need be bought. */
export function purchaseBound(problem: PackingProblem): PurchaseBound {
  const longest = Math.max(0, ...problem.kinds.map((kind) => kind.capacityCm));
  // Runs that no kind can give are left out: they are cut from what is on hand or not at all.
  const sizes = problem.sizesCm.filter((size) => size <= longest).sort((a, b) => b - a);
  if (sizes.length === 0) return { drums: 0, priceMinor: 0 };
  const onHand = problem.onHand.map((stock) => stock.capacityCm);
  const kinds = problem.kinds.map((kind) => kind.capacityCm);
  const prices = problem.kinds.map((kind) => kind.priceMinor);

  const reach = reachableSums(sizes, Math.max(longest, ...onHand));
  const rows: Need[] = [
    { deficit: sum(sizes) - sum(onHand.map((r) => reach(r))), values: kinds.map((r) => reach(r)) },
  ];
  const thresholds = new Set(sizes.filter((size) => 2 * size <= longest));
  for (const size of sizes) if (2 * size > longest) thresholds.add(longest - size + 1);
  for (const a of thresholds)
    if (2 * a <= longest) rows.push(thresholdNeed(sizes, longest, a, onHand, kinds));

  let best: PurchaseBound = { drums: 0, priceMinor: 0 };
  for (const row of rows) {
    if (row.deficit <= 0) continue;
    const drums = Math.ceil(row.deficit / Math.max(...row.values));
    best = {
      drums: Math.max(best.drums, drums),
      priceMinor: Math.max(best.priceMinor, relaxedPrice(row, prices)),
    };
  }
  // The exact cover costs more time: only for the rows that promise most.
  const promising = rows.filter((row) => row.deficit > 0);
  promising.sort((a, b) => relaxedPrice(b, prices) - relaxedPrice(a, prices));
  for (const row of promising.slice(0, COVERED_ROWS)) {
    best = { ...best, priceMinor: Math.max(best.priceMinor, leastCover(row, prices, best.drums)) };
  }
  return best;
}

/** One inequality  sum of values(k) n(k) >= deficit  that every plan obeys. */
interface Need {
  deficit: number;
  values: readonly number[];
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

/** Least price of covering the deficit if drums could be bought in parts, rounded up to a whole minor unit. */
function relaxedPrice(need: Need, prices: readonly number[]): number {
  let least = Number.POSITIVE_INFINITY;
  for (const [k, value] of need.values.entries()) {
    if (value > 0) least = Math.min(least, (need.deficit * prices[k]!) / value);
  }
  return Math.ceil(least * (1 - 1e-12) - 1e-9); // never above the true value through rounding of doubles
}

const COVERED_ROWS = 3;
/** Most steps of the exact cover; above it the relaxed price stands. */
const COVER_STEPS = 20_000;

/** Least price of whole drums with  sum values n >= deficit  and at least `atLeast` of them. */
function leastCover(need: Need, prices: readonly number[], atLeast: number): number {
  const relaxed = relaxedPrice(need, prices);
  // A kind that adds nothing to the cover still counts towards the number of drums.
  const order = need.values
    .map((value, k) => ({ value, price: prices[k]! }))
    .sort((a, b) => a.price * b.value - b.price * a.value || b.value - a.value);
  let best = Number.POSITIVE_INFINITY;
  let steps = 0;
  const search = (k: number, deficit: number, count: number, price: number) => {
    if (steps++ > COVER_STEPS || price >= best) return;
    if (deficit <= 0 && count >= atLeast) {
      best = price;
      return;
    }
    const kind = order[k];
    if (!kind) return;
    const forCover = kind.value > 0 ? Math.ceil(deficit / kind.value) : 0;
    const most = Math.max(forCover, atLeast - count, 0);
    for (let n = most; n >= 0; n--)
      search(k + 1, deficit - n * kind.value, count + n, price + n * kind.price);
  };
  search(0, need.deficit, 0, 0);
  return steps > COVER_STEPS ? relaxed : Math.max(relaxed, best);
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
