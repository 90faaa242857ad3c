/** What each lot rule would cost for one item's real needs, side by side. */
import { lotSizes } from "./lotSizing";
import type { StockPolicy } from "./places";
import type { LotRule } from "./types";

/** What an item's orders are reckoned with. Costs in one currency. */
export interface LotFigures {
  orderCost: number;
  /** Per unit and day. */
  holdingPerDay: number;
  price: number;
  /** Lower prices of a whole order from a quantity on. */
  breaks: readonly { fromQuantity: number; price: number }[];
  multiple: number;
  minimum: number;
  /** Days from arrival to the last usable day. */
  shelfLifeDays?: number;
}

/** What the catalogue knows of an item's orders, money in whole minor units. */
export interface OrderingData {
  priceMinor: number;
  orderMultiple: number;
  minimumOrder: number;
  shelfLifeDays?: number;
  /** null = the figure of the rules. */
  orderCostMinor: number | null;
  holdingSharePerYear: number | null;
  priceBreaks: readonly { fromQuantity: number; priceMinor: number }[];
}

const DAYS_A_YEAR = 365;

/** Holding is reckoned on the price of a small order, whatever the lot. */
export function lotFigures(
  item: OrderingData,
  policy: Pick<StockPolicy, "orderCostMinor" | "holdingSharePerYear">,
): LotFigures {
  const share = item.holdingSharePerYear ?? policy.holdingSharePerYear;
  return {
    orderCost: item.orderCostMinor ?? policy.orderCostMinor,
    holdingPerDay: (item.priceMinor * share) / DAYS_A_YEAR,
    price: item.priceMinor,
    breaks: item.priceBreaks.map((b) => ({ fromQuantity: b.fromQuantity, price: b.priceMinor })),
    multiple: item.orderMultiple,
    minimum: item.minimumOrder,
    shelfLifeDays: item.shelfLifeDays,
  };
}

/** Names in the order in which they are shown: as plain as possible first. */
export const LOT_RULES = [
  "lot for lot",
  "fixed multiple",
  "minimum",
  "Silver-Meal",
  "Wagner-Whitin",
  "price breaks",
] as const satisfies readonly LotRule["kind"][];

/** The rule of a name with the item's figures. */
export function lotRuleOf(kind: LotRule["kind"], f: LotFigures): LotRule {
  const costs = { orderCost: f.orderCost, holdingPerDay: f.holdingPerDay };
  switch (kind) {
    case "lot for lot":
      return { kind };
    case "fixed multiple":
      return { kind, multiple: f.multiple };
    case "minimum":
      return { kind, minimum: f.minimum, multiple: f.multiple };
    case "Silver-Meal":
    case "Wagner-Whitin":
      return { kind, ...costs, step: f.multiple };
    case "price breaks": {
      const least = { fromQuantity: Math.max(f.minimum, f.multiple), price: f.price };
      const lower = f.breaks.filter((b) => b.fromQuantity > least.fromQuantity);
      return { kind, ...costs, breaks: [least, ...lower], step: f.multiple };
    }
  }
}

export interface LotRuleCost {
  kind: LotRule["kind"];
  orders: number;
  largest: number;
  /** Units bought; what exceeds the need is left at the end. */
  bought: number;
  left: number;
  orderCost: number;
  holdingCost: number;
  purchaseCost: number;
  total: number;
}

/**
 * Every rule put to the same net needs: what is short per day after stock, receipts and transfers. Holding is reckoned
 * on what lies overnight, up to the last day; what is left then has no value, so a rule that buys too much pays for it.
 *
 * @param net per day, >= 0
 */
export function compareLotRules(net: readonly number[], figures: LotFigures): LotRuleCost[] {
  const need = net.reduce((sum, quantity) => sum + quantity, 0);
  return LOT_RULES.map((kind) => {
    const position = {
      itemCode: "",
      onHand: 0,
      safetyStock: 0,
      leadTimeDays: 0,
      lotRule: lotRuleOf(kind, figures),
      shelfLifeDays: figures.shelfLifeDays,
    };
    const flow = Float64Array.from(net, (quantity) => -quantity);
    const { orders } = lotSizes(position, flow, new Float64Array(net.length));
    const bought = orders.reduce((sum, o) => sum + o.quantity, 0);
    const orderCost = orders.length * figures.orderCost;
    const holdingCost = figures.holdingPerDay * unitDays(net, orders);
    const purchaseCost = orders.reduce((sum, o) => sum + o.quantity * priceOf(o.quantity, figures), 0);
    return {
      kind,
      orders: orders.length,
      largest: orders.reduce((most, o) => Math.max(most, o.quantity), 0),
      bought,
      left: bought - need,
      orderCost,
      holdingCost,
      purchaseCost,
      total: orderCost + holdingCost + purchaseCost,
    };
  });
}

/** The price of one unit in an order of so many. */
export function priceOf(quantity: number, { price, breaks }: Pick<LotFigures, "price" | "breaks">): number {
  return breaks.reduce((least, b) => (b.fromQuantity <= quantity ? Math.min(least, b.price) : least), price);
}

/** Sum over the days of what lies at their end. */
function unitDays(net: readonly number[], orders: readonly { day: number; quantity: number }[]): number {
  const comes = new Float64Array(net.length);
  for (const o of orders) comes[o.day]! += o.quantity;
  let lying = 0;
  let sum = 0;
  for (const [day, quantity] of net.entries()) {
    lying += comes[day]! - quantity;
    sum += lying;
  }
  return sum;
}
