/** From lines to place to proposed orders, one for each supplier. */

import { lotFigures, priceOf } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { purchaseOrder } from "../schema";
import { loadOrdering } from "./catalogue";
import type { By } from "./log";
import { type NewOrder, saveOrder } from "./orderLines";
import { logOrder } from "./orderSteps";
import { type OrderToPlace, ordersToPlace, sentToday } from "./ordersToPlace";
import type { PlanHead } from "./plans";
import { rulesInForce } from "./programme";

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

function nextCode(db: Db, kind: "purchase" | "call-off"): string {
  const numbers = db
    .select({ code: purchaseOrder.code })
    .from(purchaseOrder)
    .all()
    .map((o) => Number(/^[PC]O-(\d+)$/.exec(o.code)?.[1] ?? 0));
  return `${kind === "purchase" ? "PO" : "CO"}-${Math.max(0, ...numbers) + 1}`;
}
