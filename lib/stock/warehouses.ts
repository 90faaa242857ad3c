/** Several warehouses: what one has to spare goes to the one that is short before anything is bought. */
import { arrivalDay, type WorkingWeek } from "@/lib/time";
import { pickDay } from "./needs";
import { byItem, checkInputs } from "./netting";
import { fallsShort, OrderedShelf, Shelf, ShelfDays } from "./shelf";
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
  /** A visit would stop, so its sender gives what it keeps back (safety stock, spares) or what it can buy again in time. */
  fromReserve?: true;
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
  /** The warehouses' working days: on others nothing leaves, arrives or is on its way. Absent = every day. */
  week?: WorkingWeek;
}

/** Balances this near to zero are zero. */
const TOLERANCE = 1e-9;

/**
 * Proposes transfers, then nets what remains.
 *
 * Day by day, each warehouse whose balance falls below its safety stock is helped by the others, the nearest first and of
 * equals the one with most to spare. To spare is what stays above the safety stock on every day from the day of sending
 * to the end of the horizon, so no transfer makes its sender short within it. Where a visit would still stop before anything
 * ordered today could come, the others give what they keep back too, as far as no visit of their own stops for it before
 * an order of theirs could come. What a proposal brings is never sent on; where a visit would stop, one that only fills
 * another's reserve is turned to it, straight from its sender. A transfer that would come late is proposed only when a purchase would not come sooner. In the receiver's netting a late transfer stands on the day it
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
  const sidesOf = new Map<string, Side[]>();
  for (const warehouse of ordered) {
    const needs = byItem(warehouse.needs);
    const receipts = byItem(warehouse.receipts);
    for (const position of warehouse.positions) {
      const { itemCode } = position;
      const side = {
        placeId: warehouse.placeId,
        position,
        needs: needs.get(itemCode) ?? [],
        receipts: receipts.get(itemCode) ?? [],
      };
      const sides = sidesOf.get(itemCode);
      if (sides) sides.push(side);
      else sidesOf.set(itemCode, [side]);
    }
  }
  const daysOf = ordered.map(() => new ShelfDays(dayCount));
  const transfers: TransferProposal[] = [];
  const nettings = new Map<string, WarehouseItem[]>(ordered.map((w) => [w.placeId, []]));
  for (const [, sides] of [...sidesOf].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const shelves = sides.map((s, i) => new Shelf(s.position, s.needs, s.receipts, daysOf[i]!));
    const isHelped =
      sides.length > 1 && sides.some(({ position }, i) => fallsShort(position, daysOf[i]!.balance));
    const proposals = isHelped ? transfersOf(sides, daysOf, rules) : [];
    transfers.push(...proposals);
    for (const [i, { placeId }] of sides.entries()) {
      const alone = shelves[i]!;
      nettings.get(placeId)!.push({ alone, withTransfers: netWith(placeId, alone, proposals, daysOf[i]!) });
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
}

/** What can be sent to a place that is short. */
interface Offer {
  side: number;
  days: number;
  sendDay: number;
  arriveDay: number;
  spare: number;
}

/** A proposal while it may still be turned elsewhere. */
interface Sent {
  sender: number;
  receiver: number;
  /** On which the receiver's balance has it. */
  day: number;
  proposal: TransferProposal;
}

/** What proposals bring to one side. */
interface Brought {
  byDay: Float64Array;
  /** Nothing before it. */
  firstDay: number;
}

/**
 * Transfers of one item.
 * @param daysOf of each side; their balances and sums (`rest` too) are used up, their flows are not
 */
function transfersOf(
  sides: readonly Side[],
  daysOf: readonly ShelfDays[],
  { transferDays, coverDays = 1, week }: TransferRules,
): TransferProposal[] {
  const proposals: Sent[] = [];
  const balances = sides.map((_, i) => daysOf[i]!.balance);
  // Without what will have to be bought, which `balances` has from the day on which it is wanted.
  const lying = balances.map((balance) => balance.slice());
  const dayCount = balances[0]!.length;
  /** What proposals bring on each day: it is not sent on, since it would not be there unless the first one went. */
  const brought = new Array<Brought | undefined>(sides.length);
  const own = (balance: Float64Array, i: number, fromDay: number, toDay: number) =>
    leastOwn(balance, lying[i]!, brought[i], fromDay, toDay);
  const buysFrom = (i: number, sendDay: number) =>
    Math.min(dayCount, Math.max(sendDay + 1, sides[i]!.position.leadTimeDays));
  /** First of the days in a row on which a visit stops. */
  const stopsSince = new Array<number | undefined>(sides.length);
  /** @param isReserve whether senders may give what they keep back */
  const offersTo = (receiver: number, day: number, isReserve: boolean): Offer[] => {
    const offers: Offer[] = [];
    for (const [i, side] of sides.entries()) {
      const balance = balances[i]!;
      const { safetyStock, transferStep } = side.position;
      // Nobody can give more than is over at the end, which is quickly seen.
      if (i === receiver || (!isReserve && balance[dayCount - 1]! - safetyStock <= TOLERANCE)) continue;
      const to = sides[receiver]!;
      const days = transferDays(side.placeId, to.placeId);
      if (days === undefined) continue;
      const { sendDay, arriveDay } = wayTo(day, days, week);
      if (arriveDay > Math.max(day, to.position.leadTimeDays)) continue;
      const over = isReserve
        ? own(lying[i]!, i, sendDay, buysFrom(i, sendDay))
        : own(balance, i, sendDay, dayCount) - safetyStock;
      const spare = down(over, transferStep);
      if (spare > TOLERANCE) offers.push({ side: i, days, sendDay, arriveDay, spare });
    }
    return offers.length > 1 ? offers.sort((a, b) => a.days - b.days || b.spare - a.spare) : offers;
  };
  const move = (i: number, day: number, quantity: number) => {
    shift(balances[i]!, day, quantity);
    shift(lying[i]!, day, quantity);
  };
  const bring = (i: number, day: number, quantity: number) => {
    move(i, day, quantity);
    const known = brought[i] ?? { byDay: daysOf[i]!.rest.fill(0), firstDay: day };
    known.byDay[day]! += quantity;
    if (day < known.firstDay) known.firstDay = day;
    brought[i] = known;
  };
  const send = (
    sender: number,
    receiver: number,
    { sendDay, arriveDay }: Pick<Offer, "sendDay" | "arriveDay">,
    {
      day,
      quantity,
      wantedDay,
      isReserve,
    }: { day: number; quantity: number; wantedDay: number; isReserve: boolean },
  ) => {
    const { safetyStock, itemCode } = sides[sender]!.position;
    const fromReserve =
      isReserve && least(lying[sender]!, sendDay, dayCount) - safetyStock < quantity - TOLERANCE;
    proposals.push({
      sender,
      receiver,
      day,
      proposal: {
        itemCode,
        fromPlaceId: sides[sender]!.placeId,
        toPlaceId: sides[receiver]!.placeId,
        quantity,
        sendDay,
        arriveDay,
        daysLate: Math.max(0, arriveDay - wantedDay),
        ...(fromReserve ? { fromReserve } : {}),
      },
    });
    move(sender, sendDay, -quantity);
    bring(receiver, day, quantity);
  };
  /** @param wantedDay on which it has been wanted; what nobody can send for that day is asked for on the days after */
  const help = (receiver: number, day: number, wanted: number, isReserve: boolean, wantedDay = day) => {
    const { transferStep } = sides[receiver]!.position;
    let short = wanted;
    for (const offer of offersTo(receiver, day, isReserve)) {
      if (short <= TOLERANCE) break;
      const quantity = Math.min(up(short, transferStep), offer.spare);
      send(offer.side, receiver, offer, { day, quantity, wantedDay, isReserve });
      short -= quantity;
    }
    if (isReserve && short > TOLERANCE) divert(receiver, day, short, wantedDay);
  };
  /** What was to go to a place where no visit would stop for want of it comes here instead, straight from its sender. */
  const divert = (receiver: number, day: number, wanted: number, wantedDay: number) => {
    const { placeId, position } = sides[receiver]!;
    const { transferStep, leadTimeDays } = position;
    let short = wanted;
    for (const sent of [...proposals]) {
      if (short <= TOLERANCE) break;
      const { sender, proposal } = sent;
      if (sent.receiver === receiver || sender === receiver) continue;
      const days = transferDays(proposal.fromPlaceId, placeId);
      if (days === undefined) continue;
      const way = wayTo(day, days, week);
      if (way.arriveDay > Math.max(day, leadTimeDays)) continue;
      const unneeded = least(lying[sent.receiver]!, sent.day, buysFrom(sent.receiver, sent.day));
      const quantity = Math.min(
        up(short, transferStep),
        down(Math.min(proposal.quantity, unneeded), transferStep),
      );
      if (quantity <= TOLERANCE) continue;
      move(sender, proposal.sendDay, quantity);
      if (own(lying[sender]!, sender, way.sendDay, buysFrom(sender, way.sendDay)) < quantity - TOLERANCE) {
        move(sender, proposal.sendDay, -quantity);
        continue;
      }
      bring(sent.receiver, sent.day, -quantity);
      proposal.quantity -= quantity;
      send(sender, receiver, way, { day, quantity, wantedDay, isReserve: true });
      short -= quantity;
    }
  };
  for (let day = 0; day < dayCount; day++) {
    for (let i = 0; i < sides.length; i++) {
      const balance = balances[i]!;
      const { safetyStock, leadTimeDays } = sides[i]!.position;
      const cover = Math.min(dayCount, day + coverDays);
      if (safetyStock - balance[day]! > TOLERANCE)
        help(i, day, safetyStock - least(balance, day, cover), false);
      stopsSince[i] = lying[i]![day]! < -TOLERANCE ? (stopsSince[i] ?? day) : undefined;
      if (day < leadTimeDays && stopsSince[i] !== undefined)
        help(i, day, -least(lying[i]!, day, Math.min(cover, leadTimeDays)), true, stopsSince[i]);
      // What no warehouse can give is bought (`OrderedShelf` says how), unless it comes anyway by the day on which a new
      // order would (`flowForOrders`).
      const toBuy = safetyStock - highest(balance, day, Math.max(day, leadTimeDays) + 1);
      if (toBuy > TOLERANCE) shift(balance, day, toBuy);
    }
  }
  return proposals.flatMap(({ proposal }) => (proposal.quantity > TOLERANCE ? proposal : []));
}

/** When it leaves, as late as it may to be there on `wanted`, and when it comes; what should have left leaves now. */
function wayTo(
  wanted: number,
  days: number,
  week: WorkingWeek | undefined,
): { sendDay: number; arriveDay: number } {
  const arriveDay = pickDay(wanted, 0, week);
  const sendDay = pickDay(arriveDay, days, week);
  if (sendDay >= 0) return { sendDay, arriveDay };
  const { leaves, arrives } = arrivalDay(0, days, week);
  return { sendDay: leaves, arriveDay: arrives };
}

function least(balance: Float64Array, fromDay: number, toDay: number): number {
  let low = Number.POSITIVE_INFINITY;
  for (let t = fromDay; t < toDay; t++) low = Math.min(low, balance[t]!);
  return low;
}

/**
 * Least of a balance without what was brought and still lies there: needs use it up, so no more of it is left than lay
 * there on any day since.
 */
function leastOwn(
  balance: Float64Array,
  lying: Float64Array,
  brought: Brought | undefined,
  fromDay: number,
  toDay: number,
): number {
  if (!brought) return least(balance, fromDay, toDay);
  const { byDay, firstDay } = brought;
  let low = least(balance, fromDay, Math.min(firstDay, toDay));
  let left = 0;
  for (let t = firstDay; t < toDay; t++) {
    left = Math.min(left + byDay[t]!, Math.max(0, lying[t]!));
    if (t >= fromDay) low = Math.min(low, balance[t]! - left);
  }
  return low;
}

function highest(balance: Float64Array, fromDay: number, toDay: number): number {
  let high = Number.NEGATIVE_INFINITY;
  for (let t = fromDay; t < toDay && t < balance.length; t++) high = Math.max(high, balance[t]!);
  return high;
}

const up = (quantity: number, step?: number) =>
  step === undefined ? quantity : Math.ceil(quantity / step - TOLERANCE) * step;
const down = (quantity: number, step?: number) =>
  step === undefined ? quantity : Math.floor(quantity / step + TOLERANCE) * step;

function shift(balance: Float64Array, fromDay: number, by: number): void {
  for (let t = fromDay; t < balance.length; t++) balance[t]! += by;
}

/** @param days this shelf's flow; its balance may be used up */
function netWith(
  placeId: string,
  alone: Shelf,
  proposals: readonly TransferProposal[],
  days: ShelfDays,
): ItemNetting {
  const out = proposals.filter((t) => t.fromPlaceId === placeId);
  const into = proposals.filter((t) => t.toPlaceId === placeId);
  if (out.length + into.length === 0) return new OrderedShelf(alone, alone.fill(days));
  const needs = out.map(
    (t): NeedLine => ({
      itemCode: t.itemCode,
      day: t.sendDay,
      quantity: t.quantity,
      visitId: `transfer to ${t.toPlaceId}`,
      siteCode: t.toPlaceId,
      isTransfer: true,
    }),
  );
  const shelf = (dayOf: (t: TransferProposal) => number) =>
    alone.with(
      needs,
      into.map(
        (t): ReceiptDue => ({
          itemCode: t.itemCode,
          day: dayOf(t),
          quantity: t.quantity,
          orderCode: `transfer from ${t.fromPlaceId}`,
        }),
      ),
      days,
    );
  const seen = shelf((t) => t.arriveDay);
  if (into.every((t) => t.daysLate === 0)) return new OrderedShelf(seen, days);
  const sized = shelf((t) => t.arriveDay - t.daysLate);
  return new OrderedShelf(seen, days, sized);
}
