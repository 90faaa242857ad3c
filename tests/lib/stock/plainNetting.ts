/** Netting by warehouse as it is written down: every series made anew. What the quick way in lib/stock is held against. */
import type {
  ItemNetting,
  ItemPosition,
  NeedLine,
  PlannedOrder,
  ReceiptDue,
  ShelfBalance,
  TransferProposal,
  TransferRules,
  Warehouse,
  WarehouseItem,
} from "@/lib/stock";
import { expiringByDay } from "@/lib/stock/expiry";
import { flowForOrders, lotSizes } from "@/lib/stock/lotSizing";

const TOLERANCE = 1e-9;

export function plainNetting(
  warehouses: readonly Warehouse[],
  rules: TransferRules,
  dayCount: number,
): { transfers: TransferProposal[]; nettings: Map<string, WarehouseItem[]> } {
  const ordered = [...warehouses].sort((a, b) => (a.placeId < b.placeId ? -1 : 1));
  const codes = [...new Set(ordered.flatMap((w) => w.positions.map((p) => p.itemCode)))].sort();
  const transfers: TransferProposal[] = [];
  const nettings = new Map<string, WarehouseItem[]>(ordered.map((w) => [w.placeId, []]));
  for (const code of codes) {
    const sides = ordered.flatMap((w) =>
      w.positions
        .filter((p) => p.itemCode === code)
        .map((position): Side => {
          const needs = w.needs.filter((n) => n.itemCode === code);
          const receipts = w.receipts.filter((r) => r.itemCode === code);
          const alone = shelfBalance(position, needs, receipts, dayCount);
          const balance = alone.projectedWithoutOrders;
          return { placeId: w.placeId, position, needs, receipts, alone, balance };
        }),
    );
    const proposals = transfersOf(sides, rules, dayCount);
    transfers.push(...proposals);
    for (const side of sides)
      nettings
        .get(side.placeId)!
        .push({ alone: side.alone, withTransfers: netWith(side, proposals, dayCount) });
  }
  return { transfers, nettings };
}

type PlainShelf = ShelfBalance & Pick<ItemNetting, "waits">;

/** One item at one warehouse. */
interface Side {
  placeId: string;
  position: ItemPosition;
  needs: readonly NeedLine[];
  receipts: readonly ReceiptDue[];
  alone: PlainShelf;
  /** Balance per day with transfers, and with what will have to be bought. */
  balance: Float64Array;
}

function transfersOf(
  allSides: readonly Side[],
  { transferDays, coverDays = 1 }: TransferRules,
  dayCount: number,
): TransferProposal[] {
  const sides = allSides.map((side): Side => ({ ...side, balance: side.balance.slice() }));
  /** Without what will have to be bought. */
  const lying = new Map(sides.map((side) => [side, side.balance.slice()]));
  const stopsSince = new Map<Side, number>();
  /** What was decided, with the day on which the receiver has it. */
  const decided: { from: Side; to: Side; day: number; transfer: TransferProposal }[] = [];
  /** Least of a balance without what transfers bring and no need has used up: that is not sent on. */
  const ownLeast = (side: Side, balance: Float64Array, fromDay: number, toDay: number) => {
    const left = new Float64Array(dayCount);
    for (let day = 0; day < dayCount; day++) {
      const come = arrivals
        .filter(([to, on]) => to === side && on === day)
        .reduce((sum, [, , q]) => sum + q, 0);
      left[day] = Math.min((left[day - 1] ?? 0) + come, Math.max(0, lying.get(side)![day]!));
    }
    return least(
      balance.map((b, t) => b - left[t]!),
      fromDay,
      toDay,
    );
  };
  const arrivals: [to: Side, day: number, quantity: number][] = [];
  const buysFrom = (side: Side, sendDay: number) =>
    Math.min(dayCount, Math.max(sendDay + 1, side.position.leadTimeDays));
  const move = (side: Side, day: number, quantity: number) => {
    for (const balance of [side.balance, lying.get(side)!]) shift(balance, day, quantity);
  };
  for (let day = 0; day < dayCount; day++) {
    for (const receiver of sides) {
      const { safetyStock, leadTimeDays } = receiver.position;
      const cover = Math.min(dayCount, day + coverDays);
      if (safetyStock - receiver.balance[day]! > TOLERANCE)
        give(receiver, day, safetyStock - least(receiver.balance, day, cover), false);
      // A visit stops before an order could come: the others' reserves help, as far as they can buy anew in time.
      const here = lying.get(receiver)!;
      if (here[day]! >= -TOLERANCE) stopsSince.delete(receiver);
      else if (!stopsSince.has(receiver)) stopsSince.set(receiver, day);
      if (day < leadTimeDays && here[day]! < -TOLERANCE)
        give(receiver, day, -least(here, day, Math.min(cover, leadTimeDays)), true);
      // What no warehouse can give and nothing brings before a new order could is bought; `withOrders` says how.
      const toBuy = safetyStock - Math.max(...receiver.balance.slice(day, Math.max(day, leadTimeDays) + 1));
      if (toBuy > TOLERANCE) shift(receiver.balance, day, toBuy);
    }
  }
  return decided.map((d) => d.transfer).filter((t) => t.quantity > TOLERANCE);

  function give(receiver: Side, day: number, wanted: number, isReserve: boolean): void {
    const { leadTimeDays, transferStep } = receiver.position;
    let short = wanted;
    const donors = sides
      // Nobody can give more than is over at the end, which is quickly seen.
      .filter(
        (side) =>
          side !== receiver &&
          (isReserve || side.balance[dayCount - 1]! - side.position.safetyStock > TOLERANCE),
      )
      .map((side) => ({ side, days: transferDays(side.placeId, receiver.placeId) }))
      .filter((donor): donor is { side: Side; days: number } => donor.days !== undefined)
      .map(({ side, days }) => {
        const sendDay = Math.max(0, day - days);
        const spare = isReserve
          ? ownLeast(side, lying.get(side)!, sendDay, buysFrom(side, sendDay))
          : ownLeast(side, side.balance, sendDay, dayCount) - side.position.safetyStock;
        return { side, sendDay, arriveDay: Math.max(day, days), spare: down(spare, transferStep), days };
      })
      .filter((d) => d.spare > TOLERANCE && d.arriveDay <= Math.max(day, leadTimeDays))
      .sort((a, b) => a.days - b.days || b.spare - a.spare);
    for (const { side, sendDay, arriveDay, spare } of donors) {
      if (short <= TOLERANCE) break;
      const quantity = Math.min(up(short, transferStep), spare);
      send(side, receiver, day, { quantity, sendDay, arriveDay }, isReserve);
      short -= quantity;
    }
    if (!isReserve) return;
    // What only fills a reserve elsewhere goes straight to the visit that would stop.
    for (const d of [...decided]) {
      if (short <= TOLERANCE) break;
      if (d.to === receiver || d.from === receiver) continue;
      const days = transferDays(d.from.placeId, receiver.placeId);
      if (days === undefined || days > Math.max(day, leadTimeDays)) continue;
      const sendDay = Math.max(0, day - days);
      const unneeded = least(lying.get(d.to)!, d.day, buysFrom(d.to, d.day));
      const most = down(Math.min(d.transfer.quantity, unneeded), transferStep);
      const quantity = Math.min(up(short, transferStep), most);
      if (quantity <= TOLERANCE) continue;
      move(d.from, d.transfer.sendDay, quantity);
      const has = ownLeast(d.from, lying.get(d.from)!, sendDay, buysFrom(d.from, sendDay));
      if (has < quantity - TOLERANCE) {
        move(d.from, d.transfer.sendDay, -quantity);
        continue;
      }
      move(d.to, d.day, -quantity);
      arrivals.push([d.to, d.day, -quantity]);
      d.transfer.quantity -= quantity;
      send(d.from, receiver, day, { quantity, sendDay, arriveDay: Math.max(day, days) }, true);
      short -= quantity;
    }
  }

  function send(
    from: Side,
    to: Side,
    day: number,
    how: Pick<TransferProposal, "quantity" | "sendDay" | "arriveDay">,
    isReserve: boolean,
  ): void {
    const { quantity, sendDay, arriveDay } = how;
    const free = least(lying.get(from)!, sendDay, dayCount) - from.position.safetyStock;
    const transfer = {
      itemCode: to.position.itemCode,
      fromPlaceId: from.placeId,
      toPlaceId: to.placeId,
      ...how,
      daysLate: Math.max(0, arriveDay - (isReserve ? stopsSince.get(to)! : day)),
      ...(isReserve && free < quantity - TOLERANCE ? { fromReserve: true as const } : {}),
    };
    decided.push({ from, to, day, transfer });
    move(from, sendDay, -quantity);
    move(to, day, quantity);
    arrivals.push([to, day, quantity]);
  }
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

function netWith(side: Side, proposals: readonly TransferProposal[], dayCount: number): ItemNetting {
  const out = proposals.filter((t) => t.fromPlaceId === side.placeId);
  const into = proposals.filter((t) => t.toPlaceId === side.placeId);
  if (out.length + into.length === 0) return withOrders(side.position, side.alone);
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
    shelfBalance(side.position, [...side.needs, ...needs], [...side.receipts, ...receipts(dayOf)], dayCount);
  const seen = shelf((t) => t.arriveDay);
  if (into.every((t) => t.daysLate === 0)) return withOrders(side.position, seen);
  const sized = withOrders(
    side.position,
    shelf((t) => t.arriveDay - t.daysLate),
  );
  return { ...sized, ...seen };
}

/** One item at one place with nothing ordered anew; the rows are its own and were checked. */
function shelfBalance(
  position: ItemPosition,
  needs: readonly NeedLine[],
  receipts: readonly ReceiptDue[],
  dayCount: number,
): PlainShelf {
  const gross = addByDay(new Float64Array(dayCount), needs);
  const scheduled = addByDay(new Float64Array(dayCount), receipts);
  const projected = new Float64Array(gross.length);
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
    waits: waitsOf(position, needs, scheduled, expiring, dayCount),
  };
}

/** What to order for it. */
function withOrders(position: ItemPosition, shelf: PlainShelf): ItemNetting {
  const { gross, scheduled, expiring } = shelf;
  const projected = new Float64Array(gross.length);
  for (let day = 0; day < gross.length; day++)
    projected[day] = scheduled[day]! - gross[day]! - (expiring?.[day] ?? 0);
  const lots = lotSizes(position, flowForOrders(position, projected.slice()), new Float64Array(gross.length));
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
 * the claim, also on a receipt that comes later, until an order placed today would come.
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
      // What an order placed today brings waits for no receipt.
      if (day >= position.leadTimeDays && balance < 0) balance = 0;
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

/** Day by day: who has all that is claimed up to its turn, or what an order of today brings. */
function waitsOf(
  position: ItemPosition,
  needs: readonly NeedLine[],
  scheduled: Float64Array,
  expiring: Float64Array | undefined,
  dayCount: number,
): ItemNetting["waits"] {
  const inTurn = needs
    .filter((need) => need.day < dayCount && need.quantity > 0)
    .sort((a, b) => a.day - b.day || (a.visitId < b.visitId ? -1 : a.visitId > b.visitId ? 1 : 0));
  const come = (day: number) =>
    position.onHand +
    [...scheduled].slice(0, day + 1).reduce((a, b) => a + b, 0) -
    [...(expiring ?? [])].slice(0, day + 1).reduce((a, b) => a + b, 0);
  return inTurn.flatMap((need, i) => {
    if (need.isTransfer) return [];
    const claimed = inTurn.slice(0, i + 1).reduce((sum, n) => sum + n.quantity, 0);
    const from = Math.max(0, need.day);
    let day = from;
    while (come(day) < claimed - TOLERANCE && day < position.leadTimeDays) day++;
    if (day === from) return [];
    return [
      {
        visitId: need.visitId,
        day: need.day,
        missing: Math.min(need.quantity, claimed - come(from)),
        coveredDay: day,
      },
    ];
  });
}

function addByDay(sums: Float64Array, rows: readonly { day: number; quantity: number }[]): Float64Array {
  for (const { day, quantity } of rows) if (day < sums.length) sums[Math.max(0, day)]! += quantity;
  return sums;
}
