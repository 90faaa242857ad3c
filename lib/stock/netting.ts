/** Time-phased netting: what runs out, when, what stops for it, and what to order by when. */
import { OrderedShelf, Shelf, ShelfDays } from "./shelf";
import type { ItemNetting, ItemPosition, NeedLine, ReceiptDue } from "./types";

/**
 * Nets every item against stock and orders on the way. One entry per position, in order of the item code.
 *
 * Needs and receipts before day 0 are overdue and count on day 0 (`overdueReceipts` names the orders: they may not
 * come today); those from `dayCount` on are beyond the horizon and left out. Planned orders cover need and safety
 * stock; one that should have been sent before day 0 is released on day 0 and says by how many days it is too late.
 * `projected` shows it on the day it is wanted, as the classic record does; `arrivalDay` says when it would come.
 *
 * @throws RangeError on a negative quantity, a horizon below 1 day, or a need or receipt of an item without position
 *
 * Method: docs/methods/stock.md, "Netting".
 */
export function netByDate(
  needs: readonly NeedLine[],
  receipts: readonly ReceiptDue[],
  positions: readonly ItemPosition[],
  dayCount: number,
): ItemNetting[] {
  checkInputs(needs, receipts, positions, dayCount);
  const needsOf = byItem(needs);
  const receiptsOf = byItem(receipts);
  const days = new ShelfDays(dayCount);
  return [...positions]
    .sort((a, b) => (a.itemCode < b.itemCode ? -1 : 1))
    .map((position) => {
      const { itemCode } = position;
      const own = [needsOf.get(itemCode) ?? [], receiptsOf.get(itemCode) ?? []] as const;
      return new OrderedShelf(new Shelf(position, ...own, days), days);
    });
}

export function byItem<T extends { itemCode: string }>(rows: readonly T[]): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(row.itemCode);
    if (group) group.push(row);
    else groups.set(row.itemCode, [row]);
  }
  return groups;
}

export function checkInputs(
  needs: readonly NeedLine[],
  receipts: readonly ReceiptDue[],
  positions: readonly ItemPosition[],
  dayCount: number,
): void {
  if (!Number.isInteger(dayCount) || dayCount < 1) {
    throw new RangeError(`the horizon must be at least 1 whole day, got ${dayCount}`);
  }
  const known = new Set<string>();
  for (const { itemCode, onHand, safetyStock, leadTimeDays } of positions) {
    if (known.has(itemCode)) throw new RangeError(`item ${itemCode} has two positions`);
    known.add(itemCode);
    if (!(onHand >= 0 && safetyStock >= 0 && leadTimeDays >= 0)) {
      throw new RangeError(`item ${itemCode}: on hand, safety stock and lead time must be >= 0`);
    }
  }
  for (const rows of [needs, receipts])
    for (const { itemCode, quantity, day } of rows) {
      if (!known.has(itemCode)) throw new RangeError(`item ${itemCode} has no stock position`);
      if (!(quantity >= 0)) throw new RangeError(`item ${itemCode}: quantity must be >= 0, got ${quantity}`);
      if (!Number.isInteger(day)) throw new RangeError(`item ${itemCode}: day must be whole, got ${day}`);
    }
}
