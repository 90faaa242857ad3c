/** What went out for each hop, and what became of it. */
import { parseVisitId } from "@/lib/programme";
import {
  closeOut,
  type HopCloseOut,
  type HopMaterial,
  type SerialAccount,
  type SerialRow,
  serialAccount,
  serialOf,
} from "@/lib/stock";
import type { Db } from "../open";
import { groupBy } from "./design";
import { loadHung } from "./hung";
import { STANDING } from "./reports";

interface MaterialRow extends Omit<HopMaterial, "hopCode" | "neededC" | "vehicle"> {
  visitId: string;
}

/**
 * Rows of the ledger that name a visit, and what crews reported of runs; rows taken back are left out. The saw allowance
 * is the drum's loss, not the hop's. What went from the vehicle onto hold has come back; what was installed and then
 * failed was accounted for as installed. A run leaves the ledger when it is cut, so its use is what the report says; a
 * piece that was lost counts as scrapped.
 */
export function loadCloseOut(db: Db): HopCloseOut[] {
  const rows = db.$client
    .prepare(
      `SELECT m.visit_id AS visitId, m.item_code AS itemCode, i.unit,
              SUM(CASE WHEN m.kind IN ('issue','cut') THEN m.quantity_c ELSE 0 END) AS issuedC,
              SUM(CASE WHEN m.kind IN ('return','quality hold') THEN m.quantity_c ELSE 0 END) AS returnedC,
              SUM(CASE WHEN m.kind = 'installed' THEN m.quantity_c ELSE 0 END) AS installedC,
              SUM(CASE WHEN m.kind = 'scrap' THEN m.quantity_c ELSE 0 END) AS scrappedC
       FROM movement m JOIN item i ON i.code = m.item_code
       WHERE m.visit_id IS NOT NULL AND m.kind IN ('issue','cut','return','quality hold','installed','scrap')
         AND NOT (m.kind = 'quality hold' AND m.from_place IS NULL)
         AND (m.run_id IS NULL OR m.kind = 'cut')
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY m.visit_id, m.item_code
       UNION ALL
       SELECT m.visit_id, m.item_code, 'm', 0, 0, 0, SUM(m.quantity_c)
       FROM run_loss x JOIN movement m ON m.id = x.cut_id
       WHERE NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       GROUP BY m.visit_id, m.item_code
       UNION ALL
       SELECT v.visit_id, u.item_code, 'm', 0, 0, SUM(u.used_c), SUM(u.left_c)
       FROM report_use u JOIN visit_report v ON v.id = u.report_id
       WHERE u.run_id IS NOT NULL AND ${STANDING}
         AND EXISTS (SELECT 1 FROM movement m WHERE m.run_id = u.run_id AND m.kind = 'cut'
                     AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id))
       GROUP BY v.visit_id, u.item_code`,
    )
    .all() as MaterialRow[];
  const kits = issuedLines(db);
  return closeOut(
    rows.flatMap(({ visitId, ...row }) => {
      const visit = parseVisitId(visitId);
      return visit ? [{ ...row, ...kits.get(lineKey(visitId, row.itemCode)), hopCode: visit.hopCode }] : [];
    }),
  );
}

const lineKey = (visitId: string, itemCode: string) => JSON.stringify([visitId, itemCode]);

/**
 * What issued kits need of pieces with an allowance, and into what they were issued; a kit of which the plan in force
 * knows nothing any more by the last plan that did.
 */
function issuedLines(db: Db): Map<string, { neededC: number; vehicle: string }> {
  const rows = db.$client
    .prepare(
      `SELECT k.visit_id AS visitId, l.item_code AS itemCode, l.needed_c AS neededC,
              (SELECT m.to_place FROM movement m WHERE m.visit_id = k.visit_id AND m.kind = 'issue'
                 AND m.item_code = l.item_code
                 AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
               ORDER BY m.id DESC LIMIT 1) AS vehicle
       FROM kit k JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       JOIN item i ON i.code = l.item_code
       WHERE k.state = 'issued' AND l.run_id IS NULL AND l.needed_c % 100 <> 0 AND i.unit = 'piece'
       ORDER BY k.plan_id`,
    )
    .all() as { visitId: string; itemCode: string; neededC: number; vehicle: string | null }[];
  return new Map(
    rows.map((r) => [lineKey(r.visitId, r.itemCode), { neededC: r.neededC, vehicle: r.vehicle ?? "" }]),
  );
}

export interface UnbookedUse {
  visitId: string;
  itemCode: string;
  /** Reported as used and in no row of the ledger, hundredths of the item's unit. */
  quantityC: number;
}

/** What crews reported as used that their vehicles did not hold by the books, or of runs that nobody cut by them. */
export function loadUnbookedUse(db: Db): UnbookedUse[] {
  return db.$client
    .prepare(
      `WITH said AS (
         SELECT v.visit_id AS visitId, u.item_code AS itemCode, u.run_id AS runId, SUM(u.used_c) AS usedC
         FROM report_use u JOIN visit_report v ON v.id = u.report_id
         WHERE ${STANDING} GROUP BY v.visit_id, u.item_code, u.run_id
       ), booked AS (
         SELECT m.visit_id AS visitId, m.item_code AS itemCode, SUM(m.quantity_c) AS bookedC
         FROM movement m
         WHERE m.kind = 'installed' AND m.visit_id IS NOT NULL AND m.run_id IS NULL
           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
         GROUP BY m.visit_id, m.item_code
       )
       SELECT s.visitId, s.itemCode, SUM(s.quantityC) AS quantityC FROM (
         SELECT said.visitId, said.itemCode, said.usedC - coalesce(b.bookedC, 0) AS quantityC
         FROM said LEFT JOIN booked b ON b.visitId = said.visitId AND b.itemCode = said.itemCode
         WHERE said.runId IS NULL
         UNION ALL
         SELECT visitId, itemCode, usedC FROM said
         WHERE runId IS NOT NULL
           AND NOT EXISTS (SELECT 1 FROM movement m WHERE m.run_id = said.runId AND m.kind = 'cut'
                           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id))
       ) s WHERE s.quantityC > 0
       GROUP BY s.visitId, s.itemCode ORDER BY s.visitId, s.itemCode`,
    )
    .all() as UnbookedUse[];
}

interface NamedRow extends SerialRow {
  serial: string;
  itemCode: string;
  visitId: string | null;
}

/**
 * What became of every radio whose serial was read at a hop: hung there once, or named by a row of one of its visits
 * (installed, or faulty before it hung).
 */
export function loadSerialAccounts(db: Db): Map<string, SerialAccount[]> {
  const rows = db.$client
    .prepare(
      `SELECT serial, item_code AS itemCode, kind, effective_on AS "on", to_place AS toPlace, visit_id AS visitId
       FROM movement m WHERE serial IS NOT NULL AND kind <> 'reversal'
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
       ORDER BY effective_on, id`,
    )
    .all() as NamedRow[];
  for (const row of rows) row.serial = serialOf(row.serial);
  const rowsOf = groupBy(rows, (r) => r.serial);
  const hung = loadHung(db, {})
    .map((h) => ({ ...h, serial: serialOf(h.serial) }))
    .reverse();
  const standing = new Map(hung.filter((h) => h.endedOn === null).map((h) => [h.serial, h.hopCode]));
  const named = [
    ...hung.map((h) => ({ hopCode: h.hopCode, serial: h.serial, itemCode: h.itemCode })),
    ...rows.flatMap(({ visitId, serial, itemCode }) => {
      const hopCode = visitId === null ? undefined : parseVisitId(visitId)?.hopCode;
      return hopCode ? [{ hopCode, serial, itemCode }] : [];
    }),
  ];
  const accounts = new Map<string, SerialAccount[]>();
  for (const [hopCode, ofHop] of groupBy(named, (n) => n.hopCode)) {
    const items = new Map(ofHop.map((n) => [n.serial, n.itemCode]));
    const list = [...items].sort(([a], [b]) => (a < b ? -1 : 1));
    accounts.set(
      hopCode,
      list.flatMap(([serial, itemCode]) => {
        const spells = hung.filter((h) => h.hopCode === hopCode && h.serial === serial);
        const own = rowsOf.get(serial) ?? [];
        // Known by nothing but a record that was written wrong: it was never there.
        if (own.length === 0 && spells.every((h) => h.endedWhy === "written wrong")) return [];
        const hangsAt = standing.get(serial);
        return [
          serialAccount({
            serial,
            itemCode,
            spells: spells.map((h) => ({
              position: `${h.oduLabel} ${h.side}`,
              hungOn: h.hungOn,
              endedOn: h.endedOn,
              isWrong: h.endedWhy === "written wrong",
            })),
            rows: own,
            hangsAt: hangsAt === undefined || hangsAt === hopCode ? null : hangsAt,
          }),
        ];
      }),
    );
  }
  return accounts;
}
