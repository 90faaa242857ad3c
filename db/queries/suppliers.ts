/** What the ledger and the orders say of use and of suppliers: feeds safety stock and reorder point. */
import {
  type Delivery,
  deadShare,
  type LeadTimeStatistics,
  leadTimeStatistics,
  type MeasuredStock,
  measuredStock,
  type ShareOfPieces,
  weeklyUse,
} from "@/lib/stock";
import { type CalendarDate, daysBetween } from "@/lib/time";
import type { Db } from "../open";
import { loadOrdering } from "./catalogue";
import { loadFaults } from "./faultViews";
import { lastSuppliers } from "./ordersToPlace";
import { rulesInForce } from "./programme";

/** What left warehouses for work, and below zero what came back unused; rows taken back are left out. */
export const WENT_OUT_FOR_WORK = `SUM(CASE WHEN m.kind = 'return' THEN -m.quantity_c ELSE m.quantity_c END) / 100.0 AS quantity
  FROM movement m
  JOIN place p ON p.code = CASE WHEN m.kind = 'return' THEN m.to_place ELSE m.from_place END
  WHERE p.kind = 'warehouse'
    AND (m.kind IN ('issue','cut','installed','return') OR (m.kind = 'scrap' AND m.run_id IS NOT NULL))
    AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)`;

function usesOf(db: Db, itemCode: string): { on: CalendarDate; quantity: number }[] {
  return db.$client
    .prepare(
      `SELECT m.effective_on AS "on", ${WENT_OUT_FOR_WORK} AND m.item_code = ? GROUP BY m.effective_on`,
    )
    .all(itemCode) as { on: CalendarDate; quantity: number }[];
}

/** The first day on which the ledger knows of an item; undefined = it never moved. */
function recordedFrom(db: Db, itemCode: string): CalendarDate | undefined {
  const first = db.$client
    .prepare("SELECT MIN(effective_on) FROM movement WHERE item_code = ?")
    .pluck()
    .get(itemCode) as CalendarDate | null;
  return first ?? undefined;
}

/** Lines of which all has come, by supplier: on the day of their last receipt. */
function deliveriesBySupplier(db: Db): Map<string, Delivery[]> {
  const rows = db.$client
    .prepare(
      `SELECT o.supplier, o.sent_on AS sentOn, l.promised_on AS promisedOn, MAX(m.effective_on) AS receivedOn
       FROM order_line l
       JOIN purchase_order o ON o.code = l.order_code
       JOIN movement m ON m.order_code = o.code AND m.item_code = l.item_code AND m.kind = 'receipt'
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       WHERE l.received_c >= l.quantity_c
       GROUP BY l.order_code, l.line_no ORDER BY receivedOn`,
    )
    .all() as {
    supplier: string;
    sentOn: CalendarDate | null;
    promisedOn: CalendarDate | null;
    receivedOn: CalendarDate;
  }[];
  const bySupplier = new Map<string, Delivery[]>();
  for (const { supplier, sentOn, promisedOn, receivedOn } of rows) {
    const list = bySupplier.get(supplier) ?? [];
    list.push({ orderedOn: sentOn ?? undefined, promisedOn: promisedOn ?? undefined, receivedOn });
    bySupplier.set(supplier, list);
  }
  return bySupplier;
}

export interface SupplierRow extends LeadTimeStatistics {
  supplier: string;
  /** Lines on the way, of them overdue against the promise, and the days by which the worst is. */
  open: number;
  overdue: number;
  worstDays: number;
  /** Pieces received on orders, and of what came from them those that were dead on arrival. */
  pieces: number;
  dead: number;
  deadShare: ShareOfPieces;
}

/** Pieces received on orders by supplier; receipts taken back and wrong items are left out. */
function piecesReceived(db: Db): Map<string, number> {
  const rows = db.$client
    .prepare(
      `SELECT o.supplier, SUM(m.quantity_c) / 100 AS pieces
       FROM movement m JOIN purchase_order o ON o.code = m.order_code JOIN item i ON i.code = m.item_code
       WHERE m.kind = 'receipt' AND i.unit = 'piece'
         AND EXISTS (SELECT 1 FROM order_line l WHERE l.order_code = o.code AND l.item_code = m.item_code)
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY o.supplier`,
    )
    .all() as { supplier: string; pieces: number }[];
  return new Map(rows.map((r) => [r.supplier, r.pieces]));
}

/** Pieces dead on arrival by supplier: not those taken back, nor those released because nothing was wrong with them. */
function piecesDead(db: Db): Map<string, number> {
  const dead = new Map<string, number>();
  for (const f of loadFaults(db)) {
    if (f.cause !== "dead on arrival" || f.unit !== "piece") continue;
    if (f.state === "taken back" || f.state === "released") continue;
    dead.set(f.supplier, (dead.get(f.supplier) ?? 0) + f.quantity);
  }
  return dead;
}

/** How suppliers deliver: complete lines against what was promised, and what is late now. The latest first. */
export function loadSuppliers(db: Db, today: CalendarDate): SupplierRow[] {
  const deliveries = deliveriesBySupplier(db);
  const open = db.$client
    .prepare(
      `SELECT o.supplier, COALESCE(l.promised_on, l.due_on) AS promisedOn
       FROM order_line l JOIN purchase_order o ON o.code = l.order_code
       WHERE o.state IN ('sent','partly received') AND l.received_c < l.quantity_c`,
    )
    .all() as { supplier: string; promisedOn: CalendarDate }[];
  const received = piecesReceived(db);
  const deadBy = piecesDead(db);
  const suppliers = new Set([...deliveries.keys(), ...open.map((o) => o.supplier), ...deadBy.keys()]);
  return [...suppliers]
    .map((supplier) => {
      const own = open.filter((o) => o.supplier === supplier);
      const late = own.map((o) => daysBetween(o.promisedOn, today)).filter((days) => days > 0);
      return {
        supplier,
        ...leadTimeStatistics(deliveries.get(supplier) ?? []),
        open: own.length,
        overdue: late.length,
        worstDays: Math.max(0, ...late),
        pieces: received.get(supplier) ?? 0,
        dead: deadBy.get(supplier) ?? 0,
        deadShare: deadShare(deadBy.get(supplier) ?? 0, received.get(supplier) ?? 0),
      };
    })
    .sort((a, b) => b.lateShare - a.lateShare || (a.supplier < b.supplier ? -1 : 1));
}

export interface MeasuredItem extends MeasuredStock {
  serviceLevel: number;
  /** Whom it was ordered from last; undefined = nobody yet. */
  supplier?: string;
}

/** Safety stock and reorder point of an item by what the records say; undefined when it never moved. */
export function loadMeasured(
  db: Db,
  itemCode: string,
  catalogueLeadDays: number,
  today: CalendarDate,
): MeasuredItem | undefined {
  const from = recordedFrom(db, itemCode);
  const ordering = loadOrdering(db).get(itemCode);
  if (!from || !ordering) return undefined;
  const { serviceLevel, useWeeks } = rulesInForce(db).stockPolicy;
  const supplier = lastSuppliers(db).get(itemCode);
  const measured = measuredStock({
    usePerWeek: weeklyUse(usesOf(db, itemCode), today, useWeeks, from),
    deliveries: (supplier && deliveriesBySupplier(db).get(supplier)) || [],
    catalogueLeadDays,
    serviceLevel,
    shelfLifeDays: ordering.shelfLifeDays,
  });
  return { ...measured, serviceLevel, supplier };
}
