/** Several warehouses: what one has to spare goes to the one that is short before anything is bought. */
import { byItem, checkInputs, fallsShort, shelfBalance, withOrders } from "./netting";
import { SeriesSource } from "./series";
import type { ItemNetting, ItemPosition, NeedLine, ReceiptDue, ShelfBalance } from "./types";

export interface Warehouse {
  placeId: string;
  needs: readonly NeedLine[];
  receipts: readonly ReceiptDue[];
  positions: readonly ItemPosition[];
}

export interface TransferProposal {
  itemCode: string;
  fromPlaceId: string;
  toPlaceId: string;
  quantity: number;
  /** Day it must leave, never below 0. */
  sendDay: number;
  arriveDay: number;
  /** Days after it is wanted; 0 = in time. */
  daysLate: number;
}

export interface WarehouseItem {
  /** As if nobody sent anything: what runs out on this shelf, and what stops for it. */
  alone: ShelfBalance;
  /** With the transfers in and out: its orders are what remains to be bought. */
  withTransfers: ItemNetting;
}

export interface WarehousesNetting {
  transfers: TransferProposal[];
  /** Per warehouse, in order of the item code. */
  nettings: Map<string, WarehouseItem[]>;
}

export interface TransferRules {
  /** Days from one place to another; undefined = no transfers that way. */
  transferDays: (fromPlaceId: string, toPlaceId: string) => number | undefined;
  /** A transfer brings what is short within so many days from the day on which it is wanted; 1 = that day's only. */
  coverDays?: number;
}

/** Balances this near to zero are zero. */
const TOLERANCE = 1e-9;

/**
 * Proposes transfers, then nets what remains.
 *
 * Day by day, each warehouse whose balance falls below its safety stock is helped by the others, the nearest first and of
 * equals the one with most to spare. To spare is what stays above the safety stock on every day from the day of sending
 * to the end of the horizon, so no transfer makes its sender short within it. A transfer that would come late is
 * proposed only when a purchase would not come sooner. In the receiver's netting a late transfer stands on the day it
 * comes (so the stop is seen), while orders are sized as if it came in time (so nothing is bought twice).
 *
 * @throws RangeError as `netByDate` does
 */
export function netWarehouses(
  warehouses: readonly Warehouse[],
  rules: TransferRules,
  dayCount: number,
): WarehousesNetting {
  const ordered = [...warehouses].sort((a, b) => (a.placeId < b.placeId ? -1 : 1));
  for (const w of ordered) checkInputs(w.needs, w.receipts, w.positions, dayCount);
  const series = new SeriesSource(dayCount);
  const sidesOf = new Map<string, Side[]>();
  for (const warehouse of ordered) {
    const needs = byItem(warehouse.needs);
    const receipts = byItem(warehouse.receipts);
    for (const position of warehouse.positions) {
      const own = needs.get(position.itemCode) ?? [];
      const coming = receipts.get(position.itemCode) ?? [];
      const alone = shelfBalance(position, own, coming, series);
      const side: Side = {
        placeId: warehouse.placeId,
        position,
        needs: own,
        receipts: coming,
        alone,
        balance: alone.projectedWithoutOrders,
      };
      const sides = sidesOf.get(position.itemCode);
      if (sides) sides.push(side);
      else sidesOf.set(position.itemCode, [side]);
    }
  }
  const transfers: TransferProposal[] = [];
  const nettings = new Map<string, WarehouseItem[]>(ordered.map((w) => [w.placeId, []]));
  for (const [, sides] of [...sidesOf].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const proposals = sides.length > 1 && sides.some(isShort) ? transfersOf(sides, rules, series) : [];
    transfers.push(...proposals);
    for (const side of sides) {
      const withTransfers = netWith(side, proposals, series);
      nettings.get(side.placeId)!.push({ alone: side.alone, withTransfers });
    }
  }
  return { transfers, nettings };
}

/** One item at one warehouse. */
interface Side {
  placeId: string;
  position: ItemPosition;
  needs: readonly NeedLine[];
  receipts: readonly ReceiptDue[];
  alone: ShelfBalance;
  /** Balance per day with transfers, and with what will have to be bought. */
  balance: Float64Array;
}

const isShort = ({ balance, position }: Side) => fallsShort(position, balance);

function transfersOf(
  allSides: readonly Side[],
  { transferDays, coverDays = 1 }: TransferRules,
  series: SeriesSource,
): TransferProposal[] {
  const { dayCount } = series;
  const proposals: TransferProposal[] = [];
  const sides = allSides.map((side): Side => ({ ...side, balance: series.copy(side.balance) }));
  for (let day = 0; day < dayCount; day++) {
    for (const receiver of sides) {
      const { itemCode, safetyStock, leadTimeDays, transferStep } = receiver.position;
      if (safetyStock - receiver.balance[day]! <= TOLERANCE) continue;
      let short = safetyStock - least(receiver.balance, day, Math.min(dayCount, day + coverDays));
      const donors = sides
        // Nobody can give more than is over at the end, which is quickly seen.
        .filter(
          (side) => side !== receiver && side.balance[dayCount - 1]! - side.position.safetyStock > TOLERANCE,
        )
        .map((side) => ({ side, days: transferDays(side.placeId, receiver.placeId) }))
        .filter((donor): donor is { side: Side; days: number } => donor.days !== undefined)
        .map(({ side, days }) => {
          const sendDay = Math.max(0, day - days);
          const spare = least(side.balance, sendDay, dayCount) - side.position.safetyStock;
          return { side, sendDay, arriveDay: Math.max(day, days), spare: down(spare, transferStep), days };
        })
        .filter((d) => d.spare > TOLERANCE && d.arriveDay <= Math.max(day, leadTimeDays))
        .sort((a, b) => a.days - b.days || b.spare - a.spare);
      for (const { side, sendDay, arriveDay, spare } of donors) {
        if (short <= TOLERANCE) break;
        const quantity = Math.min(up(short, transferStep), spare);
        const { placeId: fromPlaceId } = side;
        const daysLate = arriveDay - day;
        proposals.push({
          itemCode,
          fromPlaceId,
          toPlaceId: receiver.placeId,
          quantity,
          sendDay,
          arriveDay,
          daysLate,
        });
        shift(side.balance, sendDay, -quantity);
        shift(receiver.balance, day, quantity);
        short -= quantity;
      }
      // What no warehouse can give on this day is bought; `withOrders` says how.
      const toBuy = safetyStock - receiver.balance[day]!;
      if (toBuy > TOLERANCE) shift(receiver.balance, day, toBuy);
    }
  }
  return proposals;
}

function least(balance: Float64Array, fromDay: number, toDay: number): number {
  let low = Number.POSITIVE_INFINITY;
  for (let t = fromDay; t < toDay; t++) low = Math.min(low, balance[t]!);
  return low;
}

const up = (quantity: number, step?: number) =>
  step === undefined ? quantity : Math.ceil(quantity / step - TOLERANCE) * step;
const down = (quantity: number, step?: number) =>
  step === undefined ? quantity : Math.floor(quantity / step + TOLERANCE) * step;

function shift(balance: Float64Array, fromDay: number, by: number): void {
  for (let t = fromDay; t < balance.length; t++) balance[t]! += by;
}

function netWith(side: Side, proposals: readonly TransferProposal[], series: SeriesSource): ItemNetting {
  const out = proposals.filter((t) => t.fromPlaceId === side.placeId);
  const into = proposals.filter((t) => t.toPlaceId === side.placeId);
  if (out.length + into.length === 0) return withOrders(side.position, side.alone, series);
  const needs: NeedLine[] = out.map((t) => ({
    itemCode: t.itemCode,
    day: t.sendDay,
    quantity: t.quantity,
    visitId: `transfer to ${t.toPlaceId}`,
    siteCode: t.toPlaceId,
    isTransfer: true,
  }));
  const receipts = (dayOf: (t: TransferProposal) => number): ReceiptDue[] =>
    into.map((t) => ({
      itemCode: t.itemCode,
      day: dayOf(t),
      quantity: t.quantity,
      orderCode: `transfer from ${t.fromPlaceId}`,
    }));
  const shelf = (dayOf: (t: TransferProposal) => number) =>
    shelfBalance(side.position, [...side.needs, ...needs], [...side.receipts, ...receipts(dayOf)], series);
  const seen = shelf((t) => t.arriveDay);
  if (into.every((t) => t.daysLate === 0)) return withOrders(side.position, seen, series);
  const sized = withOrders(
    side.position,
    shelf((t) => t.arriveDay - t.daysLate),
    series,
  );
  return { ...seen, net: sized.net, orders: sized.orders, projected: sized.projected };
}
