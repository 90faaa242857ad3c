/** Several warehouses: what one has to spare goes to the one that is short before anything is bought. */
import { netByDate } from "./netting";
import type { ItemNetting, ItemPosition, NeedLine, ReceiptDue } from "./types";

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

export interface WarehousesNetting {
  transfers: TransferProposal[];
  /** Per warehouse, as `netByDate` with the transfers in and out: its orders are what remains to be bought. */
  nettings: Map<string, ItemNetting[]>;
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
 * @param transferDays days from one place to another; undefined = no transfers that way
 * @throws RangeError as `netByDate` does
 */
export function netWarehouses(
  warehouses: readonly Warehouse[],
  transferDays: (fromPlaceId: string, toPlaceId: string) => number | undefined,
  dayCount: number,
): WarehousesNetting {
  const ordered = [...warehouses].sort((a, b) => (a.placeId < b.placeId ? -1 : 1));
  const codes = new Set(ordered.flatMap((w) => w.positions.map((position) => position.itemCode)));
  const transfers = [...codes]
    .sort()
    .flatMap((itemCode) => transfersOf(itemCode, ordered, transferDays, dayCount));
  const nettings = new Map(
    ordered.map((warehouse) => {
      const own = withTransfers(warehouse, transfers, (t) => t.arriveDay);
      const inTime = withTransfers(warehouse, transfers, (t) => t.arriveDay - t.daysLate);
      const seen = netByDate(own.needs, own.receipts, warehouse.positions, dayCount);
      const sized = netByDate(inTime.needs, inTime.receipts, warehouse.positions, dayCount);
      const merged = seen.map((item, k) => {
        const { net, orders, projected } = sized[k]!;
        return { ...item, net, orders, projected };
      });
      return [warehouse.placeId, merged] as const;
    }),
  );
  return { transfers, nettings };
}

interface Side {
  placeId: string;
  position: ItemPosition;
  /** Balance per day with transfers, and with what will have to be bought. */
  balance: Float64Array;
}

function transfersOf(
  itemCode: string,
  warehouses: readonly Warehouse[],
  transferDays: (fromPlaceId: string, toPlaceId: string) => number | undefined,
  dayCount: number,
): TransferProposal[] {
  const sides = warehouses.flatMap((warehouse) => sideOf(itemCode, warehouse, dayCount));
  const proposals: TransferProposal[] = [];
  for (let day = 0; day < dayCount; day++) {
    for (const receiver of sides) {
      let short = receiver.position.safetyStock - receiver.balance[day]!;
      if (short <= TOLERANCE) continue;
      const donors = sides
        .filter((side) => side !== receiver)
        .map((side) => ({ side, days: transferDays(side.placeId, receiver.placeId) }))
        .filter((donor): donor is { side: Side; days: number } => donor.days !== undefined)
        .map(({ side, days }) => {
          const sendDay = Math.max(0, day - days);
          return { side, sendDay, arriveDay: Math.max(day, days), spare: spareFrom(side, sendDay), days };
        })
        .filter((d) => d.spare > TOLERANCE && d.arriveDay <= Math.max(day, receiver.position.leadTimeDays))
        .sort((a, b) => a.days - b.days || b.spare - a.spare);
      for (const { side, sendDay, arriveDay, spare } of donors) {
        if (short <= TOLERANCE) break;
        const quantity = Math.min(short, spare);
        proposals.push({
          itemCode,
          fromPlaceId: side.placeId,
          toPlaceId: receiver.placeId,
          quantity,
          sendDay,
          arriveDay,
          daysLate: arriveDay - day,
        });
        shift(side.balance, sendDay, -quantity);
        shift(receiver.balance, day, quantity);
        short -= quantity;
      }
      if (short > TOLERANCE) shift(receiver.balance, day, short); // bought: `netByDate` says how
    }
  }
  return proposals;
}

function sideOf(itemCode: string, warehouse: Warehouse, dayCount: number): Side[] {
  const position = warehouse.positions.find((p) => p.itemCode === itemCode);
  if (!position) return [];
  const own = <T extends { itemCode: string }>(rows: readonly T[]) =>
    rows.filter((r) => r.itemCode === itemCode);
  const [item] = netByDate(own(warehouse.needs), own(warehouse.receipts), [position], dayCount);
  return [{ placeId: warehouse.placeId, position, balance: item!.projectedWithoutOrders.slice() }];
}

/** Least balance above the safety stock from a day on. */
function spareFrom(side: Side, day: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (let t = day; t < side.balance.length; t++) least = Math.min(least, side.balance[t]!);
  return least - side.position.safetyStock;
}

function shift(balance: Float64Array, fromDay: number, by: number): void {
  for (let t = fromDay; t < balance.length; t++) balance[t]! += by;
}

/** The warehouse with transfers in as receipts and transfers out as needs. */
function withTransfers(
  warehouse: Warehouse,
  transfers: readonly TransferProposal[],
  arrivalOf: (transfer: TransferProposal) => number,
): Pick<Warehouse, "needs" | "receipts"> {
  const outgoing = transfers
    .filter((t) => t.fromPlaceId === warehouse.placeId)
    .map((t) => ({
      itemCode: t.itemCode,
      day: t.sendDay,
      quantity: t.quantity,
      visitId: `transfer to ${t.toPlaceId}`,
      siteCode: t.toPlaceId,
    }));
  const incoming = transfers
    .filter((t) => t.toPlaceId === warehouse.placeId)
    .map((t) => ({
      itemCode: t.itemCode,
      day: arrivalOf(t),
      quantity: t.quantity,
      orderCode: `transfer from ${t.fromPlaceId}`,
    }));
  return { needs: [...warehouse.needs, ...outgoing], receipts: [...warehouse.receipts, ...incoming] };
}
