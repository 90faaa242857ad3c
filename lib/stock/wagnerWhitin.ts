/** The least total of order and holding cost over a horizon, in a time that grows with its length only. */

/** Where nothing is wanted; below is the rounding of doubles. */
const TOLERANCE = 1e-9;

export interface Lot {
  /** Day it must arrive. */
  day: number;
  quantity: number;
}

/**
 * Wagner-Whitin: least total of order and holding cost, exactly, by dynamic programming over the period of the last
 * order. Where several plans cost the same, the one with the later last order is given.
 *
 * With F(t) the least cost of the periods before t, D and M the sums of d and of k d(k) over them, an order in j that
 * covers j..t costs F(j) + K(j) + h (M(t+1) - M(j)) - h j (D(t+1) - D(j)): a straight line in D(t+1) with slope -h j.
 * D only rises and later orders have the steeper fall, so the lower envelope of the lines is walked once: linear time
 * (Wagelmans, van Hoesel and Kolen 1992, from memory; here forward in time). A longest cover lets lines drop out at the
 * early end, which an envelope cannot forget; so the periods are cut into blocks as long as the cover. An order that
 * still reaches t lies in t's block, whose envelope grows, or in the one before, whose envelope is built backwards.
 *
 * @param demand        per period, >= 0
 * @param orderCost     per order, one figure or one per period
 * @param holdingCost   per unit and period carried over, >= 0
 * @param mostPeriods   longest cover in periods, from the shelf life; >= 1
 * @returns the lots, their cost, and the least cost of covering periods 0..t for each t
 * @throws RangeError on a cover below one period or a holding cost below 0
 * Source: Wagner and Whitin 1958.
 */
export function wagnerWhitin(
  demand: readonly number[],
  orderCost: number | readonly number[],
  holdingCost: number,
  mostPeriods = Number.POSITIVE_INFINITY,
): { lots: Lot[]; cost: number; costThrough: number[] } {
  if (!(mostPeriods >= 1)) throw new RangeError(`a lot must cover at least 1 period, got ${mostPeriods}`);
  if (!(holdingCost >= 0)) throw new RangeError(`holding cost must be >= 0, got ${holdingCost}`);
  const n = demand.length;
  const wanted = new Float64Array(n + 1);
  const moment = new Float64Array(n + 1);
  for (const [t, d] of demand.entries()) {
    wanted[t + 1] = wanted[t]! + d;
    moment[t + 1] = moment[t]! + t * d;
  }
  const least = new Float64Array(n + 1);
  const from = new Int32Array(n).fill(-1);
  const block = Math.max(1, Math.min(n, Math.floor(mostPeriods)));
  const start = (j: number) => least[j]! + costAt(orderCost, j) + holdingCost * (j * wanted[j]! - moment[j]!);

  /** For each period of the block from `first`, the best order in the block before that still reaches it. */
  const reaching = (first: number, end: number): Int32Array => {
    const best = new Int32Array(end - first).fill(-1);
    const envelope = new Envelope();
    let j = first; // next to add is j - 1
    for (let t = end - 1; t >= first; t--) {
      for (const oldest = Math.max(0, t - block + 1); j > oldest; ) {
        j--;
        envelope.add(j, start(j), holdingCost * j);
      }
      best[t - first] = envelope.least(-wanted[t + 1]!);
    }
    return best;
  };

  for (let first = 0; first < n; first += block) {
    const end = Math.min(n, first + block);
    const earlier = reaching(first, end);
    const envelope = new Envelope();
    for (let t = first; t < end; t++) {
      const x = wanted[t + 1]!;
      envelope.add(t, start(t), -holdingCost * t);
      if (demand[t]! <= TOLERANCE) {
        least[t + 1] = least[t]!; // nothing is wanted in t, so nothing need cover it
        continue;
      }
      const costOf = (j: number) => start(j) + holdingCost * (moment[t + 1]! - j * x);
      const within = envelope.least(x);
      const before = earlier[t - first]!;
      from[t] = before >= 0 && costOf(before) < costOf(within) ? before : within;
      least[t + 1] = costOf(from[t]!);
    }
  }
  return { lots: lotsBack(demand, from), cost: least[n]!, costThrough: [...least.subarray(1)] };
}

function lotsBack(demand: readonly number[], from: Int32Array): Lot[] {
  const lots: Lot[] = [];
  for (let t = demand.length - 1; t >= 0; ) {
    const j = from[t]!;
    if (j < 0) {
      t--;
      continue;
    }
    let quantity = 0;
    for (let k = j; k <= t; k++) quantity += demand[k]!;
    lots.push({ day: j, quantity });
    t = j - 1;
  }
  return lots.reverse();
}

/** Lower envelope of lines added in order of falling slope and asked at rising x. A class because it grows and is used up. */
class Envelope {
  readonly #periods: number[] = [];
  readonly #starts: number[] = [];
  readonly #slopes: number[] = [];
  #first = 0;

  add(period: number, start: number, slope: number): void {
    while (this.#periods.length > this.#first && this.#isNeedless(start, slope)) {
      this.#periods.pop();
      this.#starts.pop();
      this.#slopes.pop();
    }
    this.#periods.push(period);
    this.#starts.push(start);
    this.#slopes.push(slope);
  }

  /** Is the last line nowhere below both the one before it and the new one? */
  #isNeedless(start: number, slope: number): boolean {
    const last = this.#periods.length - 1;
    if (this.#slopes[last] === slope) return start <= this.#starts[last]!;
    if (last === this.#first) return false;
    const [a, s] = [this.#starts[last - 1]!, this.#slopes[last - 1]!];
    return (start - a) * (s - this.#slopes[last]!) <= (this.#starts[last]! - a) * (s - slope);
  }

  /** Period of the lowest line at x, of equals the one added last; -1 when there is none. */
  least(x: number): number {
    if (this.#first >= this.#periods.length) return -1;
    const at = (k: number) => this.#starts[k]! + this.#slopes[k]! * x;
    while (this.#first + 1 < this.#periods.length && at(this.#first + 1) <= at(this.#first)) this.#first++;
    return this.#periods[this.#first]!;
  }
}

export function costAt(orderCost: number | readonly number[], period: number): number {
  return typeof orderCost === "number" ? orderCost : orderCost[period]!;
}
