/** What the map shows besides the lists of sites and hops: who goes to a hop, and a crew's day in the plan in force. */
import type { LatLon } from "@/lib/geo";
import type { RouteVisit } from "@/lib/map";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { nightsOfPlan, type PlanHead, planInForce } from "./plans";
import { crewCodes } from "./week";
import { withdrawnVisits } from "./withdrawn";

/** Codes of the crews that go to each hop by the plan in force. */
export function crewsByHop(db: Db): Map<string, string[]> {
  const rows = db.$client
    .prepare(
      `SELECT DISTINCT hop_code AS hop, crew_code AS crew FROM plan_visit
       WHERE plan_id = ? AND crew_code IS NOT NULL
         AND visit_id NOT IN (SELECT value FROM json_each(?)) ORDER BY hop_code, crew_code`,
    )
    .all(planInForce(db)?.id ?? -1, JSON.stringify([...withdrawnVisits(db)])) as {
    hop: string;
    crew: string;
  }[];
  const byHop = new Map<string, string[]>();
  for (const { hop, crew } of rows) byHop.set(hop, [...(byHop.get(hop) ?? []), crew]);
  return byHop;
}

function nightsOf(db: Db, plan: PlanHead, crewCode: string): CalendarDate[] {
  const codes = crewCodes(db).map((c) => c.code);
  return nightsOfPlan(plan, codes).flatMap((n) => (n.crewCode === crewCode ? [n.on] : []));
}

export interface CrewWay {
  depot: { name: string; position?: LatLon };
  visits: RouteVisit[];
  /** Dates after whose work the crew sleeps away. */
  nights: CalendarDate[];
}

const positionOf = (lat: number | null, lon: number | null): LatLon | undefined =>
  lat === null || lon === null ? undefined : { latDeg: lat, lonDeg: lon };

/** All of a crew's visits by the plan in force with where they are; undefined for no such crew or no plan. */
export function loadCrewWay(db: Db, crewCode: string): CrewWay | undefined {
  const plan = planInForce(db);
  const depot = db.$client
    .prepare(
      `SELECT p.name, p.lat_deg AS lat, p.lon_deg AS lon
       FROM crew c JOIN place p ON p.code = c.depot_place WHERE c.code = ?`,
    )
    .get(crewCode) as { name: string; lat: number | null; lon: number | null } | undefined;
  if (!plan || !depot) return undefined;
  const rows = db.$client
    .prepare(
      `SELECT v.visit_id AS visitId, v.hop_code AS hopCode, v.site_code AS siteCode, s.name AS siteName,
         s.lat_deg AS lat, s.lon_deg AS lon,
         v.start_on AS startOn, v.start_min AS startMin, v.end_on AS endOn, v.end_min AS endMin
       FROM plan_visit v JOIN site s ON s.code = v.site_code
       WHERE v.plan_id = ? AND v.crew_code = ? AND v.visit_id NOT IN (SELECT value FROM json_each(?))
       ORDER BY v.start_on, v.start_min, v.visit_id`,
    )
    .all(plan.id, crewCode, JSON.stringify([...withdrawnVisits(db)])) as (Omit<RouteVisit, "position"> & {
    lat: number | null;
    lon: number | null;
  })[];
  return {
    depot: { name: depot.name, position: positionOf(depot.lat, depot.lon) },
    visits: rows.map(({ lat, lon, ...visit }) => ({ ...visit, position: positionOf(lat, lon) })),
    nights: nightsOf(db, plan, crewCode),
  };
}
