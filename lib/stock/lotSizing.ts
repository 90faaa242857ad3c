/** How much to order at a time. */
import type { ItemPosition, LotRule } from "./types";

export interface Lot {
  /** Day it must arrive. */
  day: number;
  quantity: number;
}

export interface LotSizes {
  /** Net need per day after stock, receipts, safety stock and the lots ordered before. */
  net: Float64Array;
  orders: Lot[];
}

/** A net need below this is the rounding of doubles. */
const TOLERANCE = 1e-9;

/**
 * Lots for one item.
 *
 * @param flow receipts - needs - losses per day, without new orders
 */
export function lotSizes(position: ItemPosition, flow: Float64Array): LotSizes {
  const { lotRule } = position;
  if (lotRule.kind === "Silver-Meal" || lotRule.kind === "Wagner-Whitin") {
    const each = dayByDay(position, flow, (net) => net);
    const cap = position.shelfLifeDays === undefined ? Number.POSITIVE_INFINITY : position.shelfLifeDays + 1;
    const series = [...each.net];
    const { orderCost, holdingPerDay } = lotRule;
    const lots =
      lotRule.kind === "Silver-Meal"
        ? silverMeal(series, orderCost, holdingPerDay, cap)
        : wagnerWhitin(series, orderCost, holdingPerDay, cap).lots;
    return { net: each.net, orders: lots };
  }
  return dayByDay(position, flow, (net) => orderQuantity(lotRule, net));
}

/** Walks the days; orders as soon as the balance would fall below the safety stock. */
function dayByDay(position: ItemPosition, flow: Float64Array, sizeOf: (net: number) => number): LotSizes {
  const net = new Float64Array(flow.length);
  const orders: Lot[] = [];
  let balance = position.onHand;
  for (const [day, amount] of flow.entries()) {
    balance += amount;
    const short = position.safetyStock - balance;
    if (short <= TOLERANCE) continue;
    net[day] = short;
    const quantity = sizeOf(short);
    orders.push({ day, quantity });
    balance += quantity;
  }
  return { net, orders };
}

/**
 * Quantity to order for a net need under a simple rule.
 * @throws RangeError on a multiple that is not above 0
 */
export function orderQuantity(
  rule: Extract<LotRule, { kind: "lot for lot" | "fixed multiple" | "minimum" }>,
  net: number,
): number {
  if (net <= 0) return 0;
  if (rule.kind === "lot for lot") return net;
  if (!(rule.multiple > 0)) throw new RangeError(`order multiple must be > 0, got ${rule.multiple}`);
  const least = rule.kind === "minimum" ? Math.max(net, rule.minimum) : net;
  return Math.ceil(least / rule.multiple - TOLERANCE) * rule.multiple;
}

/**
 * Silver-Meal: a lot covers further periods as long as the average cost per period falls.
 *
 * @param demand        per period, >= 0
 * @param orderCost     per order, one figure or one per period
 * @param holdingCost   per unit and period carried over
 * @param mostPeriods   longest cover in periods, from the shelf life
 * Source: Silver and Meal 1973; check values in docs/methods/stock.md.
 */
export function silverMeal(
  demand: readonly number[],
  orderCost: number | readonly number[],
  holdingCost: number,
  mostPeriods = Number.POSITIVE_INFINITY,
): Lot[] {
  const lots: Lot[] = [];
  let start = 0;
  while (start < demand.length) {
    if (demand[start]! <= TOLERANCE) {
      start++;
      continue;
    }
    let end = start; // last period covered
    let quantity = demand[start]!;
    let cost = costAt(orderCost, start);
    for (let t = start + 1; t < demand.length && t - start < mostPeriods; t++) {
      const next = cost + holdingCost * (t - start) * demand[t]!;
      if (next / (t - start + 1) > cost / (t - start)) break;
      cost = next;
      quantity += demand[t]!;
      end = t;
    }
    lots.push({ day: start, quantity });
    start = end + 1;
  }
  return lots;
}

/**
 * Wagner-Whitin: least total of order and holding cost, exactly, by dynamic programming over the period of the last
 * order. Where several plans cost the same, the one with the later last order is given.
 *
 * @returns the lots, their cost, and the least cost of covering periods 0..t for each t
 * Source: Wagner and Whitin 1958.
 */
export function wagnerWhitin(
  demand: readonly number[],
  orderCost: number | readonly number[],
  holdingCost: number,
  mostPeriods = Number.POSITIVE_INFINITY,
): { lots: Lot[]; cost: number; costThrough: number[] } {
  const least = [0];
  const from: number[] = [];
  for (let t = 0; t < demand.length; t++) {
    let best = demand[t]! <= TOLERANCE ? least[t]! : Number.POSITIVE_INFINITY;
    from[t] = -1; // nothing is wanted in t, so nothing need cover it
    let holding = 0;
    let carried = 0;
    for (let j = t; j >= 0 && t - j < mostPeriods; j--) {
      if (j < t) holding += holdingCost * carried;
      carried += demand[j]!;
      const cost = least[j]! + costAt(orderCost, j) + holding;
      if (cost < best) {
        best = cost;
        from[t] = j;
      }
    }
    least.push(best);
  }
  const lots: Lot[] = [];
  for (let t = demand.length - 1; t >= 0; ) {
    const j = from[t]!;
    if (j < 0) {
      t--;
      continue;
    }
    let quantity = 0;
    for (let k = j; k <= t; k++) quantity += demand[k]!;
    if (quantity > 0) lots.unshift({ day: j, quantity });
    t = j - 1;
  }
  return { lots, cost: least.at(-1)!, costThrough: least.slice(1) };
}

/** Order cost of the lots plus holding cost of what they carry over. Throws when a period is not covered. */
export function lotCost(
  lots: readonly Lot[],
  demand: readonly number[],
  orderCost: number | readonly number[],
  holdingCost: number,
): number {
  let stock = 0;
  let cost = 0;
  for (const [t, need] of demand.entries()) {
    for (const lot of lots.filter((l) => l.day === t && l.quantity > 0)) {
      stock += lot.quantity;
      cost += costAt(orderCost, t);
    }
    stock -= need;
    if (stock < -TOLERANCE) throw new RangeError(`period ${t} is short by ${-stock}`);
    cost += holdingCost * stock;
  }
  return cost;
}

function costAt(orderCost: number | readonly number[], period: number): number {
  return typeof orderCost === "number" ? orderCost : orderCost[period]!;
}
