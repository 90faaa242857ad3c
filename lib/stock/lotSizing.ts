/** How much to order at a time. */
import { priceBreakLots } from "./priceBreakLots";
import type { ItemPosition, LotRule } from "./types";
import { costAt, type Lot, wagnerWhitin } from "./wagnerWhitin";

export interface LotSizes {
  /** Net need per day after stock, receipts, safety stock and the lots ordered before. */
  net: Float64Array;
  orders: Lot[];
}

/** A net need below this is the rounding of doubles. */
const TOLERANCE = 1e-9;

/**
 * The flow as whoever orders today sees it. What is ordered now comes a lead time from now at the earliest: what is
 * short before that and comes by then with an order on the way needs no further order, it only comes late. So up to
 * that day the balance counts as the best that it will be until then.
 *
 * @param flow receipts - needs - losses per day, without new orders; becomes what is returned
 */
export function flowForOrders(
  { onHand, leadTimeDays }: Pick<ItemPosition, "onHand" | "leadTimeDays">,
  flow: Float64Array,
): Float64Array {
  const last = Math.min(leadTimeDays, flow.length - 1);
  let balance = onHand;
  for (let day = 0; day <= last; day++) flow[day] = balance += flow[day]!;
  for (let day = last - 1; day >= 0; day--) flow[day] = Math.max(flow[day]!, flow[day + 1]!);
  for (let day = last; day > 0; day--) flow[day]! -= flow[day - 1]!;
  if (last >= 0) flow[0]! -= onHand;
  return flow;
}

/**
 * Lots for one item.
 *
 * @param flow receipts - needs - losses per day, without new orders
 * @param net  zeros, one a day: becomes the result's `net`
 */
export function lotSizes(position: ItemPosition, flow: Float64Array, net: Float64Array): LotSizes {
  const { lotRule } = position;
  if (lotRule.kind === "lot for lot" || lotRule.kind === "fixed multiple" || lotRule.kind === "minimum") {
    return { net, orders: dayByDay(position, flow, net, (short) => orderQuantity(lotRule, short)) };
  }
  dayByDay(position, flow, net, (short) => short);
  const most = position.shelfLifeDays === undefined ? Number.POSITIVE_INFINITY : position.shelfLifeDays + 1;
  const { orderCost, holdingPerDay } = lotRule;
  const series = [...net];
  switch (lotRule.kind) {
    case "Silver-Meal":
      return { net, orders: inWholeSteps(silverMeal(series, orderCost, holdingPerDay, most), lotRule.step) };
    case "Wagner-Whitin":
      return {
        net,
        orders: inWholeSteps(wagnerWhitin(series, orderCost, holdingPerDay, most).lots, lotRule.step),
      };
    case "price breaks":
      return { net, orders: priceBreakLots(series, lotRule, most).lots };
  }
}

/**
 * The lots rounded up to whole steps as they add up: what one lot brings too much the next needs less. No longer the
 * least cost for certain, since the days were chosen before rounding.
 */
function inWholeSteps(lots: readonly Lot[], step: number | undefined): Lot[] {
  if (step === undefined) return [...lots];
  if (!(step > 0)) throw new RangeError(`order step must be > 0, got ${step}`);
  let needed = 0;
  let ordered = 0;
  return lots.flatMap(({ day, quantity }) => {
    needed += quantity;
    const steps = Math.ceil((needed - ordered) / step - TOLERANCE);
    if (steps <= 0) return [];
    ordered += steps * step;
    return [{ day, quantity: steps * step }];
  });
}

/** Walks the days; orders as soon as the balance would fall below the safety stock, and notes the net need. */
function dayByDay(
  position: ItemPosition,
  flow: Float64Array,
  net: Float64Array,
  sizeOf: (net: number) => number,
): Lot[] {
  const orders: Lot[] = [];
  let balance = position.onHand;
  for (let day = 0; day < flow.length; day++) {
    balance += flow[day]!;
    const short = position.safetyStock - balance;
    if (short <= TOLERANCE) continue;
    net[day] = short;
    const quantity = sizeOf(short);
    orders.push({ day, quantity });
    balance += quantity;
  }
  return orders;
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
