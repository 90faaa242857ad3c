/** What if this delivery slips? */
import type { ReceiptDue } from "./types";
import { netWarehouses, type TransferProposal, type TransferRules, type Warehouse } from "./warehouses";

/**
 * The receipts with every line of one order moved by `days` (negative = it comes earlier). The inputs stay as they are.
 * @throws RangeError when no receipt is of that order
 */
export function slipReceipt(receipts: readonly ReceiptDue[], orderCode: string, days: number): ReceiptDue[] {
  if (!receipts.some((receipt) => receipt.orderCode === orderCode)) {
    throw new RangeError(`no receipt is due from order ${orderCode}`);
  }
  return receipts.map((receipt) =>
    receipt.orderCode === orderCode ? { ...receipt, day: receipt.day + days } : receipt,
  );
}

export interface VisitHit {
  itemCode: string;
  /** The warehouse whose shelf is short. */
  placeId: string;
  visitId: string;
  siteCode: string;
  day: number;
  missing: number;
  /** 0 = it was covered before. */
  missingBefore: number;
}

export interface SlipEffect {
  /** Needs that are short now and were not, or were less so, in date order; whatever transfers can save is saved. */
  hit: VisitHit[];
  /** Visits short before the slip, and after it. */
  stopsBefore: number;
  stopsAfter: number;
  /** Transfers that the slip makes worth while. */
  transfers: TransferProposal[];
}

/**
 * Nets before and after a slip, transfers included both times, and lists the visits that it stops.
 * Arguments as for `netWarehouses`; the order's receipts stand in one warehouse or several.
 * @throws RangeError when no receipt is of that order
 */
export function effectOfSlip(
  warehouses: readonly Warehouse[],
  rules: TransferRules,
  dayCount: number,
  orderCode: string,
  days: number,
): SlipEffect {
  const isOfOrder = (w: Warehouse) => w.receipts.some((r) => r.orderCode === orderCode);
  if (!warehouses.some(isOfOrder)) throw new RangeError(`no receipt is due from order ${orderCode}`);
  const slipped = warehouses.map((w) =>
    isOfOrder(w) ? { ...w, receipts: slipReceipt(w.receipts, orderCode, days) } : w,
  );
  const before = stopsOf(warehouses, rules, dayCount);
  const after = stopsOf(slipped, rules, dayCount);
  const key = (stop: Omit<VisitHit, "missingBefore">) =>
    JSON.stringify([stop.placeId, stop.itemCode, stop.visitId, stop.day]);
  const missingBefore = new Map(before.stops.map((stop) => [key(stop), stop.missing]));
  const hit = after.stops
    .map((stop) => ({ ...stop, missingBefore: missingBefore.get(key(stop)) ?? 0 }))
    .filter((stop) => stop.missing > stop.missingBefore + 1e-9);
  hit.sort((a, b) => a.day - b.day || (a.visitId < b.visitId ? -1 : a.visitId > b.visitId ? 1 : 0));
  const known = new Set(before.transfers.map((t) => JSON.stringify(t)));
  return {
    hit,
    stopsBefore: before.stops.length,
    stopsAfter: after.stops.length,
    transfers: after.transfers.filter((t) => !known.has(JSON.stringify(t))),
  };
}

function stopsOf(
  warehouses: readonly Warehouse[],
  rules: TransferRules,
  dayCount: number,
): { stops: Omit<VisitHit, "missingBefore">[]; transfers: TransferProposal[] } {
  const { nettings, transfers } = netWarehouses(warehouses, rules, dayCount);
  const stops = [...nettings].flatMap(([placeId, items]) =>
    items.flatMap(({ withTransfers }) =>
      withTransfers.stops.map((stop) => ({ itemCode: withTransfers.itemCode, placeId, ...stop })),
    ),
  );
  return { stops, transfers };
}
