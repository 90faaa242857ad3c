/** Time-phased netting: what runs out, when, what stops for it, and what to order by when. */
import { expiringByDay } from "./expiry";
import { lotSizes } from "./lotSizing";
import { SeriesSource } from "./series";
import type { ItemNetting, ItemPosition, NeedLine, PlannedOrder, ReceiptDue, ShelfBalance } from "./types";

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
  const series = new SeriesSource(dayCount);
  return [...positions]
    .sort((a, b) => (a.itemCode < b.itemCode ? -1 : 1))
    .map((position) => {
      const { itemCode } = position;
      const own = [needsOf.get(itemCode) ?? [], receiptsOf.get(itemCode) ?? []] as const;
      return withOrders(position, shelfBalance(position, ...own, series), series);
    });
}

/** One item at one place with nothing ordered anew; the rows are its own and were checked. */
export function shelfBalance(
  position: ItemPosition,
  needs: readonly NeedLine[],
  receipts: readonly ReceiptDue[],
  series: SeriesSource,
): ShelfBalance {
  const { dayCount } = series;
  const gross = needs.length === 0 ? series.nothing : addByDay(series.next(), needs);
  const scheduled = receipts.length === 0 ? series.nothing : addByDay(series.next(), receipts);
  const projected = series.next();
  const expires = (position.lots ?? []).length > 0;
  const expiring = expires ? expiringByDay(position, gross, dayCount) : undefined;
  let balance = position.onHand;
  let runsOutDay: number | undefined;
  for (let day = 0; day < dayCount; day++) {
    balance += scheduled[day]! - gross[day]! - (expiring?.[day] ?? 0);
    projected[day] = balance;
    if (runsOutDay === undefined && balance < -TOLERANCE) runsOutDay = day;
  }
  return {
    itemCode: position.itemCode,
    gross,
    scheduled,
    projectedWithoutOrders: projected,
    expiring,
    runsOutDay,
    stops: runsOutDay === undefined ? [] : stopsOf(position, needs, scheduled, expiring, dayCount),
    overdueReceipts: receipts.flatMap((receipt) => (receipt.day < 0 ? receipt.orderCode : [])),
  };
}

/** What to order for it. */
export function withOrders(position: ItemPosition, shelf: ShelfBalance, series: SeriesSource): ItemNetting {
  const { gross, scheduled, expiring } = shelf;
  // Most shelves of a large catalogue want nothing: their days are as they are without orders.
  if (!fallsShort(position, shelf.projectedWithoutOrders))
    return { ...shelf, projected: shelf.projectedWithoutOrders, net: series.nothing, orders: [] };
  const projected = series.next();
  for (let day = 0; day < gross.length; day++)
    projected[day] = scheduled[day]! - gross[day]! - (expiring?.[day] ?? 0);
  const lots = lotSizes(position, projected, series.next());
  for (const lot of lots.orders) projected[lot.day]! += lot.quantity;
  let balance = position.onHand;
  for (let day = 0; day < gross.length; day++) {
    balance += projected[day]!;
    projected[day] = balance;
  }
  return {
    ...shelf,
    projected,
    net: lots.net,
    orders: lots.orders.map((lot) => plannedOrder(position, lot.day, lot.quantity)),
  };
}

/** Is there a day below the safety stock? */
export function fallsShort(
  { safetyStock }: Pick<ItemPosition, "safetyStock">,
  balance: Float64Array,
): boolean {
  for (let day = 0; day < balance.length; day++) if (safetyStock - balance[day]! > TOLERANCE) return true;
  return false;
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
  expiring: Float64Array | undefined,
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
      balance += scheduled[day]! - (expiring?.[day] ?? 0);
    }
    const given = Math.min(Math.max(balance, 0), need.quantity);
    balance -= need.quantity;
    if (need.isTransfer) continue;
    const missing = need.quantity - given;
    if (missing <= TOLERANCE) continue;
    const last = stops.at(-1);
    if (last && last.visitId === need.visitId && last.day === need.day) last.missing += missing;
    else stops.push({ visitId: need.visitId, siteCode: need.siteCode, day: need.day, missing });
  }
  return stops;
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

function addByDay(sums: Float64Array, rows: readonly { day: number; quantity: number }[]): Float64Array {
  for (const { day, quantity } of rows) if (day < sums.length) sums[Math.max(0, day)]! += quantity;
  return sums;
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
