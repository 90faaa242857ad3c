/** Time-phased netting: what runs out, when, what stops for it, and what to order by when. */
import { expiringByDay } from "./expiry";
import { lotSizes } from "./lotSizing";
import type { ItemNetting, ItemPosition, NeedLine, PlannedOrder, ReceiptDue } from "./types";

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
  return [...positions]
    .sort((a, b) => (a.itemCode < b.itemCode ? -1 : 1))
    .map((position) =>
      netItem(
        position,
        needsOf.get(position.itemCode) ?? [],
        receiptsOf.get(position.itemCode) ?? [],
        dayCount,
      ),
    );
}

function netItem(
  position: ItemPosition,
  needs: readonly NeedLine[],
  receipts: readonly ReceiptDue[],
  dayCount: number,
): ItemNetting {
  const gross = byDay(needs, dayCount);
  const scheduled = byDay(receipts, dayCount);
  const expiring = expiringByDay(position, gross, dayCount);
  const flow = gross.map((need, day) => scheduled[day]! - need - expiring[day]!);
  const projectedWithoutOrders = running(position.onHand, flow);

  const lots = lotSizes(position, flow);
  const planned = new Float64Array(dayCount);
  for (const lot of lots.orders) planned[lot.day]! += lot.quantity;
  const projected = running(
    position.onHand,
    flow.map((amount, day) => amount + planned[day]!),
  );
  const runsOutDay = projectedWithoutOrders.findIndex((balance) => balance < -TOLERANCE);
  const overdue = receipts.filter((receipt) => receipt.day < 0).map((receipt) => receipt.orderCode);
  return {
    itemCode: position.itemCode,
    gross,
    scheduled,
    expiring,
    projectedWithoutOrders,
    projected,
    net: lots.net,
    orders: lots.orders.map((lot) => plannedOrder(position, lot.day, lot.quantity)),
    ...(runsOutDay >= 0 ? { runsOutDay } : {}),
    stops: stopsOf(position, needs, scheduled, expiring, dayCount),
    overdueReceipts: overdue,
  };
}

/** Sums of doubles: a balance this near to zero is zero. Quantities are pieces or metres with two decimals. */
const TOLERANCE = 1e-9;

function plannedOrder(position: ItemPosition, receiptDay: number, quantity: number): PlannedOrder {
  const release = receiptDay - position.leadTimeDays;
  return {
    itemCode: position.itemCode,
    quantity,
    receiptDay,
    releaseDay: Math.max(0, release),
    pastDueDays: Math.max(0, -release),
    arrivalDay: Math.max(receiptDay, position.leadTimeDays),
  };
}

/**
 * Needs in date order against the running balance: what is missing of each when its day comes. Who comes first keeps
 * the claim, also on a receipt that comes later, so `missing` is what is short on the day, not for ever.
 */
function stopsOf(
  position: ItemPosition,
  needs: readonly NeedLine[],
  scheduled: Float64Array,
  expiring: Float64Array,
  dayCount: number,
): ItemNetting["stops"] {
  const stops: { visitId: string; siteCode: string; day: number; missing: number }[] = [];
  const inOrder = needs
    .filter((need) => need.day < dayCount && need.quantity > 0)
    .sort((a, b) => a.day - b.day || (a.visitId < b.visitId ? -1 : a.visitId > b.visitId ? 1 : 0));
  let balance = position.onHand;
  let day = -1;
  for (const need of inOrder) {
    while (day < Math.max(0, need.day)) {
      day++;
      balance += scheduled[day]! - expiring[day]!;
    }
    const given = Math.min(Math.max(balance, 0), need.quantity);
    balance -= need.quantity;
    const missing = need.quantity - given;
    if (missing <= TOLERANCE) continue;
    const last = stops.at(-1);
    if (last && last.visitId === need.visitId && last.day === need.day) last.missing += missing;
    else stops.push({ visitId: need.visitId, siteCode: need.siteCode, day: need.day, missing });
  }
  return stops;
}

function byItem<T extends { itemCode: string }>(rows: readonly T[]): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(row.itemCode);
    if (group) group.push(row);
    else groups.set(row.itemCode, [row]);
  }
  return groups;
}

function byDay(rows: readonly { day: number; quantity: number }[], dayCount: number): Float64Array {
  const sums = new Float64Array(dayCount);
  for (const { day, quantity } of rows) if (day < dayCount) sums[Math.max(0, day)]! += quantity;
  return sums;
}

function running(start: number, flow: Float64Array): Float64Array {
  let balance = start;
  return flow.map((amount) => {
    balance += amount;
    return balance;
  });
}

function checkInputs(
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
  for (const { itemCode, quantity, day } of [...needs, ...receipts]) {
    if (!known.has(itemCode)) throw new RangeError(`item ${itemCode} has no stock position`);
    if (!(quantity >= 0)) throw new RangeError(`item ${itemCode}: quantity must be >= 0, got ${quantity}`);
    if (!Number.isInteger(day)) throw new RangeError(`item ${itemCode}: day must be whole, got ${day}`);
  }
}
