/** What lies on the shelves now, in lots. Quantities of balances are hundredths (`...C`). */
import { and, eq, gt } from "drizzle-orm";
import type { Owner } from "@/lib/site";
import { type CalendarDate, daysBetween } from "@/lib/time";
import type { Db } from "../open";
import { balance, lot } from "../schema";

/** One item at one place, as the key of a map. */
export const shelfKey = (itemCode: string, placeCode: string): string =>
  JSON.stringify([itemCode, placeCode]);

export interface BalanceRow {
  itemCode: string;
  placeCode: string;
  lotCode: string;
  drumSerial: string;
  owner: Owner;
  quantityC: number;
}

/** All balances above zero, or those of one item. */
export function loadBalances(db: Db, itemCode?: string): BalanceRow[] {
  return db
    .select()
    .from(balance)
    .where(and(gt(balance.quantityC, 0), itemCode ? eq(balance.itemCode, itemCode) : undefined))
    .orderBy(balance.itemCode, balance.placeCode, balance.lotCode, balance.drumSerial)
    .all();
}

export interface Shelf {
  placeCode: string;
  /** In units, without lots that have expired. */
  onHand: number;
  /** The part of it that expires, with the last usable day counted from today. */
  lots: { quantity: number; lastDay: number }[];
}

/** What each warehouse has of each item today, or of one. */
export function loadShelves(db: Db, today: CalendarDate, itemCode?: string): Map<string, Shelf[]> {
  const rows = db.$client
    .prepare(
      `SELECT b.item_code AS itemCode, b.place_code AS placeCode, l.expires_on AS expiresOn,
              SUM(b.quantity_c) AS quantityC
       FROM balance b JOIN place p ON p.code = b.place_code LEFT JOIN lot l ON l.code = b.lot_code
       WHERE p.kind = 'warehouse' AND b.quantity_c > 0 AND (l.expires_on IS NULL OR l.expires_on >= ?)
         ${itemCode === undefined ? "" : "AND b.item_code = ?"}
       GROUP BY b.item_code, b.place_code, l.expires_on ORDER BY b.item_code, b.place_code, l.expires_on`,
    )
    .all(today, ...(itemCode === undefined ? [] : [itemCode])) as {
    itemCode: string;
    placeCode: string;
    expiresOn: CalendarDate | null;
    quantityC: number;
  }[];
  const shelves = new Map<string, Shelf[]>();
  for (const r of rows) {
    const list = shelves.get(r.itemCode) ?? [];
    shelves.set(r.itemCode, list);
    const last = list.at(-1);
    const shelf = last?.placeCode === r.placeCode ? last : { placeCode: r.placeCode, onHand: 0, lots: [] };
    if (shelf !== last) list.push(shelf);
    shelf.onHand += r.quantityC / 100;
    if (r.expiresOn)
      shelf.lots.push({ quantity: r.quantityC / 100, lastDay: daysBetween(today, r.expiresOn) });
  }
  return shelves;
}

/** What each vehicle holds that is still good today, by place and item, in units. */
export function loadOnVehicles(db: Db, today: CalendarDate): Map<string, Map<string, number>> {
  const rows = db.$client
    .prepare(
      `SELECT b.place_code AS placeCode, b.item_code AS itemCode, SUM(b.quantity_c) AS quantityC
       FROM balance b JOIN place p ON p.code = b.place_code LEFT JOIN lot l ON l.code = b.lot_code
       WHERE p.kind = 'vehicle' AND b.quantity_c > 0 AND b.drum_serial = ''
         AND (l.expires_on IS NULL OR l.expires_on >= ?)
       GROUP BY b.place_code, b.item_code`,
    )
    .all(today) as { placeCode: string; itemCode: string; quantityC: number }[];
  const vehicles = new Map<string, Map<string, number>>();
  for (const { placeCode, itemCode, quantityC } of rows) {
    const held = vehicles.get(placeCode) ?? new Map<string, number>();
    vehicles.set(placeCode, held.set(itemCode, quantityC / 100));
  }
  return vehicles;
}

/** What reports took off vehicles, by visit and item, in units. */
export function loadBookedUse(db: Db): Map<string, Map<string, number>> {
  const rows = db.$client
    .prepare(
      `SELECT m.visit_id AS visitId, m.item_code AS itemCode, SUM(m.quantity_c) AS quantityC
       FROM movement m WHERE m.kind = 'installed' AND m.visit_id IS NOT NULL AND m.run_id IS NULL
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY m.visit_id, m.item_code`,
    )
    .all() as { visitId: string; itemCode: string; quantityC: number }[];
  const visits = new Map<string, Map<string, number>>();
  for (const { visitId, itemCode, quantityC } of rows) {
    const used = visits.get(visitId) ?? new Map<string, number>();
    visits.set(visitId, used.set(itemCode, quantityC / 100));
  }
  return visits;
}

export function saveLot(db: Db, l: { code: string; itemCode: string; expiresOn?: CalendarDate }): void {
  const row = { ...l, expiresOn: l.expiresOn ?? null };
  db.insert(lot)
    .values(row)
    .onConflictDoUpdate({ target: lot.code, set: { expiresOn: row.expiresOn } })
    .run();
}

/** All lots, or those of one item. */
export function loadLots(
  db: Db,
  itemCode?: string,
): { code: string; itemCode: string; expiresOn: CalendarDate | null }[] {
  return db
    .select()
    .from(lot)
    .where(itemCode ? eq(lot.itemCode, itemCode) : undefined)
    .orderBy(lot.itemCode, lot.expiresOn, lot.code)
    .all();
}
