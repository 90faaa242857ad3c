/** Orders as rows: what is on the way, and keeping a new one. */
import { eq, inArray, ne } from "drizzle-orm";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { type OrderState, orderLine, purchaseOrder } from "../schema";

export interface OpenOrderLine {
  orderCode: string;
  lineNo: number;
  supplier: string;
  kind: "purchase" | "call-off";
  state: OrderState;
  placeCode: string;
  itemCode: string;
  quantityC: number;
  receivedC: number;
  dueOn: CalendarDate;
  /** As agreed, of one unit; null = not agreed. */
  priceMinor: number | null;
  currency: string | null;
}

/** Lines still to come of orders that were sent. */
export function loadOrdersOnTheWay(db: Db): OpenOrderLine[] {
  return orderLines(db, ["sent", "partly received"]).filter((l) => l.receivedC < l.quantityC);
}

/** Lines of all orders in the given states (all states when none are given). */
export function orderLines(db: Db, states?: readonly OrderState[]): OpenOrderLine[] {
  return db
    .select({
      orderCode: purchaseOrder.code,
      lineNo: orderLine.lineNo,
      supplier: purchaseOrder.supplier,
      kind: purchaseOrder.kind,
      state: purchaseOrder.state,
      placeCode: purchaseOrder.placeCode,
      itemCode: orderLine.itemCode,
      quantityC: orderLine.quantityC,
      receivedC: orderLine.receivedC,
      dueOn: orderLine.dueOn,
      priceMinor: orderLine.priceMinor,
      currency: orderLine.currency,
    })
    .from(orderLine)
    .innerJoin(purchaseOrder, eq(purchaseOrder.code, orderLine.orderCode))
    .where(states ? inArray(purchaseOrder.state, [...states]) : ne(purchaseOrder.state, "closed"))
    .orderBy(orderLine.dueOn, purchaseOrder.code, orderLine.lineNo)
    .all();
}

export interface NewOrder {
  code: string;
  kind: "purchase" | "call-off";
  supplier: string;
  state: OrderState;
  placeCode: string;
  createdAt: number;
  createdBy: string;
  note?: string;
  /** Day on which it went out, where it is known. */
  sentOn?: CalendarDate;
  lines: NewOrderLine[];
}

export interface NewOrderLine {
  itemCode: string;
  quantityC: number;
  /** Default 0. */
  receivedC?: number;
  dueOn: CalendarDate;
  /** Default: the day it is due, once the order is out. */
  promisedOn?: CalendarDate;
  /** As agreed; absent = not agreed. */
  price?: { minor: number; currency: string };
}

export function saveOrder(db: Db, o: NewOrder): void {
  const { lines, ...head } = o;
  db.insert(purchaseOrder)
    .values({ ...head, note: head.note ?? "" })
    .run();
  const isOut = o.state !== "proposed" && o.state !== "approved";
  lines.forEach(({ price, ...l }, i) => {
    db.insert(orderLine)
      .values({
        orderCode: o.code,
        lineNo: i + 1,
        promisedOn: isOut ? l.dueOn : null,
        ...l,
        priceMinor: price?.minor ?? null,
        currency: price?.currency ?? null,
      })
      .run();
  });
}
