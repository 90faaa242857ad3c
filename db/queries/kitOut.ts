/** What of an issued kit is out: what the ledger says was issued, used and returned for its visit. */
import type { Owner } from "@/lib/site";
import type { Db } from "../open";
import { ledgerReason } from "./ledgerReasons";
import { usesOfVisit } from "./reports";
import { loadBalances } from "./shelves";

export interface IssuedRow {
  itemCode: string;
  name: string;
  unit: string;
  lotCode: string;
  owner: Owner;
  vehiclePlace: string;
  issuedC: number;
  returnedC: number;
  /** By the visit's reports, from this lot and vehicle. */
  usedC: number;
  /** Found faulty and put on hold off the vehicle. */
  heldC: number;
}

export interface OutRow extends IssuedRow {
  /** Still on the vehicle for this visit; never more than the vehicle holds of the lot. */
  outC: number;
  /** Of it what can go back onto a shelf: an opened unit stays on the vehicle for the visits after. */
  backC: number;
  /** Of it what the crew reported as left over; null = its reports do not say. */
  leftC: number | null;
  /** Serials that the issue named and no later row has moved on. */
  serials: string[];
}

const ISSUED_SHORT = ledgerReason("issuedShort", { why: "" });

/** Why an issued kit left with less than it needs, as whoever issued it said; null = nothing was said. */
export function issuedShortWhy(db: Db, visitId: string): string | null {
  const reasons = db.$client
    .prepare(
      `SELECT reason FROM movement m WHERE kind = 'issue' AND visit_id = ?
       AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id) ORDER BY id DESC`,
    )
    .pluck()
    .all(visitId) as string[];
  // What went after the kit has a reason of its own.
  return reasons.find((r) => r.startsWith(ISSUED_SHORT))?.slice(ISSUED_SHORT.length) ?? null;
}

export function issueRowsOf(db: Db, visitId: string): number[] {
  return db.$client
    .prepare("SELECT id FROM movement WHERE kind = 'issue' AND visit_id = ? ORDER BY id")
    .pluck()
    .all(visitId) as number[];
}

/** What went out for a visit, by item and lot, with what was used, came back and went on hold; rows taken back are left out. */
export function issuedOf(db: Db, visitId: string): IssuedRow[] {
  return db.$client
    .prepare(
      `SELECT m.item_code AS itemCode, i.name, i.unit, COALESCE(m.lot_code, '') AS lotCode, m.owner,
              CASE m.kind WHEN 'issue' THEN m.to_place ELSE m.from_place END AS vehiclePlace,
              SUM(CASE m.kind WHEN 'issue' THEN m.quantity_c ELSE 0 END) AS issuedC,
              SUM(CASE m.kind WHEN 'return' THEN m.quantity_c ELSE 0 END) AS returnedC,
              SUM(CASE m.kind WHEN 'installed' THEN m.quantity_c ELSE 0 END) AS usedC,
              SUM(CASE m.kind WHEN 'quality hold' THEN m.quantity_c ELSE 0 END) AS heldC
       FROM movement m JOIN item i ON i.code = m.item_code
       WHERE m.visit_id = ? AND m.kind IN ('issue','return','installed','quality hold')
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY 1, 4, 5, 6 HAVING issuedC > 0 ORDER BY 1, 4`,
    )
    .all(visitId) as IssuedRow[];
}

/** The vehicles that a visit's kit was issued into. */
export const vehiclesOf = (db: Db, visitId: string): string[] => [
  ...new Set(issuedOf(db, visitId).map((r) => r.vehiclePlace)),
];

/** Where a visit's material is used from: the vehicles that its kit was issued into, then the crew's own. */
export const usedFrom = (db: Db, visitId: string, own: string | null): string[] => [
  ...new Set([...vehiclesOf(db, visitId), ...(own === null ? [] : [own])]),
];

/** The same for a crew that worked there before the plan gave the visit to another: nothing from another crew's vehicle. */
export function usedByCrew(
  db: Db,
  visitId: string,
  { code, vehiclePlace }: { code: string; vehiclePlace: string | null },
): string[] {
  const others = db.$client
    .prepare("SELECT vehicle_place FROM crew WHERE code <> ? AND vehicle_place IS NOT NULL")
    .pluck()
    .all(code) as string[];
  return usedFrom(db, visitId, vehiclePlace).filter((v) => v === vehiclePlace || !others.includes(v));
}

/** Whose stock a report tells of: the vehicles of the visit, or of a crew that worked by an earlier plan its own alone. */
export const vehiclesOfReport = (
  db: Db,
  visitId: string,
  crew: { code: string; vehiclePlace: string | null },
  isHandedOver: boolean,
): string[] => (isHandedOver ? usedByCrew(db, visitId, crew) : usedFrom(db, visitId, crew.vehiclePlace));

/**
 * What of an issued kit is still out. The same vehicle may hold the lot for other visits, too: the issue less what was
 * used, returned and put on hold says what belongs to this one, the vehicle's balance what can be there at all. What the crew
 * reported as left over is told on the item's rows one after another.
 */
export function outOfKit(db: Db, visitId: string): OutRow[] {
  const rows = issuedOf(db, visitId);
  const left = leftOver(db, visitId);
  const named = serialsOut(db, visitId);
  // What came back already was left over, too.
  for (const r of rows) if (left.has(r.itemCode)) left.set(r.itemCode, left.get(r.itemCode)! - r.returnedC);
  return rows.map((r) => {
    const onVehicleC = loadBalances(db, r.itemCode)
      .filter((b) => b.placeCode === r.vehiclePlace && b.lotCode === r.lotCode && b.owner === r.owner)
      .reduce((sum, b) => sum + b.quantityC, 0);
    const outC = Math.max(0, Math.min(r.issuedC - r.returnedC - r.usedC - r.heldC, onVehicleC));
    const backC = r.unit === "m" ? outC : outC - (outC % 100);
    const serials = named
      .filter(
        (s) =>
          s.itemCode === r.itemCode &&
          s.lotCode === r.lotCode &&
          s.owner === r.owner &&
          s.vehiclePlace === r.vehiclePlace,
      )
      .map((s) => s.serial);
    const saidC = left.get(r.itemCode);
    if (saidC === undefined) return { ...r, outC, backC, leftC: null, serials };
    const leftC = Math.max(0, Math.min(saidC, backC));
    left.set(r.itemCode, saidC - leftC);
    return { ...r, outC, backC, leftC, serials };
  });
}

/** Serials whose last row is the issue of a visit's kit. */
function serialsOut(
  db: Db,
  visitId: string,
): { serial: string; itemCode: string; lotCode: string; owner: Owner; vehiclePlace: string }[] {
  return db.$client
    .prepare(
      `SELECT m.serial, m.item_code AS itemCode, COALESCE(m.lot_code, '') AS lotCode, m.owner,
              m.to_place AS vehiclePlace
       FROM movement m WHERE m.kind = 'issue' AND m.visit_id = ? AND m.serial IS NOT NULL
         AND m.id = (SELECT x.id FROM movement x WHERE x.serial = m.serial
                     ORDER BY x.effective_on DESC, x.id DESC LIMIT 1)
       ORDER BY m.id`,
    )
    .all(visitId) as ReturnType<typeof serialsOut>;
}

/** By item, without cut runs: those do not go back onto a drum. */
function leftOver(db: Db, visitId: string): Map<string, number> {
  const byItem = new Map<string, number>();
  for (const u of usesOfVisit(db, visitId))
    if (u.runId === null) byItem.set(u.itemCode, (byItem.get(u.itemCode) ?? 0) + u.leftC);
  return byItem;
}
