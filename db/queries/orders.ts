/** From planned orders to orders: proposed, approved, sent, received in part or whole, closed. */

import { and, eq, inArray, sql } from "drizzle-orm";
import { phrase } from "@/lib/phrase";
import { ALL_WAREHOUSES, nettedAt } from "@/lib/programme";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { Owner } from "@/lib/site";
import { type ApprovingRole, approvalProblem, lotFigures, orderCost, priceOf } from "@/lib/stock";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { item, kit, type NettingBody, type OrderState, orderLine, place, purchaseOrder } from "../schema";
import { loadApprovalLimits } from "./approval";
import { loadCatalogue, loadOrdering } from "./catalogue";
import { loadNetting, type PlanHead } from "./plans";
import { rulesInForce } from "./programme";
import { addLogEntry } from "./reports";
import { type NewOrder, saveOrder, shelfKey } from "./stock";

export interface By {
  name: string;
  at: number;
}

export interface OrderToPlace {
  itemCode: string;
  name: string;
  unit: string;
  owner: Owner;
  /** purchase = our own money; call-off = the customer's material. */
  kind: "purchase" | "call-off";
  quantity: number;
  releaseOn: CalendarDate;
  /** Day on which a kit needs it. */
  neededOn: CalendarDate;
  /** Day on which it is there when sent on the release day, or today if that has passed. */
  arrivesOn: CalendarDate;
  /** Days by which it is already too late; 0 = in time. */
  pastDueDays: number;
  isDue: boolean;
  costMinor: number;
  currency: string;
  supplier: string;
  placeCode: string;
  stops: number;
  /** Spares that the place keeps back: part of what is ordered. */
  spares: number;
  /** On orders for the same shelf that nobody has sent yet: this comes on top. */
  unsent: number;
}

/** Whether only the shelf waits for it, no visit: late is then nobody's lost day. */
export const isForSpares = (o: Pick<OrderToPlace, "spares" | "stops">): boolean =>
  o.spares > 0 && o.stops === 0;

/** Written on an order when nobody has ordered the item before. */
export const SUPPLIER_OPEN = "Supplier to be chosen";

/**
 * What the netting of the plan wants ordered, earliest release first, without what stands on orders that are
 * proposed or approved already. `isDue`: its release day is today or has passed.
 */
export function ordersToPlace(db: Db, plan: PlanHead, today: CalendarDate): readonly OrderToPlace[] {
  return remembered(
    db,
    `orders to place ${plan.id} ${today}`,
    ["design", "plan", "kits", "stock", "crews", "rules"],
    () => readOrdersToPlace(db, plan, today),
  );
}

function readOrdersToPlace(db: Db, plan: PlanHead, today: CalendarDate): OrderToPlace[] {
  const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
  const ordering = loadOrdering(db);
  const { stockPolicy } = rulesInForce(db);
  const unsent = unsentQuantities(db);
  const covered = new Map(unsent);
  const supplierOf = lastSuppliers(db);
  const kitPlaces = new Map(
    db
      .select({ visitId: kit.visitId, placeCode: kit.placeCode })
      .from(kit)
      .where(eq(kit.planId, plan.id))
      .all()
      .map((k) => [k.visitId, k.placeCode]),
  );
  const fallback = db.select().from(place).where(eq(place.kind, "warehouse")).orderBy(place.code).get()?.code;
  const rows: OrderToPlace[] = [];
  for (const { itemCode, placeCode, firstOn, orders, stopCount, spares, pooledStops } of shelfOrders(
    db,
    plan.id,
  )) {
    const i = items.get(itemCode);
    if (!i) continue;
    const shelf = shelfKey(itemCode, placeCode);
    for (const o of orders) {
      const already = Math.min(covered.get(shelf) ?? 0, o.quantity);
      if (already > 0) covered.set(shelf, covered.get(shelf)! - already);
      const quantity = Math.round((o.quantity - already) * 100) / 100;
      if (quantity <= 0) continue;
      const releaseOn = addDays(firstOn, o.releaseDay);
      const neededOn = addDays(firstOn, o.receiptDay);
      const sentOn = releaseOn < today ? today : releaseOn;
      const arrivesOn = addDays(sentOn, i.leadTimeDays);
      rows.push({
        itemCode,
        name: i.name,
        unit: i.unit,
        owner: i.owner,
        kind: i.owner === "customer" ? "call-off" : "purchase",
        quantity,
        releaseOn,
        neededOn,
        arrivesOn,
        pastDueDays: Math.max(0, daysBetween(neededOn, arrivesOn)),
        isDue: releaseOn <= today,
        costMinor: Math.round(quantity * priceOf(quantity, lotFigures(ordering.get(itemCode)!, stockPolicy))),
        currency: i.currency,
        supplier: supplierOf.get(itemCode) ?? SUPPLIER_OPEN,
        placeCode:
          placeCode === ALL_WAREHOUSES ? (busiestPlace(pooledStops, kitPlaces) ?? fallback ?? "") : placeCode,
        stops: stopCount,
        spares,
        unsent: unsent.get(shelf) ?? 0,
      });
    }
  }
  return rows.sort(
    (a, b) =>
      (a.releaseOn < b.releaseOn ? -1 : a.releaseOn > b.releaseOn ? 1 : 0) ||
      b.pastDueDays - a.pastDueDays ||
      (a.itemCode < b.itemCode ? -1 : 1),
  );
}

interface ShelfOrders {
  itemCode: string;
  placeCode: string;
  firstOn: CalendarDate;
  /** First to be sent first. */
  orders: NettingBody["orders"];
  stopCount: number;
  /** Visits that stop, of what is netted for all warehouses together: they say where it is wanted most. */
  spares: number;
  pooledStops: NettingBody["stops"];
}

/** What the netting wants ordered, without its days: they are most of what is stored and change only with the netting. */
function shelfOrders(db: Db, planId: number): readonly ShelfOrders[] {
  return remembered(db, `shelf orders ${planId}`, ["plan"], () =>
    loadNetting(db, planId)
      .filter(({ body }) => body.orders.length > 0)
      .map(({ itemCode, placeCode, body }) => ({
        itemCode,
        placeCode,
        firstOn: body.firstOn,
        orders: [...body.orders].sort((a, b) => a.releaseDay - b.releaseDay || a.receiptDay - b.receiptDay),
        stopCount: body.stops.length,
        spares: body.spares ?? 0,
        pooledStops: placeCode === ALL_WAREHOUSES ? body.stops : [],
      })),
  );
}

/** Units on orders that nobody has sent yet, by the shelf they are for; the netting does not count them. */
function unsentQuantities(db: Db): Map<string, number> {
  const rows = db
    .select({
      itemCode: orderLine.itemCode,
      category: item.category,
      placeCode: purchaseOrder.placeCode,
      quantityC: orderLine.quantityC,
    })
    .from(orderLine)
    .innerJoin(purchaseOrder, eq(purchaseOrder.code, orderLine.orderCode))
    .innerJoin(item, eq(item.code, orderLine.itemCode))
    .where(inArray(purchaseOrder.state, ["proposed", "approved"]))
    .all();
  const sums = new Map<string, number>();
  for (const r of rows) {
    const key = shelfKey(r.itemCode, nettedAt(r.category, r.placeCode));
    sums.set(key, (sums.get(key) ?? 0) + r.quantityC / 100);
  }
  return sums;
}

/** Who the item was ordered from last. */
export function lastSuppliers(db: Db): Map<string, string> {
  const rows = db
    .select({ itemCode: orderLine.itemCode, supplier: purchaseOrder.supplier })
    .from(orderLine)
    .innerJoin(purchaseOrder, eq(purchaseOrder.code, orderLine.orderCode))
    .orderBy(purchaseOrder.createdAt, purchaseOrder.code)
    .all();
  return new Map(rows.map((r) => [r.itemCode, r.supplier]));
}

/** The warehouse that picks most of what stops. */
function busiestPlace(
  stops: readonly { visitId: string }[],
  kitPlaces: ReadonlyMap<string, string>,
): string | undefined {
  const counts = new Map<string, number>();
  for (const s of stops) {
    const code = kitPlaces.get(s.visitId);
    if (code) counts.set(code, (counts.get(code) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0];
}

/** Several planned orders of one item for one warehouse, as a person orders them: at once. */
export interface GatheredOrder extends OrderToPlace {
  /** For which days how much of it is. */
  parts: readonly { neededOn: CalendarDate; quantity: number }[];
}

/** One row an item and warehouse, of what is due and of what comes later apart; in the order of their first rows. */
export function gathered(rows: readonly OrderToPlace[]): GatheredOrder[] {
  const lines = new Map<string, OrderToPlace[]>();
  for (const r of rows) {
    const key = JSON.stringify([r.isDue, r.itemCode, r.placeCode]);
    lines.set(key, [...(lines.get(key) ?? []), r]);
  }
  return [...lines.values()].map((list) => {
    const first = list.reduce((a, b) => (b.neededOn < a.neededOn ? b : a));
    return {
      ...list[0]!,
      neededOn: first.neededOn,
      quantity: Math.round(list.reduce((sum, r) => sum + r.quantity, 0) * 100) / 100,
      pastDueDays: Math.max(...list.map((r) => r.pastDueDays)),
      costMinor: list.reduce((sum, r) => sum + r.costMinor, 0),
      parts: list.map(({ neededOn, quantity }) => ({ neededOn, quantity })),
    };
  });
}

/** A line that somebody chose, with or without what comes up later of it. */
export interface ChosenLine {
  itemCode: string;
  placeCode: string;
  withLater: boolean;
}

/**
 * Turns what is due to be ordered into proposed orders: one per kind, supplier and warehouse. Asked again it proposes
 * nothing, since what is proposed already is taken off first.
 *
 * @param chosen only these lines, and what comes later of some; undefined = everything that is due
 */
export function proposeOrders(
  db: Db,
  plan: PlanHead,
  today: CalendarDate,
  by: By,
  chosen?: readonly ChosenLine[],
): string[] {
  const isWanted = (o: OrderToPlace) =>
    chosen === undefined
      ? o.isDue
      : chosen.some(
          (c) => c.itemCode === o.itemCode && c.placeCode === o.placeCode && (o.isDue || c.withLater),
        );
  const due = ordersToPlace(db, plan, today)
    .filter((o) => isWanted(o) && o.placeCode !== "")
    .map((o) => (o.isDue ? o : sentToday(o, today)));
  const groups = new Map<string, OrderToPlace[]>();
  for (const o of due) {
    const key = JSON.stringify([o.kind, o.supplier, o.placeCode]);
    groups.set(key, [...(groups.get(key) ?? []), o]);
  }
  const ordering = loadOrdering(db);
  const { stockPolicy } = rulesInForce(db);
  const codes: string[] = [];
  for (const group of groups.values()) {
    const { kind, supplier, placeCode } = group[0]!;
    const byItem = new Map<string, OrderToPlace[]>();
    for (const o of group) byItem.set(o.itemCode, [...(byItem.get(o.itemCode) ?? []), o]);
    const order: NewOrder = {
      code: nextCode(db, kind),
      kind,
      supplier,
      state: "proposed",
      placeCode,
      createdAt: by.at,
      createdBy: by.name,
      lines: [...byItem.values()].map((list) => {
        const { itemCode, currency } = list[0]!;
        const quantity = list.reduce((sum, o) => sum + o.quantity, 0);
        const minor = priceOf(quantity, lotFigures(ordering.get(itemCode)!, stockPolicy));
        return {
          itemCode,
          quantityC: Math.round(quantity * 100),
          dueOn: list.reduce((least, o) => (o.arrivesOn < least ? o.arrivesOn : least), list[0]!.arrivesOn),
          ...(kind === "purchase" ? { price: { minor, currency } } : {}),
        };
      }),
    };
    saveOrder(db, order);
    logOrder(db, order.code, "order proposed", by, { lines: order.lines.length, supplier, placeCode });
    codes.push(order.code);
  }
  return codes;
}

/** What is ordered before it must be comes as much earlier. */
const sentToday = (o: OrderToPlace, today: CalendarDate): OrderToPlace => ({
  ...o,
  arrivesOn: addDays(today, daysBetween(o.releaseOn, o.arrivesOn)),
});

function nextCode(db: Db, kind: "purchase" | "call-off"): string {
  const numbers = db
    .select({ code: purchaseOrder.code })
    .from(purchaseOrder)
    .all()
    .map((o) => Number(/^[PC]O-(\d+)$/.exec(o.code)?.[1] ?? 0));
  return `${kind === "purchase" ? "PO" : "CO"}-${Math.max(0, ...numbers) + 1}`;
}

export function logOrder(db: Db, code: string, action: string, by: By, detail: unknown): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: `order ${code}`, detail });
}

export interface OrderView {
  code: string;
  kind: "purchase" | "call-off";
  supplier: string;
  state: OrderState;
  placeCode: string;
  placeName: string;
  createdAt: number;
  createdBy: string;
  sentOn: CalendarDate | null;
  note: string;
  lines: OrderLineView[];
}

export interface OrderLineView {
  lineNo: number;
  itemCode: string;
  name: string;
  unit: string;
  isCable: boolean;
  expires: boolean;
  /** Length of a whole drum, or the order multiple. */
  multiple: number;
  quantityC: number;
  receivedC: number;
  dueOn: CalendarDate;
  /** Day first promised when it was sent. */
  promisedOn: CalendarDate | null;
  /** Of one unit: as agreed on the order, else the catalogue's. */
  priceMinor: number;
  currency: string;
  isPriceAgreed: boolean;
}

export function loadOrder(db: Db, code: string): OrderView | undefined {
  return loadOrders(db).find((o) => o.code === code);
}

/** All orders with their lines, newest first. */
export function loadOrders(db: Db): OrderView[] {
  const heads = db
    .select({ head: purchaseOrder, placeName: place.name })
    .from(purchaseOrder)
    .innerJoin(place, eq(place.code, purchaseOrder.placeCode))
    .all();
  const lines = db
    .select({ line: orderLine, item })
    .from(orderLine)
    .innerJoin(item, eq(item.code, orderLine.itemCode))
    .orderBy(orderLine.orderCode, orderLine.lineNo)
    .all();
  const byOrder = new Map<string, OrderLineView[]>();
  for (const { line, item: i } of lines) {
    const list = byOrder.get(line.orderCode) ?? [];
    list.push({
      lineNo: line.lineNo,
      itemCode: line.itemCode,
      name: i.name,
      unit: i.unit,
      isCable: i.category === "IF cable",
      expires: i.shelfLifeDays !== null,
      multiple: i.orderMultiple,
      quantityC: line.quantityC,
      receivedC: line.receivedC,
      dueOn: line.dueOn,
      promisedOn: line.promisedOn,
      priceMinor: line.priceMinor ?? i.priceMinor,
      currency: line.currency ?? i.currency,
      isPriceAgreed: line.priceMinor !== null,
    });
    byOrder.set(line.orderCode, list);
  }
  return heads
    .map(({ head, placeName }) => ({ ...head, placeName, lines: byOrder.get(head.code) ?? [] }))
    .sort((a, b) => b.createdAt - a.createdAt || (a.code < b.code ? 1 : -1));
}

type Step = "approve" | "send" | "close" | "receive";

/** From which states a step may be taken. */
export const ORDER_STEPS: Record<Step, readonly OrderState[]> = {
  approve: ["proposed"],
  send: ["approved"],
  receive: ["sent", "partly received"],
  close: ["proposed", "approved", "sent", "partly received"],
};

export function mayStep(state: OrderState, step: Step): boolean {
  return ORDER_STEPS[step].includes(state);
}

export function stateProblem(code: string, state: OrderState | undefined, step: Step): Problem | undefined {
  if (state === undefined) {
    return {
      path: "code",
      rule: "order-unknown",
      value: code,
      ...sentences(phrase("There is no order {{code}}.", { code }), phrase("Open the list of orders again.")),
    };
  }
  if (mayStep(state, step)) return undefined;
  return {
    path: "state",
    rule: "order-state",
    value: state,
    ...sentences(
      phrase("Order {{code}} is {{state}}; to {{step}} it, it must be {{wanted}}.", {
        code,
        state: phrase(state),
        step: phrase(step),
        wanted: ORDER_STEPS[step]
          .map((s) => phrase(s))
          .reduce((one, other) => phrase("{{one}} or {{other}}", { one, other })),
      }),
      phrase("Reload the page: somebody may have moved it on."),
    ),
  };
}

function step(
  db: Db,
  code: string,
  which: Exclude<Step, "receive">,
  to: OrderState,
  by: By,
  detail: { reason?: string } = {},
): Result<OrderState> {
  const row = db.select().from(purchaseOrder).where(eq(purchaseOrder.code, code)).get();
  const problem = stateProblem(code, row?.state, which);
  if (problem) return refused(problem);
  const note = detail.reason ? [row!.note, `Closed: ${detail.reason}`].filter(Boolean).join(" ") : row!.note;
  db.update(purchaseOrder).set({ state: to, note }).where(eq(purchaseOrder.code, code)).run();
  const words = { approve: "order approved", send: "order sent", close: "order closed" }[which];
  logOrder(db, code, words, by, { from: row!.state, to, ...detail });
  return ok(to);
}

/** Refused above what the organisation lets the role approve on its own. */
export function approveOrder(db: Db, code: string, by: By & { role: ApprovingRole }): Result<OrderState> {
  const order = loadOrder(db, code);
  const problem =
    order && mayStep(order.state, "approve")
      ? approvalProblem({ code, cost: orderCost(order) }, by.role, loadApprovalLimits(db))
      : undefined;
  return problem ? refused(problem) : step(db, code, "approve", "approved", by);
}

/** Marks it sent; only now does the netting count on it, and its days are promises. A supplier must be named. */
export function sendOrder(db: Db, code: string, today: CalendarDate, by: By): Result<OrderState> {
  const row = db.select().from(purchaseOrder).where(eq(purchaseOrder.code, code)).get();
  if (row?.supplier === SUPPLIER_OPEN) {
    return refused({
      path: "supplier",
      rule: "order-supplier",
      value: row.supplier,
      ...sentences(phrase("The order names no supplier."), phrase("Write the supplier on the order first.")),
    });
  }
  const sent = step(db, code, "send", "sent", by);
  if (!sent.ok) return sent;
  db.update(purchaseOrder).set({ sentOn: today }).where(eq(purchaseOrder.code, code)).run();
  db.update(orderLine)
    .set({ promisedOn: sql`${orderLine.dueOn}` })
    .where(eq(orderLine.orderCode, code))
    .run();
  return sent;
}

/** Notes that the supplier gives another day for what is still to come of a line; the day first promised stays. */
export function postponeLine(
  db: Db,
  code: string,
  change: { lineNo: number; dueOn: CalendarDate; reason: string },
  by: By,
): Result<CalendarDate> {
  const order = loadOrder(db, code);
  const problem = stateProblem(code, order?.state, "receive");
  if (problem) return refused(problem);
  const line = order!.lines.find((l) => l.lineNo === change.lineNo);
  if (!line || line.receivedC >= line.quantityC) {
    return refused({
      path: `line ${change.lineNo}`,
      rule: "line-not-open",
      value: change.lineNo,
      ...sentences(
        line ? phrase("All of the line has come.") : phrase("Order {{code}} has no such line.", { code }),
        phrase("Choose a line of which something is still to come."),
      ),
    });
  }
  db.update(orderLine)
    .set({ dueOn: change.dueOn, promisedOn: line.promisedOn ?? line.dueOn })
    .where(and(eq(orderLine.orderCode, code), eq(orderLine.lineNo, change.lineNo)))
    .run();
  logOrder(db, code, "delivery day changed", by, { ...change, from: line.dueOn });
  return ok(change.dueOn);
}

/** Ends an order whose rest will not come, or that is not wanted. */
export const closeOrder = (db: Db, code: string, reason: string, by: By) =>
  step(db, code, "close", "closed", by, { reason });

/** Changes what has not been sent: supplier, and quantity and day of a line. */
export function changeOrder(
  db: Db,
  code: string,
  change: {
    supplier: string;
    lines: readonly {
      lineNo: number;
      quantityC: number;
      dueOn: CalendarDate;
      /** Of one unit, in the currency the line has; absent = as it was. */
      priceMinor?: number;
    }[];
  },
  by: By,
): Result<string> {
  const order = loadOrder(db, code);
  if (!order || (order.state !== "proposed" && order.state !== "approved")) {
    return refused({
      path: "state",
      rule: "order-state",
      value: order?.state,
      ...sentences(
        phrase("Order {{code}} cannot be changed any more.", { code }),
        phrase("Close it with a reason and propose another one."),
      ),
    });
  }
  db.update(purchaseOrder).set({ supplier: change.supplier }).where(eq(purchaseOrder.code, code)).run();
  for (const l of change.lines) {
    db.update(orderLine)
      .set({
        quantityC: l.quantityC,
        dueOn: l.dueOn,
        ...(l.priceMinor === undefined
          ? {}
          : {
              priceMinor: l.priceMinor,
              currency: order.lines.find((o) => o.lineNo === l.lineNo)?.currency ?? null,
            }),
      })
      .where(and(eq(orderLine.orderCode, code), eq(orderLine.lineNo, l.lineNo)))
      .run();
  }
  // Somebody approved other figures: it goes back a step.
  db.update(purchaseOrder).set({ state: "proposed" }).where(eq(purchaseOrder.code, code)).run();
  logOrder(db, code, "order changed", by, change);
  return ok(code);
}

/** Closed when every line is in; partly received when something is; sent otherwise. */
export function settleState(db: Db, code: string): OrderState {
  const lines = db.select().from(orderLine).where(eq(orderLine.orderCode, code)).all();
  const state: OrderState = lines.every((l) => l.receivedC >= l.quantityC)
    ? "closed"
    : lines.some((l) => l.receivedC > 0)
      ? "partly received"
      : "sent";
  db.update(purchaseOrder).set({ state }).where(eq(purchaseOrder.code, code)).run();
  return state;
}

/** After goods returned to the supplier did not go back after all: their order waits for them no more. */
export function receiveAgain(db: Db, code: string, itemCode: string, quantityC: number, by: By): void {
  const lines = db
    .select()
    .from(orderLine)
    .where(and(eq(orderLine.orderCode, code), eq(orderLine.itemCode, itemCode)))
    .orderBy(orderLine.lineNo)
    .all();
  let left = quantityC;
  for (const [i, l] of lines.entries()) {
    const open = Math.max(0, l.quantityC - l.receivedC);
    // The last line takes what no line waits for: it came once, so it is received.
    const taken = i === lines.length - 1 ? left : Math.min(left, open);
    left -= taken;
    db.update(orderLine)
      .set({ receivedC: l.receivedC + taken })
      .where(and(eq(orderLine.orderCode, code), eq(orderLine.lineNo, l.lineNo)))
      .run();
  }
  if (lines.length === 0) return;
  const state = settleState(db, code);
  logOrder(db, code, "return to the supplier taken back", by, { itemCode, quantity: quantityC / 100, state });
}

/** After a receipt was taken back in the ledger, or goods went back to the supplier: the order waits for that quantity again. */
export function unreceive(db: Db, code: string, itemCode: string, quantityC: number, by: By): void {
  const lines = db
    .select()
    .from(orderLine)
    .where(and(eq(orderLine.orderCode, code), eq(orderLine.itemCode, itemCode)))
    .orderBy(orderLine.lineNo)
    .all();
  let left = quantityC;
  for (const l of lines) {
    const taken = Math.min(left, l.receivedC);
    left -= taken;
    db.update(orderLine)
      .set({ receivedC: l.receivedC - taken })
      .where(and(eq(orderLine.orderCode, code), eq(orderLine.lineNo, l.lineNo)))
      .run();
  }
  if (lines.length === 0) return;
  const state = settleState(db, code);
  logOrder(db, code, "receipt taken back", by, { itemCode, quantity: quantityC / 100, state });
}
