/** From when a kit can be whole: stock, orders on the way and what can still be ordered, shared out by promise. */
import type { ItemPosition, ReceiptDue } from "./types";

export interface VisitClaim {
  visitId: string;
  /** Who was promised first is served first; undefined comes last. */
  promiseDay?: number;
  /** Among equal promises the higher goes first. Default 0. */
  priority?: number;
  /** The day on which its plan takes the kit: what comes up to then it leaves to those who follow. Absent = at once. */
  wantedDay?: number;
  lines: readonly { itemCode: string; quantity: number }[];
}

export interface LineSupply {
  itemCode: string;
  /** undefined = never: the item has no stock position, so nothing is known to come. */
  readyDay?: number;
  /** Where its last unit comes from. */
  from: "on hand" | "on the way" | "to order" | "nowhere";
  orderCode?: string;
}

export interface VisitSupply {
  visitId: string;
  /** Earliest day on which the kit can be whole; undefined = never. */
  readyDay?: number;
  /** The item that comes last; undefined when everything is on hand. */
  bindingItem?: string;
  lines: readonly LineSupply[];
}

/** One batch of supply still unclaimed, usable from `day` to `lastDay`. */
interface Batch {
  day: number;
  lastDay: number;
  left: number;
  from: "on hand" | "on the way";
  orderCode?: string;
}

interface ItemSupply {
  /** An order placed on day 0 is there on this day, in any quantity. */
  orderDay: number;
  /** By `day`. */
  batches: Batch[];
}

/**
 * Shares out supply by promise and says per visit the earliest day on which its kit can be whole.
 *
 * Visits are served in the order of promise, priority, id. The day of a visit is the first on which unclaimed stock and
 * receipts suffice for every line, and never later than an order placed on day 0 takes. What it claims it then takes
 * as late as it can: receipts just before that day (or the later day on which its plan wants it), or a new order where
 * that is in time. Earlier batches stay for those who follow, so a visit that must wait for one item does not sit on
 * another that somebody could use first.
 * Safety stock is there to be used, so it is not held back. A lot counts up to its last day.
 *
 * @returns in the order of `visits`
 * @throws RangeError on a negative quantity
 */
export function earliestReadyDays(
  visits: readonly VisitClaim[],
  positions: readonly ItemPosition[],
  receipts: readonly ReceiptDue[],
): VisitSupply[] {
  const supplyOf = new Map(positions.map((position) => [position.itemCode, supplyFor(position, receipts)]));
  const inOrder = [...visits.keys()].sort((a, b) => byPromise(visits[a]!, visits[b]!));
  const results = new Array<VisitSupply>(visits.length);
  for (const index of inOrder) {
    const { visitId, lines, wantedDay = 0 } = visits[index]!;
    const wanted = perItem(lines);
    const linesFrom = (day: number) =>
      [...wanted].map(([itemCode, quantity]) => lineSupply(itemCode, quantity, supplyOf.get(itemCode), day));
    let found = linesFrom(0);
    const never = found.find((line) => line.readyDay === undefined);
    if (never) {
      results[index] = { visitId, bindingItem: never.itemCode, lines: found };
      continue;
    }
    let readyDay = dayForAll(wanted, supplyOf, 0);
    const takenOn = dayForAll(wanted, supplyOf, Math.max(readyDay, wantedDay));
    if (takenOn > Math.max(readyDay, wantedDay)) {
      // What could be had earlier has expired by the day on which the plan wants it.
      readyDay = takenOn;
      found = linesFrom(wantedDay);
    }
    for (const [itemCode, quantity] of wanted) claim(supplyOf.get(itemCode)!, quantity, takenOn);
    const latest = Math.max(0, ...found.map((line) => line.readyDay!));
    const last = found.find((line) => line.readyDay === latest && line.from !== "on hand");
    results[index] = { visitId, readyDay, ...(last ? { bindingItem: last.itemCode } : {}), lines: found };
  }
  return results;
}

/** First day on which every line can be had: waiting for one item may let a lot of another expire, hence the rounds. */
function dayForAll(
  wanted: ReadonlyMap<string, number>,
  supplyOf: ReadonlyMap<string, ItemSupply>,
  fromDay: number,
): number {
  let day = fromDay;
  for (;;) {
    const days = [...wanted].map(
      ([code, quantity]) => lineSupply(code, quantity, supplyOf.get(code), day).readyDay!,
    );
    const next = Math.max(day, ...days);
    if (next === day) return day;
    day = next;
  }
}

function byPromise(a: VisitClaim, b: VisitClaim): number {
  const day = (visit: VisitClaim) => visit.promiseDay ?? Number.MAX_SAFE_INTEGER;
  return (
    day(a) - day(b) ||
    (b.priority ?? 0) - (a.priority ?? 0) ||
    (a.visitId < b.visitId ? -1 : a.visitId > b.visitId ? 1 : 0)
  );
}

function supplyFor(position: ItemPosition, receipts: readonly ReceiptDue[]): ItemSupply {
  const lots = position.lots ?? [];
  const keeps = position.onHand - lots.reduce((sum, lot) => sum + lot.quantity, 0);
  const batches: Batch[] = [
    { day: 0, lastDay: Number.POSITIVE_INFINITY, left: keeps, from: "on hand" },
    ...lots.map(({ quantity, lastDay }): Batch => ({ day: 0, lastDay, left: quantity, from: "on hand" })),
    ...receipts
      .filter((receipt) => receipt.itemCode === position.itemCode)
      .map(
        ({ day, quantity, orderCode }): Batch => ({
          day: Math.max(0, day),
          lastDay: Number.POSITIVE_INFINITY,
          left: quantity,
          from: "on the way",
          orderCode,
        }),
      ),
  ];
  batches.sort((a, b) => a.day - b.day || Number(a.from === "on the way") - Number(b.from === "on the way"));
  return { orderDay: position.leadTimeDays, batches };
}

function perItem(lines: VisitClaim["lines"]): Map<string, number> {
  const sums = new Map<string, number>();
  for (const { itemCode, quantity } of lines) {
    if (!(quantity >= 0)) throw new RangeError(`item ${itemCode}: quantity must be >= 0, got ${quantity}`);
    if (quantity > 0) sums.set(itemCode, (sums.get(itemCode) ?? 0) + quantity);
  }
  return sums;
}

/** The rounding of sums of doubles. */
const TOLERANCE = 1e-9;

/** Earliest day from `fromDay` on which the quantity can be had. */
function lineSupply(
  itemCode: string,
  quantity: number,
  supply: ItemSupply | undefined,
  fromDay: number,
): LineSupply {
  if (!supply) return { itemCode, from: "nowhere" };
  const { batches, orderDay } = supply;
  const days = [fromDay, ...batches.map((batch) => batch.day).filter((day) => day > fromDay)];
  for (const day of days) {
    if (day >= orderDay && day > fromDay) break; // an order placed on day 0 is there no later
    const usable = batches.filter((batch) => batch.day <= day && day <= batch.lastDay && batch.left > 0);
    let missing = quantity;
    for (const batch of usable) {
      missing -= batch.left;
      if (missing > TOLERANCE) continue;
      const { from, orderCode } = batch;
      return { itemCode, readyDay: day, from, ...(orderCode === undefined ? {} : { orderCode }) };
    }
  }
  return { itemCode, readyDay: Math.max(fromDay, orderDay), from: "to order" };
}

/** Takes the quantity as late as `day` allows; see `earliestReadyDays`. */
function claim(supply: ItemSupply, quantity: number, day: number): void {
  let left = quantity;
  const usable = supply.batches.filter((batch) => batch.day <= day && day <= batch.lastDay);
  usable.sort((a, b) => b.day - a.day || a.lastDay - b.lastDay); // of one day the first to expire
  for (const batch of usable) {
    if (left <= 0 || (day >= supply.orderDay && batch.day <= supply.orderDay)) return; // the rest is ordered
    const taken = Math.min(left, batch.left);
    batch.left -= taken;
    left -= taken;
  }
}
