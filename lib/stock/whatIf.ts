/** What if this delivery slips? */
import { netByDate } from "./netting";
import type { ItemNetting, ItemPosition, NeedLine, ReceiptDue } from "./types";

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
  visitId: string;
  siteCode: string;
  day: number;
  missing: number;
  /** 0 = it was covered before. */
  missingBefore: number;
}

export interface SlipEffect {
  /** The netting after the slip. */
  after: ItemNetting[];
  /** Needs that are short now and were not, or were less so, in date order. */
  hit: VisitHit[];
}

/** Nets before and after a slip, and lists the visits that it stops. Arguments as for `netByDate` and `slipReceipt`. */
export function effectOfSlip(
  needs: readonly NeedLine[],
  receipts: readonly ReceiptDue[],
  positions: readonly ItemPosition[],
  dayCount: number,
  orderCode: string,
  days: number,
): SlipEffect {
  const before = netByDate(needs, receipts, positions, dayCount);
  const after = netByDate(needs, slipReceipt(receipts, orderCode, days), positions, dayCount);
  const key = (itemCode: string, stop: { visitId: string; day: number }) =>
    JSON.stringify([itemCode, stop.visitId, stop.day]);
  const missingBefore = new Map(
    before.flatMap((item) => item.stops.map((stop) => [key(item.itemCode, stop), stop.missing] as const)),
  );
  const hit = after.flatMap((item) =>
    item.stops
      .map((stop) => ({
        itemCode: item.itemCode,
        ...stop,
        missingBefore: missingBefore.get(key(item.itemCode, stop)) ?? 0,
      }))
      .filter((stop) => stop.missing > stop.missingBefore + 1e-9),
  );
  hit.sort((a, b) => a.day - b.day || (a.visitId < b.visitId ? -1 : a.visitId > b.visitId ? 1 : 0));
  return { after, hit };
}
