/** Time-phased netting. Quantities in the item's unit; day 0 is the plan's first day. */

export type LotRule =
  | { kind: "lot for lot" }
  | { kind: "fixed multiple"; multiple: number }
  | { kind: "minimum"; minimum: number; multiple: number };

export interface NeedLine {
  itemCode: string;
  day: number;
  quantity: number;
  /** What stops when it is short. */
  visitId: string;
  siteCode: string;
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
}

export interface ItemNetting {
  itemCode: string;
  /** One entry a day. */
  gross: Float64Array;
  scheduled: Float64Array;
  /** Balance with nothing ordered anew; negative = short. */
  projectedWithoutOrders: Float64Array;
  projected: Float64Array;
  net: Float64Array;
  orders: readonly PlannedOrder[];
  /** First day on which the balance without new orders is below zero; undefined = lasts. */
  runsOutDay?: number;
  /** Visits whose need is not covered without new orders, in date order. */
  stops: readonly { visitId: string; siteCode: string; day: number; missing: number }[];
}
