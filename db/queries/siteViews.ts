/**
 * Lists of sites and hops, and the visits and reports of one of them. Flat SQL over kept figures: ten thousand rows
 * must not load ten thousand designs.
 */
import { distanceKm } from "@/lib/geo";
import { type HopState, hopProgress, lastOpening, type PlannedVisitTimes, reasonNow } from "@/lib/programme";
import type { VisitKind } from "@/lib/schedule";
import type { AcceptanceProcedure, EndSide, Scheme, StructureKind } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { hopAcceptances } from "./acceptance";
import { openGatesByHop, unmetGatesByHop } from "./design";
import { designsNow, designsOfProgramme } from "./designNow";
import { holdsOf } from "./holds";
import { IS_SHORT, IS_WANTED, IS_WHOLE } from "./kitShort";
import { planInForce } from "./plans";
import { doneVisits, type StoredReport, tellingReports } from "./reports";
import { simulatedFinishes } from "./risk";
import { withdrawnVisits } from "./withdrawn";

/** One hop of the list. Figures are null until the worker has estimated the hop. */
export interface HopListRow {
  code: string;
  scheme: Scheme;
  bandGhz: number;
  /** Region of the near end. */
  region: string;
  nearSite: string | null;
  farSite: string | null;
  nearName: string | null;
  farName: string | null;
  /** null when an end or a coordinate is missing. */
  lengthKm: number | null;
  promisedOn: CalendarDate | null;
  plannedOn: CalendarDate | null;
  p80On: CalendarDate | null;
  doneOn: CalendarDate | null;
  daysLate: number | null;
  state: HopState;
  /** Where it stands by the plan alone, its promise passed or not. */
  byPlan: HopState;
  cableM: number | null;
  /** Both installs and the alignment visit, minutes, one crew each. */
  workMin: number | null;
  failCount: number | null;
  warnCount: number | null;
  openGates: number;
  heldBy: string | null;
  /** When the last of the gates opens that a visit is planned before. */
  gateOn: CalendarDate | null;
}

export type SiteState = HopState | "no hops";

/** One site of the list. */
export interface SiteListRow {
  code: string;
  name: string;
  region: string;
  structure: StructureKind;
  heightM: number;
  latDeg: number | null;
  lonDeg: number | null;
  /** null = not surveyed. */
  hasEarthingBar: boolean | null;
  endCount: number;
  hopCount: number;
  nextVisitOn: CalendarDate | null;
  failCount: number | null;
  warnCount: number | null;
  openGates: number;
  /** The worst state among its hops. */
  state: SiteState;
}

const WORST_FIRST: readonly HopState[] = [
  "late",
  "at risk",
  "held",
  "not planned",
  "to accept",
  "on promise",
  "done",
];

interface HopSql {
  code: string;
  scheme: Scheme;
  bandGhz: number;
  promisedOn: CalendarDate | null;
  acceptance: AcceptanceProcedure;
  region: string | null;
  nearSite: string | null;
  farSite: string | null;
  nearName: string | null;
  farName: string | null;
  nearLat: number | null;
  nearLon: number | null;
  farLat: number | null;
  farLon: number | null;
  cableM: number | null;
  workMin: number | null;
  failCount: number | null;
  warnCount: number | null;
}

/** Hops by code (all, or those named), with where each stands today against its promise by the plan in force. */
export function loadHopRows(db: Db, today: CalendarDate, codes?: readonly string[]): HopListRow[] {
  const only = codes && JSON.stringify(codes);
  const rows = db.$client
    .prepare(
      `SELECT h.code, h.scheme, h.band_ghz AS bandGhz, h.promised_on AS promisedOn, h.acceptance,
         COALESCE(sn.region, sf.region) AS region,
         n.site_code AS nearSite, f.site_code AS farSite, sn.name AS nearName, sf.name AS farName,
         sn.lat_deg AS nearLat, sn.lon_deg AS nearLon, sf.lat_deg AS farLat, sf.lon_deg AS farLon,
         en.cable_m + ef.cable_m AS cableM,
         en.install_min + ef.install_min + he.alignment_min AS workMin,
         en.fail_count + ef.fail_count + he.fail_count AS failCount,
         en.warn_count + ef.warn_count + he.warn_count AS warnCount
       FROM hop h
       LEFT JOIN link_end n ON n.hop_code = h.code AND n.side = 'near'
       LEFT JOIN link_end f ON f.hop_code = h.code AND f.side = 'far'
       LEFT JOIN site sn ON sn.code = n.site_code
       LEFT JOIN site sf ON sf.code = f.site_code
       LEFT JOIN end_estimate en ON en.end_id = n.id
       LEFT JOIN end_estimate ef ON ef.end_id = f.id
       LEFT JOIN hop_estimate he ON he.hop_code = h.code
       WHERE :only IS NULL OR h.code IN (SELECT value FROM json_each(:only))
       ORDER BY h.code`,
    )
    .all({ only: only ?? null }) as HopSql[];
  const gates = unmetGatesByHop(db, codes);
  const planned = plannedTimes(db, only);
  const designs = designsOfProgramme(db, planned, codes);
  const progress = hopProgress(
    rows.map((r) => ({
      code: r.code,
      promisedOn: r.promisedOn ?? undefined,
      gates: gates.get(r.code) ?? [],
      design: designs.get(r.code),
      acceptance: r.acceptance,
    })),
    planned,
    doneVisits(db),
    today,
    simulatedFinishes(db, planInForce(db)),
    hopAcceptances(db, codes),
  );
  return rows.map((r, i): HopListRow => {
    const p = progress[i]!;
    const { nearLat, nearLon, farLat, farLon, acceptance: _, ...row } = r;
    const hasBoth = nearLat !== null && nearLon !== null && farLat !== null && farLon !== null;
    return {
      ...row,
      region: r.region ?? "",
      lengthKm: hasBoth
        ? distanceKm({ latDeg: nearLat, lonDeg: nearLon }, { latDeg: farLat, lonDeg: farLon })
        : null,
      plannedOn: p.plannedOn ?? null,
      p80On: p.p80On ?? null,
      doneOn: p.doneOn ?? null,
      daysLate: p.daysLate ?? null,
      state: p.state,
      byPlan: p.byPlan,
      openGates: (gates.get(r.code) ?? []).filter((g) => g.state === "open").length,
      heldBy: p.heldBy ?? null,
      gateOn: lastOpening(p.shutGates ?? []) ?? null,
    };
  });
}

function plannedTimes(db: Db, only: string | undefined): PlannedVisitTimes[] {
  const plan = planInForce(db);
  if (!plan) return [];
  const holds = holdsOf(db, plan);
  const times = db.$client
    .prepare(
      `SELECT visit_id AS visitId, hop_code AS hopCode, start_on AS startOn, end_on AS endOn, risk_min AS riskMin,
         unplaced_rule AS unplacedRule, unplaced_detail AS unplacedDetail
       FROM plan_visit
       WHERE plan_id = :plan AND (:only IS NULL OR hop_code IN (SELECT value FROM json_each(:only)))`,
    )
    .all({ plan: plan.id, only: only ?? null }) as PlannedVisitTimes[];
  const withdrawn = withdrawnVisits(db);
  return times.map((v) => ({
    ...v,
    hold: holds.get(v.visitId),
    isWithdrawn: withdrawn.has(v.visitId),
  }));
}

/**
 * All sites by code.
 * @param today visits that begin earlier are not "next"
 * @param hops rows of `loadHopRows`, for the state of each site
 */
export function loadSiteRows(db: Db, today: CalendarDate, hops: readonly HopListRow[]): SiteListRow[] {
  const plan = planInForce(db);
  const rows = db.$client
    .prepare(
      `SELECT s.code, s.name, s.region, s.structure, s.structure_height_m AS heightM,
         s.lat_deg AS latDeg, s.lon_deg AS lonDeg, s.has_earthing_bar AS bar,
         COALESCE(e.ends, 0) AS endCount, COALESCE(e.hops, 0) AS hopCount,
         e.fails AS failCount, e.warns AS warnCount,
         v.next_on AS nextVisitOn, COALESCE(g.open, 0) AS openGates
       FROM site s
       LEFT JOIN (
         SELECT l.site_code, COUNT(*) AS ends, COUNT(DISTINCT l.hop_code) AS hops,
           SUM(x.fail_count) AS fails, SUM(x.warn_count) AS warns
         FROM link_end l LEFT JOIN end_estimate x ON x.end_id = l.id GROUP BY l.site_code
       ) e ON e.site_code = s.code
       LEFT JOIN (
         SELECT site_code, MIN(start_on) AS next_on FROM plan_visit
         WHERE plan_id = :plan AND start_on >= :today
           AND visit_id NOT IN (SELECT value FROM json_each(:withdrawn)) GROUP BY site_code
       ) v ON v.site_code = s.code
       LEFT JOIN (
         SELECT l.site_code, COUNT(*) AS open FROM gate g
         JOIN link_end l ON l.hop_code = g.hop_code AND g.side IN (l.side, 'both')
         WHERE g.state = 'open' GROUP BY l.site_code
       ) g ON g.site_code = s.code
       ORDER BY s.code`,
    )
    .all({ plan: plan?.id ?? -1, today, withdrawn: JSON.stringify([...withdrawnVisits(db)]) }) as (Omit<
    SiteListRow,
    "hasEarthingBar" | "state"
  > & {
    bar: number | null;
  })[];
  const states = worstStates(hops);
  return rows.map(({ bar, ...r }) => ({
    ...r,
    hasEarthingBar: bar === null ? null : bar === 1,
    state: states.get(r.code) ?? "no hops",
  }));
}

function worstStates(hops: readonly HopListRow[]): Map<string, HopState> {
  const worst = new Map<string, HopState>();
  for (const hop of hops) {
    for (const site of [hop.nearSite, hop.farSite]) {
      if (site === null) continue;
      const known = worst.get(site);
      if (known === undefined || WORST_FIRST.indexOf(hop.state) < WORST_FIRST.indexOf(known)) {
        worst.set(site, hop.state);
      }
    }
  }
  return worst;
}

/** Codes of the hops with an end at a site, in order. */
export function hopCodesAtSite(db: Db, siteCode: string): string[] {
  return db.$client
    .prepare("SELECT DISTINCT hop_code FROM link_end WHERE site_code = ? ORDER BY hop_code")
    .pluck()
    .all(siteCode) as string[];
}

/** A visit of the plan in force with its crew's name and what is known of its kit. */
export interface VisitView {
  visitId: string;
  hopCode: string;
  side: EndSide;
  siteCode: string;
  kind: VisitKind;
  durationMin: number;
  crewCode: string | null;
  crewName: string | null;
  startOn: CalendarDate | null;
  startMin: number | null;
  endOn: CalendarDate | null;
  endMin: number | null;
  riskMin: number;
  isPinned: boolean;
  unplacedRule: string | null;
  unplacedDetail: string | null;
  /** Why it has no place, by the gates as they are now; the plan's own words are older. */
  unplacedReason: string | null;
  kitReadyOn: CalendarDate | null;
  kitPickOn: CalendarDate | null;
  kitState: "planned" | "picked" | "issued" | null;
  kitMassKg: number | null;
  /** Kit lines that stock will not cover. */
  shortLines: number;
  /** Kit lines, and of them those that are wholly picked. */
  lineCount: number;
  pickedCount: number;
  /**
   * What was reported of it last; "planned again" = on hold before the plan was made, which gave it a place anew;
   * "withdrawn" = a revisit that is not needed any more.
   */
  outcome: StoredReport["outcome"] | "planned again" | "withdrawn" | null;
  /** The day on which it was done. */
  doneOn: CalendarDate | null;
}

/** Visits of the plan in force at a site or of a hop, in time order; none without a plan. */
export function loadVisitViews(db: Db, of: { siteCode: string } | { hopCode: string }): VisitView[] {
  const plan = planInForce(db);
  if (!plan) return [];
  const [column, code] = "siteCode" in of ? ["v.site_code", of.siteCode] : ["v.hop_code", of.hopCode];
  const rows = db.$client
    .prepare(
      `SELECT v.visit_id AS visitId, v.hop_code AS hopCode, v.side, v.site_code AS siteCode, v.kind,
         v.duration_min AS durationMin, v.crew_code AS crewCode, c.name AS crewName,
         v.start_on AS startOn, v.start_min AS startMin, v.end_on AS endOn, v.end_min AS endMin,
         v.risk_min AS riskMin, v.is_pinned AS isPinned,
         v.unplaced_rule AS unplacedRule, v.unplaced_detail AS unplacedDetail,
         v.kit_ready_on AS kitReadyOn, k.pick_on AS kitPickOn, k.state AS kitState, k.mass_kg AS kitMassKg,
         (SELECT COUNT(*) FROM kit_line l
          JOIN kit k ON k.plan_id = l.plan_id AND k.visit_id = l.visit_id
          WHERE l.plan_id = v.plan_id AND l.visit_id = v.visit_id AND ${IS_SHORT}) AS shortLines,
         (SELECT COUNT(*) FROM kit_line l
          WHERE l.plan_id = v.plan_id AND l.visit_id = v.visit_id AND ${IS_WANTED}) AS lineCount,
         (SELECT COUNT(*) FROM kit_line l
          WHERE l.plan_id = v.plan_id AND l.visit_id = v.visit_id AND ${IS_WANTED} AND ${IS_WHOLE}) AS pickedCount
       FROM plan_visit v
       LEFT JOIN crew c ON c.code = v.crew_code
       LEFT JOIN kit k ON k.plan_id = v.plan_id AND k.visit_id = v.visit_id
       WHERE v.plan_id = ? AND ${column} = ?
       ORDER BY v.start_on IS NULL, v.start_on, v.start_min, v.visit_id`,
    )
    .all(plan.id, code) as (Omit<VisitView, "isPinned" | "unplacedReason" | "outcome" | "doneOn"> & {
    isPinned: number;
  })[];
  const last = new Map(tellingReports(db).map((r) => [r.visitId, r]));
  const holds = holdsOf(db, plan);
  const withdrawn = withdrawnVisits(db);
  const designs = designsNow(db, rows);
  const gates = openGatesByHop(db, [...new Set(rows.map((r) => r.hopCode))]);
  return rows.map((r) => {
    const report = last.get(r.visitId);
    return {
      ...r,
      unplacedReason:
        r.startOn === null ? reasonNow(r, gates.get(r.hopCode) ?? [], designs.get(r.hopCode)) : null,
      isPinned: r.isPinned === 1,
      outcome: withdrawn.has(r.visitId)
        ? "withdrawn"
        : report?.outcome === "hold" && !holds.has(r.visitId)
          ? "planned again"
          : (report?.outcome ?? null),
      doneOn: report?.outcome === "done" ? report.workedOn : null,
    };
  });
}

/** A report from the field; `isOver`: a hold that lasts no more. */
export type HopReport = StoredReport & { isOver: boolean };

/** Reports of all visits of these hops, newest first. */
export function loadReportsOfHops(db: Db, hopCodes: readonly string[]): HopReport[] {
  const plan = planInForce(db);
  const holds = plan && holdsOf(db, plan);
  const last = new Map(tellingReports(db).map((r) => [r.visitId, r.id]));
  const isOver = (r: StoredReport) =>
    r.outcome === "hold" && (last.get(r.visitId) !== r.id || (holds !== undefined && !holds.has(r.visitId)));
  const one = db.$client.prepare(
    `SELECT id, key, visit_id AS visitId, hop_code AS hopCode, crew_code AS crewCode, worked_on AS workedOn,
       outcome, worked_min AS workedMin, left_min AS leftMin, hold_reason AS holdReason, note,
       reported_by AS reportedBy, reported_at AS reportedAt, corrects_id AS correctsId,
       lifted_at AS liftedAt, lifted_by AS liftedBy, lifted_why AS liftedWhy
     FROM visit_report WHERE hop_code = ?`,
  );
  return hopCodes
    .flatMap((code) => one.all(code) as StoredReport[])
    .sort((a, b) => b.id - a.id)
    .map((r) => ({ ...r, isOver: isOver(r) }));
}
