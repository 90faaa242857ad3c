/** What the open interface says of needs, stock and orders. */
import type { z } from "zod";
import type { Db } from "@/db/open";
import { loadNeedDays } from "@/db/queries/needDays";
import { loadOnHandRows } from "@/db/queries/onHand";
import { ordersToPlace } from "@/db/queries/ordersToPlace";
import { loadOrder, loadOrders, type OrderView } from "@/db/queries/orderViews";
import { planInForce } from "@/db/queries/plans";
import { receiveOrder } from "@/db/queries/receiving";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { ActionContext } from "../carryOut";
import { homeToday } from "../clock";
import { andNet } from "../netAgain";
import type { postReceipt, readNeeds, readOrder, readOrders, readProposals, readStock } from "./operations";

const NO_PLAN: Problem = {
  path: "",
  rule: "no-plan",
  message: "There is no plan in force, so nobody knows what is needed when.",
  remedy: "Ask again when a plan has been put in force.",
};

function pageOf<T, U>(
  rows: readonly T[],
  { limit, offset }: { limit: number; offset: number },
  view: (row: T) => U,
) {
  const next = offset + limit;
  return {
    rows: rows.slice(offset, next).map(view),
    total: rows.length,
    next: next < rows.length ? next : null,
  };
}

/** Whether a row is one that the filters ask for; a filter left out asks for all. */
const fits = (wanted: unknown, value: unknown) => wanted === undefined || wanted === value;

export function needPage(
  db: Db,
  query: z.output<typeof readNeeds.query>,
): Result<z.input<typeof readNeeds.answer>> {
  const plan = planInForce(db);
  if (!plan) return refused(NO_PLAN);
  const rows = loadNeedDays(db, plan.id).filter(
    (n) =>
      fits(query.itemCode, n.itemCode) &&
      fits(query.warehouseCode, n.warehouseCode) &&
      (query.from === undefined || n.on >= query.from) &&
      (query.to === undefined || n.on <= query.to),
  );
  return ok(pageOf(rows, query, (n) => n));
}

export function proposalPage(
  db: Db,
  query: z.output<typeof readProposals.query>,
): Result<z.input<typeof readProposals.answer>> {
  const plan = planInForce(db);
  if (!plan) return refused(NO_PLAN);
  const rows = ordersToPlace(db, plan, homeToday(db)).filter(
    (o) =>
      fits(query.itemCode, o.itemCode) &&
      fits(query.warehouseCode, o.placeCode) &&
      fits(query.isDue, String(o.isDue)),
  );
  return ok(
    pageOf(rows, query, (o) => ({
      itemCode: o.itemCode,
      name: o.name,
      unit: o.unit,
      owner: o.owner,
      kind: o.kind,
      quantity: o.quantity,
      spares: o.spares,
      warehouseCode: o.placeCode,
      releaseOn: o.releaseOn,
      neededOn: o.neededOn,
      firstKitOn: o.firstKitOn ?? null,
      arrivesOn: o.arrivesOn,
      pastDueDays: o.pastDueDays,
      supplier: o.supplier,
      costMinor: o.costMinor,
      currency: o.currency,
    })),
  );
}

export function stockPage(
  db: Db,
  query: z.output<typeof readStock.query>,
): Result<z.input<typeof readStock.answer>> {
  const rows = loadOnHandRows(db, homeToday(db), query);
  return ok(
    pageOf(rows, query, (r) => ({
      itemCode: r.itemCode,
      name: r.name,
      unit: r.unit,
      owner: r.owner,
      placeCode: r.placeCode,
      placeKind: r.placeKind,
      lotCode: r.lotCode || null,
      drumSerial: r.drumSerial || null,
      expiresOn: r.expiresOn,
      quantity: r.quantity,
      available: r.available,
    })),
  );
}

const openOf = (l: { quantityC: number; receivedC: number }) => Math.max(0, l.quantityC - l.receivedC) / 100;

function orderRow(o: OrderView): z.input<typeof readOrder.answer> {
  return {
    code: o.code,
    kind: o.kind,
    supplier: o.supplier,
    state: o.state,
    warehouseCode: o.placeCode,
    sentOn: o.sentOn,
    note: o.note,
    lines: o.lines.map((l) => ({
      lineNo: l.lineNo,
      itemCode: l.itemCode,
      name: l.name,
      unit: l.unit,
      ordered: l.quantityC / 100,
      received: l.receivedC / 100,
      open: openOf(l),
      dueOn: l.dueOn,
      promisedOn: l.promisedOn,
      priceMinor: l.priceMinor,
      currency: l.currency,
      isCable: l.isCable,
      expires: l.expires,
    })),
  };
}

export function orderPage(
  db: Db,
  query: z.output<typeof readOrders.query>,
): Result<z.input<typeof readOrders.answer>> {
  const rows = loadOrders(db).filter((o) => fits(query.state, o.state));
  return ok(pageOf(rows, query, orderRow));
}

const noOrder = (code: string): Problem => ({
  path: "code",
  rule: "order-unknown",
  value: code,
  message: `There is no order ${code}.`,
  remedy: "Take the code from the list of orders.",
});

export function oneOrder(db: Db, code: string): Result<z.input<typeof readOrder.answer>> {
  const order = loadOrder(db, code);
  return order ? ok(orderRow(order)) : refused(noOrder(code));
}

type Receipt = z.output<typeof postReceipt.body>;

/** Lines that name another item than was ordered: the shelf would hold what nobody ordered. */
function wrongItems(order: OrderView, lines: Receipt["lines"]): Problem[] {
  return lines.flatMap(({ lineNo, itemCode }) => {
    const ordered = order.lines.find((l) => l.lineNo === lineNo);
    if (!ordered || ordered.itemCode === itemCode) return [];
    return [
      {
        path: `line ${lineNo} itemCode`,
        rule: "wrong-item",
        value: itemCode,
        message: `Line ${lineNo} of order ${order.code} ordered ${ordered.itemCode}, not ${itemCode}.`,
        remedy: "Name the line that ordered it, or send it back to the supplier.",
      },
    ];
  });
}

/** Each line of an order once: two entries for one would each be held against the same open quantity. */
function doubledLines(lines: Receipt["lines"]): Problem[] {
  const numbers = lines.map((l) => l.lineNo);
  return [...new Set(numbers.filter((n, i) => numbers.indexOf(n) !== i))].map((lineNo) => ({
    path: `line ${lineNo}`,
    rule: "line-doubled",
    value: lineNo,
    message: `Line ${lineNo} stands in the delivery more than once.`,
    remedy: "Add its quantities up and list its drums together; post a second lot as a receipt of its own.",
  }));
}

/** Books the delivery the way the order's own page does. */
export function bookReceipt(
  receipt: Receipt,
  code: string,
  key: string,
  { db, visitor, now }: ActionContext,
): Result<z.input<typeof postReceipt.answer>> {
  const order = loadOrder(db, code);
  if (!order) return refused(noOrder(code));
  const mixed = [...wrongItems(order, receipt.lines), ...doubledLines(receipt.lines)];
  if (mixed.length > 0) return refused(...mixed);
  const booked = receiveOrder(
    db,
    code,
    {
      on: receipt.on as CalendarDate,
      today: homeToday(db),
      placeCode: receipt.warehouseCode,
      overReason: receipt.overReason,
      key,
      lines: receipt.lines.map((l) => ({
        lineNo: l.lineNo,
        quantityC: Math.round(l.quantity * 100),
        lotCode: l.lotCode,
        expiresOn: l.expiresOn as CalendarDate | undefined,
        sureOfExpired: l.sureOfExpired as CalendarDate | undefined,
        drums: l.drums?.map((d) => ({ serial: d.serial, lengthC: Math.round(d.length * 100) })),
      })),
    },
    { name: visitor.name, at: now },
  );
  // Its body calls it by another name than the product does.
  if (!booked.ok)
    return refused(
      ...booked.problems.map((p) => (p.path === "placeCode" ? { ...p, path: "warehouseCode" } : p)),
    );
  const netted = andNet(booked, db, visitor);
  if (!netted.ok) return netted;
  const after = loadOrder(db, code)!;
  return ok({
    orderCode: code,
    state: netted.value as "sent" | "partly received" | "closed",
    lines: after.lines.map((l) => ({ lineNo: l.lineNo, received: l.receivedC / 100, open: openOf(l) })),
  });
}
