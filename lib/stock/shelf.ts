/**
 * One item at one place, day by day.
 *
 * A large catalogue has a hundred thousand shelves, and hardly anybody looks at the days of most of them. So a shelf
 * keeps the rows that its days are made of, and makes a series when it is asked for one; while netting, the days lie in
 * memory that serves the next shelf too (tests/bench/netting.bench.ts).
 */
import { expiringByDay } from "./expiry";
import { flowForOrders, lotSizes } from "./lotSizing";
import { byTurn } from "./needs";
import type {
  ItemNetting,
  ItemPosition,
  NeedLine,
  PlannedOrder,
  ReceiptDue,
  ShelfBalance,
  Wait,
} from "./types";
import type { Lot } from "./wagnerWhitin";

/** Sums of doubles: a balance this near to zero is zero. Quantities are pieces or metres with two decimals. */
const TOLERANCE = 1e-9;

const NONE: readonly never[] = Object.freeze([]);

/** The days of one shelf while it is netted. */
export class ShelfDays {
  /** Receipts - needs - losses per day, without new orders. */
  readonly flow: Float64Array;
  /** What that leaves at the end of each day. */
  readonly balance: Float64Array;
  /** For sums that nobody keeps. */
  readonly rest: Float64Array;

  constructor(dayCount: number) {
    this.flow = new Float64Array(dayCount);
    this.balance = new Float64Array(dayCount);
    this.rest = new Float64Array(dayCount);
  }
}

/** With nothing ordered anew. */
export class Shelf implements ShelfBalance {
  readonly runsOutDay: number | undefined;
  readonly stops: ShelfBalance["stops"];
  readonly overdueReceipts: readonly string[];
  readonly dayCount: number;

  /**
   * @param needs    its own, checked, as the receipts are
   * @param days     become this shelf's days
   */
  constructor(
    readonly position: ItemPosition,
    private readonly needs: readonly NeedLine[],
    private readonly receipts: readonly ReceiptDue[],
    days: ShelfDays,
  ) {
    this.dayCount = days.flow.length;
    this.fill(days);
    this.runsOutDay = firstBelow(days.balance, 0);
    this.stops =
      this.runsOutDay === undefined ? NONE : stopsOf(position, needs, this.scheduled, this.expiring);
    this.overdueReceipts = receipts.some(isOverdue)
      ? receipts.filter(isOverdue).map((r) => r.orderCode)
      : NONE;
  }

  get itemCode(): string {
    return this.position.itemCode;
  }

  get gross(): Float64Array {
    return addByDay(new Float64Array(this.dayCount), this.needs);
  }

  get scheduled(): Float64Array {
    return addByDay(new Float64Array(this.dayCount), this.receipts);
  }

  get expiring(): Float64Array | undefined {
    return hasLots(this.position) ? expiringByDay(this.position, this.gross, this.dayCount) : undefined;
  }

  get projectedWithoutOrders(): Float64Array {
    return this.fill(new ShelfDays(this.dayCount)).balance;
  }

  get waits(): readonly Wait[] {
    return this.stops.length === 0 ? NONE : waitsOf(this.position, this.needs, this.scheduled, this.expiring);
  }

  /** Its rows and more. */
  with(needs: readonly NeedLine[], receipts: readonly ReceiptDue[], days: ShelfDays): Shelf {
    return new Shelf(this.position, [...this.needs, ...needs], [...this.receipts, ...receipts], days);
  }

  fill(days: ShelfDays): ShelfDays {
    const { flow, balance, rest } = days;
    const { needs, receipts, position } = this;
    const gross = addByDay(rest.fill(0), needs);
    const expiring = hasLots(position) ? expiringByDay(position, gross, this.dayCount) : undefined;
    addByDay(flow.fill(0), receipts);
    for (let day = 0; day < flow.length; day++) flow[day] = flow[day]! - gross[day]! - (expiring?.[day] ?? 0);
    runningSum(position.onHand, flow, balance);
    return days;
  }
}

/** What to order for it. */
export class OrderedShelf implements ItemNetting {
  readonly orders: readonly PlannedOrder[];

  /**
   * @param seen  what becomes of it without orders, as the record shows it
   * @param days  its days, or those of `sized`; used up
   * @param sized where orders are sized as if something came on another day than it does
   */
  constructor(
    private readonly seen: Shelf,
    days: ShelfDays,
    private readonly sized: Shelf = seen,
  ) {
    const { position } = sized;
    // Most shelves of a large catalogue want nothing.
    this.orders = fallsShort(position, days.balance)
      ? lotSizes(position, flowForOrders(position, days.flow), days.rest.fill(0)).orders.map((lot) =>
          plannedOrder(position, lot),
        )
      : NONE;
  }

  get itemCode(): string {
    return this.seen.itemCode;
  }
  get gross(): Float64Array {
    return this.seen.gross;
  }
  get scheduled(): Float64Array {
    return this.seen.scheduled;
  }
  get expiring(): Float64Array | undefined {
    return this.seen.expiring;
  }
  get projectedWithoutOrders(): Float64Array {
    return this.seen.projectedWithoutOrders;
  }
  get runsOutDay(): number | undefined {
    return this.seen.runsOutDay;
  }
  get stops(): ShelfBalance["stops"] {
    return this.seen.stops;
  }
  get overdueReceipts(): readonly string[] {
    return this.seen.overdueReceipts;
  }

  get waits(): readonly Wait[] {
    return this.seen.waits;
  }

  get projected(): Float64Array {
    const { flow, balance } = this.sized.fill(new ShelfDays(this.sized.dayCount));
    for (const { receiptDay, quantity } of this.orders) flow[receiptDay]! += quantity;
    runningSum(this.sized.position.onHand, flow, balance);
    return balance;
  }

  get net(): Float64Array {
    const { flow, balance, rest } = this.sized.fill(new ShelfDays(this.sized.dayCount));
    rest.fill(0);
    const { position } = this.sized;
    return fallsShort(position, balance) ? lotSizes(position, flowForOrders(position, flow), rest).net : rest;
  }
}

/** Is there a day below the safety stock? */
export function fallsShort(
  { safetyStock }: Pick<ItemPosition, "safetyStock">,
  balance: Float64Array,
): boolean {
  return firstBelow(balance, safetyStock) !== undefined;
}

function firstBelow(balance: Float64Array, floor: number): number | undefined {
  for (let day = 0; day < balance.length; day++) if (floor - balance[day]! > TOLERANCE) return day;
  return undefined;
}

const isOverdue = (receipt: ReceiptDue) => receipt.day < 0;

const hasLots = ({ lots }: ItemPosition) => lots !== undefined && lots.length > 0;

function addByDay(sums: Float64Array, rows: readonly { day: number; quantity: number }[]): Float64Array {
  for (const { day, quantity } of rows) if (day < sums.length) sums[Math.max(0, day)]! += quantity;
  return sums;
}

function runningSum(start: number, flow: Float64Array, sums: Float64Array): void {
  let sum = start;
  for (let day = 0; day < flow.length; day++) {
    sum += flow[day]!;
    sums[day] = sum;
  }
}

function plannedOrder(position: ItemPosition, { day: receiptDay, quantity }: Lot): PlannedOrder {
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
 * Needs in turn against the running balance: what is missing of each when its day comes. Who comes first keeps
 * the claim, also on a receipt that comes later, so `missing` is what is short on the day, not for ever. The claim ends
 * on the day on which an order placed today would come: what is still short then is bought, as transfers and orders
 * reckon too, and waits for nothing that later kits need.
 */
function stopsOf(...shelf: Parameters<typeof inTurn>): ShelfBalance["stops"] {
  const stops: { visitId: string; siteCode: string; day: number; missing: number }[] = [];
  for (const { need, missing } of inTurn(...shelf)) {
    const { visitId, siteCode, day } = need;
    const last = stops.at(-1);
    if (last && last.visitId === visitId && last.day === day) last.missing += missing;
    else stops.push({ visitId, siteCode, day, missing });
  }
  return stops;
}

function waitsOf(...shelf: Parameters<typeof inTurn>): Wait[] {
  const [position, , scheduled, expiring] = shelf;
  const waits: Wait[] = [];
  for (const { need, missing, owed } of inTurn(...shelf)) {
    const day = Math.max(0, need.day);
    let coveredDay = day;
    for (let come = 0; come < owed - TOLERANCE && coveredDay < position.leadTimeDays; ) {
      coveredDay++;
      come += (scheduled[coveredDay] ?? 0) - (expiring?.[coveredDay] ?? 0);
    }
    if (coveredDay > day) waits.push({ visitId: need.visitId, day: need.day, missing, coveredDay });
  }
  return waits;
}

interface Missed {
  need: NeedLine;
  /** Short on its day. */
  missing: number;
  /** Short on its day with those before it, whose claims come first. */
  owed: number;
}

/** Visits' needs that are not covered on their day, in turn. */
function* inTurn(
  position: ItemPosition,
  needs: readonly NeedLine[],
  scheduled: Float64Array,
  expiring: Float64Array | undefined,
): Generator<Missed> {
  const inOrder = needs.filter((need) => need.day < scheduled.length && need.quantity > 0).sort(byTurn);
  let balance = position.onHand;
  let day = -1;
  for (const need of inOrder) {
    while (day < Math.max(0, need.day)) {
      if (day >= position.leadTimeDays) balance = Math.max(0, balance);
      day++;
      balance += scheduled[day]! - (expiring?.[day] ?? 0);
    }
    const given = Math.min(Math.max(balance, 0), need.quantity);
    balance -= need.quantity;
    const missing = need.quantity - given;
    if (!need.isTransfer && missing > TOLERANCE) yield { need, missing, owed: -balance };
  }
}
