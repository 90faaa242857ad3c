/** Lots where the price of a whole order falls at certain quantities: order, holding and purchase cost together. */
import type { PriceBreakCosts } from "./types";
import type { Lot } from "./wagnerWhitin";

/** Above this many cells (days with a need x steps of the whole need) the steps are doubled: a table takes memory and time. */
const MOST_CELLS = 2_000_000;
/** Rounding of doubles, in steps. */
const TOLERANCE = 1e-6;

/**
 * All-units quantity discounts within the lot sizing, exactly on the grid of order steps.
 *
 * With discounts a lot need not end where the next begins: it may be just large enough for a price. So the dynamic
 * program is over the day and the quantity X ordered so far, in steps. V(day, X) = least of: no order; or, for each
 * price p from quantity b on, K - p X + min over Y >= X + b of (p Y + holding + V(next day, Y)). The inner minimum is a
 * running one from above, so each day takes steps x prices. Orders are placed on days with a need only: holding costs,
 * so an earlier order is never cheaper. What is ordered beyond the last need has no value, and is bought only where it
 * makes the whole cheaper.
 *
 * @param demand      per day, >= 0
 * @param mostPeriods longest cover in days, from the shelf life; then nothing is ordered beyond what it covers
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
  let sum = 0;
  /** Needed through each day with a need, and the steps that must have been ordered for it. */
  const through = days.map((day) => (sum += demand[day]!));
  const required = through.map((total) => Math.ceil(total / step - TOLERANCE));
  const needed = required.at(-1) ?? 0;
  // Without a shelf life, up to the dearest break more than is needed can pay.
  const width = needed + (Number.isFinite(mostPeriods) ? 0 : prices.at(-1)!.from) + 1;
  if (width * days.length > MOST_CELLS)
    return priceBreakLots(demand, { ...costs, step: 2 * step }, mostPeriods);

  const ordered = days.map(() => new Int32Array(width)); // Y by X
  let after = new Float64Array(width); // V of the next day
  for (let k = days.length - 1; k >= 0; k--) {
    const reach = days.findLastIndex((day) => day < days[k]! + mostPeriods);
    const most = Number.isFinite(mostPeriods) ? required[reach]! : width - 1;
    const carried = ((days[k + 1] ?? demand.length) - days[k]!) * holdingPerDay;
    const then = after.map((value, y) => value + carried * Math.max(0, y * step - through[k]!));
    const now = new Float64Array(width).fill(Number.POSITIVE_INFINITY);
    for (let x = required[k]!; x < width; x++) {
      now[x] = then[x]!;
      ordered[k]![x] = x;
    }
    for (const { from, priceOfStep } of prices) {
      let best = Number.POSITIVE_INFINITY;
      let bestY = -1;
      let y = most;
      for (let x = width - 1; x >= 0; x--) {
        for (const least = Math.max(required[k]!, x + from); y >= least; y--) {
          if (then[y]! + priceOfStep * y > best) continue;
          best = then[y]! + priceOfStep * y;
          bestY = y;
        }
        const value = best + orderCost - priceOfStep * x;
        if (value >= now[x]!) continue;
        now[x] = value;
        ordered[k]![x] = bestY;
      }
    }
    after = now;
  }
  if (!Number.isFinite(after[0]!)) return priceBreakLots(demand, costs);
  const lots: Lot[] = [];
  let x = 0;
  for (const [k, day] of days.entries()) {
    const y = ordered[k]![x]!;
    if (y > x) lots.push({ day, quantity: (y - x) * step });
    x = y;
  }
  return { lots, cost: after[0]! };
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
