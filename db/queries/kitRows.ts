/** The kits of the plan in force as a list, and what they weigh on the vehicles. */
import type { EndSide } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { IS_SHORT, IS_WANTED, IS_WHOLE, neverIssued } from "./kitShort";
import { planInForce, type StoredKit } from "./plans";
import { withdrawnVisits } from "./withdrawn";

export type KitState = StoredKit["state"];

export interface KitRow {
  visitId: string;
  /** What a revisit is for; null for any other visit. */
  remedy: string | null;
  hopCode: string;
  side: EndSide;
  siteCode: string;
  siteName: string;
  crewCode: string | null;
  startOn: CalendarDate | null;
  pickOn: CalendarDate;
  placeCode: string;
  placeName: string;
  state: KitState;
  massKg: number;
  volumeL: number;
  /** Lines of which something goes into the box. */
  lineCount: number;
  /** Lines short: of an issued kit what left without all of it. */
  shortCount: number;
  /** Lines wholly picked. */
  pickedCount: number;
  /** Of a revisit that is not needed any more: what was picked goes back. */
  isWithdrawn: boolean;
  /** Its visit is done, and by the books it did not leave: nobody picks for it, what left is booked. */
  isNeverIssued: boolean;
}

/** All kits of a plan in picking order; of withdrawn revisits those only that somebody has begun to pick. */
export function loadKitRows(db: Db, planId: number): readonly KitRow[] {
  return remembered(db, `kits ${planId}`, ["design", "plan", "kits", "crews", "reports"], () => {
    const withdrawn = withdrawnVisits(db);
    return readKitRows(db, planId)
      .map((k) => (withdrawn.has(k.visitId) ? { ...k, isWithdrawn: true, shortCount: 0 } : k))
      .filter((k) => !k.isWithdrawn || k.state !== "planned");
  });
}

function readKitRows(db: Db, planId: number): KitRow[] {
  return db.$client
    .prepare(
      `SELECT k.visit_id AS visitId, (SELECT r.remedy FROM revisit r WHERE r.visit_id = k.visit_id) AS remedy,
              v.hop_code AS hopCode, v.side, v.site_code AS siteCode, s.name AS siteName,
              v.crew_code AS crewCode, v.start_on AS startOn, k.pick_on AS pickOn, k.place_code AS placeCode,
              COALESCE(p.name, k.place_code) AS placeName, k.state, k.mass_kg AS massKg, k.volume_l AS volumeL,
              COALESCE(SUM(${IS_WANTED}), 0) AS lineCount, COALESCE(SUM(${IS_SHORT}), 0) AS shortCount,
              COALESCE(SUM(${IS_WANTED} AND ${IS_WHOLE}), 0) AS pickedCount, ${neverIssued("k")} AS isNeverIssued
       FROM kit k
       JOIN plan_visit v ON v.plan_id = k.plan_id AND v.visit_id = k.visit_id
       JOIN site s ON s.code = v.site_code
       LEFT JOIN place p ON p.code = k.place_code
       LEFT JOIN kit_line l ON l.plan_id = k.plan_id AND l.visit_id = k.visit_id
       WHERE k.plan_id = ?
       GROUP BY k.visit_id ORDER BY k.pick_on, v.start_on, v.start_min, k.visit_id`,
    )
    .all(planId)
    .map((read) => {
      const row = read as Omit<KitRow, "isWithdrawn" | "isNeverIssued"> & { isNeverIssued: number };
      return { ...row, isWithdrawn: false, isNeverIssued: row.isNeverIssued === 1 };
    });
}

/** Visits of the plan in force whose kit is issued, by day and name. */
export function issuedKitVisits(db: Db): string[] {
  const plan = planInForce(db);
  if (!plan) return [];
  return loadKitRows(db, plan.id)
    .filter((k) => k.state === "issued")
    .map((k) => k.visitId);
}

export interface LoadRow {
  crewCode: string;
  startOn: CalendarDate;
  massKg: number;
  volumeL: number;
  payloadKg: number;
  kits: number;
}

/** What each crew's vehicle carries on each day, kits of one day together; what nobody loads any more is left out. */
export function vehicleLoads(kits: readonly KitRow[], payloads: ReadonlyMap<string, number>): LoadRow[] {
  const loads = new Map<string, LoadRow>();
  for (const k of kits) {
    if (!k.crewCode || !k.startOn || k.isWithdrawn || k.isNeverIssued) continue;
    const key = `${k.startOn} ${k.crewCode}`;
    const row = loads.get(key) ?? {
      crewCode: k.crewCode,
      startOn: k.startOn,
      massKg: 0,
      volumeL: 0,
      payloadKg: payloads.get(k.crewCode) ?? 0,
      kits: 0,
    };
    loads.set(key, {
      ...row,
      massKg: row.massKg + k.massKg,
      volumeL: row.volumeL + k.volumeL,
      kits: row.kits + 1,
    });
  }
  return [...loads].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, row]) => row);
}
