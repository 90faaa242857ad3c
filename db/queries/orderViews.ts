/** Orders with their lines, as pages and documents show them. */
import { eq } from "drizzle-orm";
import { takesSerials } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { item, type OrderState, orderLine, place, purchaseOrder } from "../schema";

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
  /** Its pieces have serials that may be read. */
  takesSerials: boolean;
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

/** What was ordered of an item and is still to come, and in how many orders: a proposal is not ordered. */
export function onTheWayOf(
  orders: readonly Pick<OrderView, "state" | "lines">[],
  itemCode: string,
): { quantity: number; orderCount: number } {
  const openC = orders
    .filter((o) => o.state === "sent" || o.state === "partly received")
    .map((o) =>
      o.lines
        .filter((l) => l.itemCode === itemCode)
        .reduce((sum, l) => sum + Math.max(0, l.quantityC - l.receivedC), 0),
    )
    .filter((c) => c > 0);
  return { quantity: openC.reduce((sum, c) => sum + c, 0) / 100, orderCount: openC.length };
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
      takesSerials: takesSerials(i.category),
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
