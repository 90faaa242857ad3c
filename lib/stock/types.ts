/** Time-phased netting. Quantities in the item's unit; day 0 is the plan's first day. */

import type { PriceBreak } from "./eoq";

export type LotRule =
  | { kind: "lot for lot" }
  | { kind: "fixed multiple"; multiple: number }
  | { kind: "minimum"; minimum: number; multiple: number }
  /** Costs in one currency; holding per unit and day. With a step, lots are whole multiples of it. */
  | { kind: "Silver-Meal"; orderCost: number; holdingPerDay: number; step?: number }
  | { kind: "Wagner-Whitin"; orderCost: number; holdingPerDay: number; step?: number }
  | ({ kind: "price breaks" } & PriceBreakCosts);

/** What lots with price breaks cost. */
export interface PriceBreakCosts {
  orderCost: number;
  /** Per unit and day. */
  holdingPerDay: number;
  /** Price of every unit of an order by its quantity; the lowest `fromQuantity` is the least that can be ordered. */
  breaks: readonly PriceBreak[];
  /** Orders are whole multiples of this. */
  step: number;
}

export interface NeedLine {
  itemCode: string;
  day: number;
  quantity: number;
  /** What stops when it is short. */
  visitId: string;
  /** When that visit starts, minutes from day 0: of needs of one day the first is served first (`byTurn`). */
  startsAtMin?: number;
  siteCode: string;
  /** Leaves for another warehouse: no visit stops for it. */
  isTransfer?: true;
}

export interface ReceiptDue {
  itemCode: string;
  day: number;
  quantity: number;
  orderCode: string;
}

export interface ItemPosition {
  itemCode: string;
  onHand: number;
  safetyStock: number;
  leadTimeDays: number;
  lotRule: LotRule;
  /** Lots of the stock on hand with a last usable day; what is not listed keeps. */
  lots?: readonly { quantity: number; lastDay: number }[];
  /** Days from arrival to the last usable day: Silver-Meal and Wagner-Whitin lots cover no more. */
  shelfLifeDays?: number;
  /** Transfers between warehouses are whole multiples of this; undefined = any quantity. */
  transferStep?: number;
}

export interface PlannedOrder {
  itemCode: string;
  quantity: number;
  /** Day it must arrive. */
  receiptDay: number;
  /** Day it must be sent, never below 0. */
  releaseDay: number;
  /** Days by which the order is already too late; 0 = in time. */
  pastDueDays: number;
  /** Day it comes if sent on `releaseDay` with the normal lead time: later than `receiptDay` when past due. */
  arrivalDay?: number;
}

/** What becomes of one item's stock at one place when nothing is ordered anew. A series is made anew at every reading. */
export interface ShelfBalance {
  itemCode: string;
  /** One entry a day. */
  readonly gross: Float64Array;
  readonly scheduled: Float64Array;
  /** Negative = short. */
  readonly projectedWithoutOrders: Float64Array;
  /**
   * Stock that is lost on the day because its lot expired the day before; undefined = nothing expires. The projected
   * balances are without it.
   */
  readonly expiring?: Float64Array;
  /** First day on which the balance without new orders is below zero; undefined = lasts. */
  runsOutDay?: number;
  /** Visits whose need is not covered without new orders, in date order. */
  stops: readonly { visitId: string; siteCode: string; day: number; missing: number }[];
  /** Orders whose receipt was due before day 0 and has not come; counted on day 0. */
  overdueReceipts?: readonly string[];
}

/** A visit whose need cannot be met on its day, not even if what is missing is ordered today. */
export interface Wait {
  visitId: string;
  day: number;
  missing: number;
  /** First day on which all that it needs is there: what is on the way, after those before it, or an order of today. */
  coveredDay: number;
}

export interface ItemNetting extends ShelfBalance {
  /** Worked out at every reading. */
  readonly waits: readonly Wait[];
  /** With the new orders. */
  readonly projected: Float64Array;
  readonly net: Float64Array;
  orders: readonly PlannedOrder[];
}
