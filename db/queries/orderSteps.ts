/** The steps of an order: proposed, approved, sent, received in part or whole, closed; and changes of a proposed one. */

import { and, eq, sql } from "drizzle-orm";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { type ApprovingRole, approvalProblem, orderCost } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { type OrderState, orderLine, purchaseOrder } from "../schema";
import { loadApprovalLimits } from "./approval";
import { addLogEntry, type By, type LogAction } from "./log";
import { SUPPLIER_OPEN } from "./ordersToPlace";
import { loadOrder } from "./orderViews";

export function logOrder(db: Db, code: string, action: LogAction, by: By, detail: unknown): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: `order ${code}`, detail });
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
  const words = ({ approve: "order approved", send: "order sent", close: "order closed" } as const)[which];
  logOrder(db, code, words, by, { from: row!.state, to, ...detail });
  return ok(to);
}

function supplierProblem(supplier: string): Problem | undefined {
  if (supplier !== SUPPLIER_OPEN) return undefined;
  return {
    path: "supplier",
    rule: "order-supplier",
    value: supplier,
    ...sentences(phrase("The order names no supplier."), phrase("Write the supplier on the order first.")),
  };
}

/** Refused above what the organisation lets the role approve on its own. */
export function approveOrder(db: Db, code: string, by: By & { role: ApprovingRole }): Result<OrderState> {
  const order = loadOrder(db, code);
  // Naming it later would ask for a new approval.
  const unnamed = order && mayStep(order.state, "approve") ? supplierProblem(order.supplier) : undefined;
  if (unnamed) return refused(unnamed);
  const problem =
    order && mayStep(order.state, "approve")
      ? approvalProblem({ code, cost: orderCost(order) }, by.role, loadApprovalLimits(db))
      : undefined;
  return problem ? refused(problem) : step(db, code, "approve", "approved", by);
}

/** Marks it sent; only now does the netting count on it, and its days are promises. A supplier must be named. */
export function sendOrder(db: Db, code: string, today: CalendarDate, by: By): Result<OrderState> {
  const row = db.select().from(purchaseOrder).where(eq(purchaseOrder.code, code)).get();
  const unnamed = row && supplierProblem(row.supplier);
  if (unnamed) return refused(unnamed);
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
