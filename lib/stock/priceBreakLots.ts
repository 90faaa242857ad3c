/** Lots where the price of a whole order falls at certain quantities: order, holding and purchase cost together. */
import type { PriceBreakCosts } from "./types";
import type { Lot } from "./wagnerWhitin";

/** Above this many steps of the whole need the steps are doubled: the table takes memory and time. */
const MOST_STEPS = 1_000_000;
/** Rounding of doubles, in steps. */
const TOLERANCE = 1e-6;

/**
 * All-units quantity discounts within the lot sizing, exactly on the grid of order steps.
 *
 * With discounts a lot need not end where the next begins: it may be just large enough for a price. So the dynamic
 * program is over the quantity X ordered so far, in steps. Holding costs, so an order is placed only on the first day
 * whose need X does not cover: each X has one such day k, and
 * W(X) = K + least over prices p from b on, and Y >= X + b that cover day k, of p (Y - X) + what Y holds from k to its own
 * day + W(Y). What Y holds is linear in Y, with a slope that grows as days go back; so for each price the best Y is the
 * lowest of a family of straight lines, asked with ever steeper slopes (a convex hull with a moving pointer): steps x
 * prices in all. What is ordered beyond the last need has no value, and is bought only where it makes the whole cheaper.
 *
 * @param demand      per day, >= 0
 * @param mostPeriods longest cover in days, from the shelf life; then nothing is ordered beyond what it covers, and each
 *                    day looks through what it may reach
 * Where the least order is more than the shelf life lets be used it is ordered all the same, as if the item kept.
 *
 * @returns the lots, and their order, holding and purchase cost
 * @throws RangeError on no price, a price that rises with the quantity, or a step not above 0
 * Source: Federgruen and Lee 1990 for the problem (from memory); the table is this project's.
 */
export function priceBreakLots(
  demand: readonly number[],
  costs: PriceBreakCosts,
  mostPeriods = Number.POSITIVE_INFINITY,
): { lots: Lot[]; cost: number } {
  const { orderCost, holdingPerDay, breaks, step } = costs;
  const prices = pricesByStep(breaks, step);
  const days = [...demand.keys()].filter((day) => demand[day]! > step * TOLERANCE);
  if (days.length === 0) return { lots: [], cost: 0 };
  let sum = 0;
  /** Needed through each day with a need, and the steps that must have been ordered for it. */
  const through = days.map((day) => (sum += demand[day]!));
  const required = through.map((total) => Math.ceil(total / step - TOLERANCE));
  const needed = required.at(-1)!;
  const keeps = !Number.isFinite(mostPeriods);
  // Without a shelf life, up to the dearest break more than is needed can pay.
  const width = needed + (keeps ? prices.at(-1)!.from : 0) + 1;
  if (width > MOST_STEPS) return priceBreakLots(demand, { ...costs, step: 2 * step }, mostPeriods);

  const best = keeps ? prices.map(() => new LowestLine(width)) : [];
  const ordered = new Int32Array(width); // Y by X
  const value = new Float64Array(width); // W by X, less what its quantity holds from its own day to the end
  // Sums from the day to the end: what a step in stock holds, and the part of it that is used up before.
  let slope = 0;
  let used = 0;
  for (let k = days.length - 1; k >= 0; k--) {
    const carried = ((days[k + 1] ?? demand.length) - days[k]!) * holdingPerDay;
    slope += carried * step;
    used += carried * through[k]!;
    const covered = required[k]!;
    const from = k > 0 ? required[k - 1]! : 0;
    const most = keeps ? width - 1 : required[days.findLastIndex((day) => day < days[k]! + mostPeriods)]!;
    value.fill(Number.POSITIVE_INFINITY, from, covered);
    for (const [i, { from: least, priceOfStep }] of prices.entries()) {
      const steep = priceOfStep + slope;
      let y = most;
      let bestValue = Number.POSITIVE_INFINITY;
      let bestY = -1;
      for (let x = covered - 1; x >= from; x--) {
        const lowest = Math.max(covered, x + least);
        const lines = best[i];
        if (lines) {
          lines.addDownTo(lowest, value);
          bestY = lines.lowestAt(steep);
          bestValue = bestY < 0 ? Number.POSITIVE_INFINITY : value[bestY]! + steep * bestY;
        } else {
          for (; y >= lowest; y--) {
            const at = value[y]! + steep * y;
            if (at > bestValue) continue;
            bestValue = at;
            bestY = y;
          }
        }
        const cost = orderCost + bestValue - priceOfStep * x - used;
        if (cost >= value[x]!) continue;
        value[x] = cost;
        ordered[x] = bestY;
      }
    }
    // From here on only read as the end of a lot of an earlier day: what is held until this day comes off.
    for (let x = from; x < covered; x++) value[x]! += used - slope * x;
  }
  const cost = value[0]! - used;
  if (!Number.isFinite(cost)) return priceBreakLots(demand, costs);
  const lots: Lot[] = [];
  let x = 0;
  for (const [k, day] of days.entries()) {
    if (x >= required[k]!) continue;
    const y = ordered[x]!;
    lots.push({ day, quantity: (y - x) * step });
    x = y;
  }
  return { lots, cost };
}

/**
 * The lowest of the lines `values[y] + steep y` over the y added so far, which come in falling order, asked with ever
 * greater `steep`: a line that another has passed is never the lowest again.
 */
class LowestLine {
  readonly #ys: Int32Array;
  readonly #values: Float64Array;
  #head = 0;
  #size = 0;
  #next: number;

  constructor(width: number) {
    this.#ys = new Int32Array(width);
    this.#values = new Float64Array(width);
    this.#next = width - 1;
  }

  addDownTo(lowest: number, values: Float64Array): void {
    const [ys, kept] = [this.#ys, this.#values];
    for (; this.#next >= lowest; this.#next--) {
      const y = this.#next;
      const value = values[y]!;
      // The line before is nowhere the lowest when this one passes it no later than it passes its own forerunner.
      while (this.#size - this.#head >= 2) {
        const [a, b] = [this.#size - 2, this.#size - 1];
        if ((kept[b]! - kept[a]!) * (ys[a]! - y) < (value - kept[a]!) * (ys[a]! - ys[b]!)) break;
        this.#size--;
      }
      ys[this.#size] = y;
      kept[this.#size] = value;
      this.#size++;
    }
  }

  /** The y of the lowest line, of equals the smallest; -1 when there is none. */
  lowestAt(steep: number): number {
    const [ys, kept] = [this.#ys, this.#values];
    if (this.#size === 0) return -1;
    while (this.#head + 1 < this.#size) {
      const next = this.#head + 1;
      if (kept[next]! + steep * ys[next]! > kept[this.#head]! + steep * ys[this.#head]!) break;
      this.#head = next;
    }
    return ys[this.#head]!;
  }
}

/** Breaks in steps, rising; checked. */
function pricesByStep(
  breaks: PriceBreakCosts["breaks"],
  step: number,
): { from: number; priceOfStep: number }[] {
  if (!(step > 0)) throw new RangeError(`order step must be > 0, got ${step}`);
  if (breaks.length === 0) throw new RangeError("at least one price is needed");
  const rising = [...breaks].sort((a, b) => a.fromQuantity - b.fromQuantity);
  for (const [i, { price }] of rising.entries()) {
    const before = rising[i - 1];
    if (before && price > before.price)
      throw new RangeError(`the price rises from ${before.price} to ${price} with the quantity`);
  }
  return rising.map(({ fromQuantity, price }) => ({
    from: Math.max(1, Math.ceil(fromQuantity / step - TOLERANCE)),
    priceOfStep: price * step,
  }));
}
