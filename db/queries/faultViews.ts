/** Faulty pieces as their rows of the ledger tell of them. */
import { and, desc, eq, min } from "drizzle-orm";
import { type FaultCause, type FaultMovementKind, type FaultState, faultState } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { fault, item, orderLine, place } from "../schema";

/** How the keys begin of what stayed on hold when a part of a hold was decided; the hold's number follows. */
export const REST_OF = "rest of fault ";

export interface FaultRow {
  id: number;
  kind: FaultMovementKind;
  fromPlace: string | null;
  toPlace: string | null;
  effectiveOn: CalendarDate;
  serial: string | null;
  lotCode: string | null;
}

export interface FaultView {
  id: number;
  itemCode: string;
  itemName: string;
  unit: string;
  serial: string | null;
  /** A whole drum. */
  drumSerial: string | null;
  /** The order on whose receipt it was put on hold. */
  orderCode: string | null;
  /** The hold of which it is the rest, after a part of that was decided. */
  restOf: number | null;
  /** It came with an order that has no line for it. */
  isWrongItem: boolean;
  /** Somebody may repair it: no drum of cable, and nothing that is only the wrong item. */
  isMendable: boolean;
  owner: "contractor" | "customer";
  quantity: number;
  cause: FaultCause;
  symptom: string;
  foundOn: CalendarDate;
  visitId: string | null;
  supplier: string;
  warehouseCode: string;
  expectedBackOn: CalendarDate | null;
  reference: string;
  recordedBy: string;
  recordedAt: number;
  state: FaultState;
  /** Where it stands; null = outside. */
  placeCode: string | null;
  placeName: string | null;
  since: CalendarDate;
  /** Serial that came in its place. */
  replacedBy: string | null;
  /** Rows that stand, oldest first. */
  rows: readonly FaultRow[];
}

/** Faults, newest first, with what became of them. */
export function loadFaults(
  db: Db,
  filter: { id?: number; itemCode?: string; orderCode?: string } = {},
): FaultView[] {
  const faults = db
    .select({ fault, itemName: item.name, unit: item.unit, lineNo: min(orderLine.lineNo) })
    .from(fault)
    .innerJoin(item, eq(item.code, fault.itemCode))
    .leftJoin(
      orderLine,
      and(eq(orderLine.orderCode, fault.orderCode), eq(orderLine.itemCode, fault.itemCode)),
    )
    .where(
      and(
        filter.id === undefined ? undefined : eq(fault.id, filter.id),
        filter.itemCode ? eq(fault.itemCode, filter.itemCode) : undefined,
        filter.orderCode ? eq(fault.orderCode, filter.orderCode) : undefined,
      ),
    )
    .groupBy(fault.id)
    .orderBy(desc(fault.id))
    .all();
  if (faults.length === 0) return [];
  const rows = standingRows(db, filter.id);
  const names = new Map(
    db
      .select()
      .from(place)
      .all()
      .map((p) => [p.code, p.name]),
  );
  return faults.map(({ fault: f, itemName, unit, lineNo }): FaultView => {
    const own = rows.get(f.id) ?? [];
    const { key, quantityC, ...rest } = f;
    const old = own.filter((r) => r.serial === f.serial && !(r.kind === "exchange" && r.fromPlace === null));
    const isWrongItem = f.orderCode !== null && lineNo === null;
    const placeCode = old.at(-1)?.toPlace ?? null;
    return {
      ...rest,
      itemName,
      unit,
      restOf: key.startsWith(REST_OF) ? Number.parseInt(key.slice(REST_OF.length), 10) : null,
      isWrongItem,
      isMendable: f.drumSerial === null && !isWrongItem,
      quantity: quantityC / 100,
      state: faultState(own.map((r) => r.kind)),
      placeCode,
      placeName: placeCode === null ? null : (names.get(placeCode) ?? null),
      since: own.at(-1)?.effectiveOn ?? f.foundOn,
      replacedBy: own.find((r) => r.kind === "exchange" && r.fromPlace === null)?.serial ?? null,
      rows: own,
    };
  });
}

/** Rows of faults that stand, by fault, oldest first. */
function standingRows(db: Db, faultId?: number): Map<number, FaultRow[]> {
  const rows = db.$client
    .prepare(
      `SELECT fault_id AS faultId, id, kind, from_place AS fromPlace, to_place AS toPlace,
              effective_on AS effectiveOn, serial, lot_code AS lotCode
       FROM movement m WHERE ${faultId === undefined ? "fault_id IS NOT NULL" : "fault_id = @faultId"}
         AND kind <> 'reversal' AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       ORDER BY id`,
    )
    .all({ faultId }) as (FaultRow & { faultId: number })[];
  const byFault = new Map<number, FaultRow[]>();
  for (const { faultId: of, ...row } of rows) {
    const list = byFault.get(of);
    if (list) list.push(row);
    else byFault.set(of, [row]);
  }
  return byFault;
}

export interface ExpectedBack {
  faultId: number;
  itemCode: string;
  placeCode: string;
  quantity: number;
  expectedOn: CalendarDate;
}

/** Pieces in repair whose day back is promised: on that day they come to their warehouse. */
export function loadExpectedBack(db: Db): ExpectedBack[] {
  return loadFaults(db)
    .filter((f) => f.state === "in repair" && f.expectedBackOn !== null)
    .map((f) => ({
      faultId: f.id,
      itemCode: f.itemCode,
      placeCode: f.warehouseCode,
      quantity: f.quantity,
      expectedOn: f.expectedBackOn!,
    }));
}

/**
 * Ledger rows that go back together with a row of a fault; "later" when a later row of it stands and must go first.
 * An exchange is one step of two rows.
 */
export function faultRowsToTakeBack(db: Db, row: { id: number; faultId: number }): number[] | "later" {
  const rows = standingRows(db, row.faultId).get(row.faultId) ?? [];
  const own = rows.find((r) => r.id === row.id);
  const together = own?.kind === "exchange" ? rows.filter((r) => r.kind === "exchange") : own ? [own] : [];
  const last = rows.at(-1);
  return together.some((r) => r.id === last?.id) ? together.map((r) => r.id).reverse() : "later";
}
