/** What the weather pages read: the work at each site, forecasts without history, and the visits of the next days. */
import type { WorkSegment } from "@/lib/hours";
import { parseVisitId } from "@/lib/programme";
import type { VisitKind } from "@/lib/schedule";
import type { EndSide, Site } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { decodeMembers, decodeSeries, type WeatherSeries } from "@/lib/weather";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { type site as siteTable, weatherPlace } from "../schema";
import { siteOfRow } from "./design";
import { VISIT_ESTIMATE, VISIT_ESTIMATE_JOINS } from "./estimates";
import { planInForce } from "./plans";
import { placesWithHours, type WeatherPlaceRow } from "./weather";
import { withdrawnVisits } from "./withdrawn";

/** A site with what its ends ask of the weather: the highest mount, the largest dish, the highest band. */
export interface SiteWork {
  site: Site;
  /** null = the site has no link end. */
  heightM: number | null;
  diameterM: number | null;
  bandGhz: number | null;
  endCount: number;
}

interface SiteSql {
  code: string;
  name: string;
  region: string;
  lat_deg: number | null;
  lon_deg: number | null;
  elevation_m: number;
  zone: string;
  structure: Site["structure"];
  structure_height_m: number;
  terrain: Site["terrain"];
  has_earthing_bar: number | null;
  access_weekdays: string;
  access_from_min: number;
  access_to_min: number;
  notice_days: number;
  allows_two_crews: number;
  heightM: number | null;
  diameterM: number | null;
  bandGhz: number | null;
  endCount: number;
}

/** All sites by code with the figures of their work. */
export function loadSiteWork(db: Db): readonly SiteWork[] {
  return remembered(db, "site work", ["design"], () => readSiteWork(db));
}

/** What the weather needs to know of one link end: a crew works at its own mount, not at the site's highest. */
export type EndWork = Pick<SiteWork, "heightM" | "diameterM" | "bandGhz">;

/** By `endWorkKey`. */
export function loadEndWork(db: Db): Map<string, EndWork> {
  const rows = db.$client
    .prepare(
      `SELECT l.hop_code AS hopCode, l.side, MAX(a.mount_height_m) AS heightM, MAX(a.diameter_m) AS diameterM,
         h.band_ghz AS bandGhz
       FROM link_end l JOIN hop h ON h.code = l.hop_code
       LEFT JOIN antenna_position a ON a.end_id = l.id
       GROUP BY l.id`,
    )
    .all() as (EndWork & { hopCode: string; side: string })[];
  return new Map(rows.map(({ hopCode, side, ...work }) => [endWorkKey(hopCode, side), work]));
}

export const endWorkKey = (hopCode: string, side: string): string => `${hopCode}/${side}`;

function readSiteWork(db: Db): SiteWork[] {
  const rows = db.$client
    .prepare(
      `SELECT s.*, w.heightM, w.diameterM, w.bandGhz, COALESCE(w.ends, 0) AS endCount
       FROM site s LEFT JOIN (
         SELECT l.site_code, MAX(a.mount_height_m) AS heightM, MAX(a.diameter_m) AS diameterM,
           MAX(h.band_ghz) AS bandGhz, COUNT(DISTINCT l.id) AS ends
         FROM link_end l JOIN hop h ON h.code = l.hop_code
         LEFT JOIN antenna_position a ON a.end_id = l.id
         GROUP BY l.site_code
       ) w ON w.site_code = s.code
       ORDER BY s.code`,
    )
    .all() as SiteSql[];
  return rows.map(({ heightM, diameterM, bandGhz, endCount, ...r }) => {
    const row: typeof siteTable.$inferSelect = {
      code: r.code,
      name: r.name,
      region: r.region,
      latDeg: r.lat_deg,
      lonDeg: r.lon_deg,
      elevationM: r.elevation_m,
      zone: r.zone,
      structure: r.structure,
      structureHeightM: r.structure_height_m,
      terrain: r.terrain,
      hasEarthingBar: r.has_earthing_bar === null ? null : r.has_earthing_bar === 1,
      accessWeekdays: r.access_weekdays,
      accessFromMin: r.access_from_min,
      accessToMin: r.access_to_min,
      noticeDays: r.notice_days,
      allowsTwoCrews: r.allows_two_crews === 1,
    };
    return { site: siteOfRow(row), heightM, diameterM, bandGhz, endCount };
  });
}

/** A place with its latest forecast; `forecast` undefined when there is none. */
export interface PlaceForecast extends WeatherPlaceRow {
  forecast?: WeatherSeries;
  /** Ensemble members issued with that forecast or after it; empty when there are none. */
  members: readonly WeatherSeries[];
  /** A forecast or past hours were brought in for it. */
  hasHours: boolean;
}

/** Latest forecast of every place, history left where it is. */
export function loadPlaceForecasts(db: Db): readonly PlaceForecast[] {
  return remembered(db, "place forecasts", ["weather"], () => readPlaceForecasts(db));
}

/** Members may be issued a little before the forecast they come with, ms. */
const MEMBER_LAG_MILLIS = 12 * 3_600_000;

function readPlaceForecasts(db: Db): PlaceForecast[] {
  const forecasts = latestBlocks(db, "forecast", Number.MAX_SAFE_INTEGER);
  const members = latestBlocks(db, "member", Number.MAX_SAFE_INTEGER);
  const { history } = placesWithHours(db);
  return db
    .select()
    .from(weatherPlace)
    .orderBy(weatherPlace.code)
    .all()
    .map((place) => {
      const payload = forecasts.get(place.code)?.payload;
      const forecast = payload && decodeSeries(payload);
      const own = members.get(place.code);
      const isOfIssue = forecast && own && own.issuedAt >= forecast.issuedAtMillis - MEMBER_LAG_MILLIS;
      return {
        ...place,
        forecast,
        members: isOfIssue ? decodeMembers(own.payload) : [],
        hasHours: forecast !== undefined || history.has(place.code),
      };
    });
}

/**
 * The forecasts that were the latest at an instant, by place: what a plan made then was planned with. Places whose
 * latest forecast is still the same are left out.
 */
export function earlierForecasts(db: Db, atMillis: number): Map<string, WeatherSeries> {
  const now = latestBlocks(db, "forecast", Number.MAX_SAFE_INTEGER);
  const then = latestBlocks(db, "forecast", atMillis);
  return new Map(
    [...then]
      .filter(([code, block]) => now.get(code)?.issuedAt !== block.issuedAt)
      .map(([code, block]) => [code, decodeSeries(block.payload)]),
  );
}

interface IssuedBlock {
  issuedAt: number;
  payload: Buffer;
}

/** By place the block of the kind with the latest issue up to `untilMillis`. */
function latestBlocks(db: Db, kind: "forecast" | "member", untilMillis: number): Map<string, IssuedBlock> {
  const rows = db.$client
    .prepare(
      `SELECT b.place_code AS placeCode, b.issued_at AS issuedAt, b.payload
       FROM weather_block b
       JOIN (
         SELECT place_code, MAX(issued_at) AS issued_at FROM weather_block
         WHERE kind = :kind AND issued_at <= :until GROUP BY place_code
       ) l ON l.place_code = b.place_code AND l.issued_at = b.issued_at
       WHERE b.kind = :kind ORDER BY b.place_code, b.starts_at`,
    )
    .all({ kind, until: untilMillis }) as ({ placeCode: string } & IssuedBlock)[];
  return new Map(rows.map(({ placeCode, ...block }) => [placeCode, block]));
}

/** How much history a place has; `stamp` changes when a block is added or replaced. */
export function historyStamp(db: Db, placeCode: string): { blocks: number; stamp: string } {
  const row = db.$client
    .prepare(
      `SELECT COUNT(*) AS blocks, COALESCE(SUM(hours), 0) AS hours, COALESCE(MAX(starts_at), 0) AS last,
         COALESCE(MAX(issued_at), 0) AS issued
       FROM weather_block WHERE place_code = ? AND kind = 'history'`,
    )
    .get(placeCode) as { blocks: number; hours: number; last: number; issued: number };
  return { blocks: row.blocks, stamp: `${row.blocks} ${row.hours} ${row.last} ${row.issued}` };
}

/** A planned visit of the next days with the work that the weather may stop. */
export interface ForecastVisit {
  visitId: string;
  hopCode: string;
  side: EndSide;
  siteCode: string;
  /** Of joint work: the other end's site. */
  farSiteCode: string | null;
  kind: VisitKind;
  /** Done at both ends in the same hours. */
  isJoint: boolean;
  crewCode: string;
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
  /** From the kept estimate; null when there is none yet. */
  segments: WorkSegment[] | null;
  /** Part of `segments` that comes before the planned start: the plan pays it once per crew, site and day. */
  setupMin: number;
  /** Factor of the crew on the work after the set-up; undefined = the crew's own pace alone. */
  pace?: number;
}

/**
 * Placed visits of the plan in force that begin in [from, to]; whoever asks leaves out those reported done. A withdrawn
 * revisit has no work that weather could stop.
 */
export function loadForecastVisits(db: Db, from: CalendarDate, to: CalendarDate): ForecastVisit[] {
  const plan = planInForce(db);
  if (!plan) return [];
  const rows = db.$client
    .prepare(
      `SELECT v.visit_id AS visitId, v.hop_code AS hopCode, v.side, v.site_code AS siteCode, v.kind,
         v.crew_code AS crewCode, v.start_on AS startOn, v.start_min AS startMin,
         v.end_on AS endOn, v.end_min AS endMin, v.is_joint AS isJoint, o.site_code AS farSiteCode,
         json_extract(e.body, '$.segments') AS segments, json_extract(e.body, '$.parts') AS parts,
         COALESCE(json_extract(e.body, '$.setupMin'), 0) AS setupMin
       FROM plan_visit v
       LEFT JOIN link_end o ON v.is_joint = 1 AND o.hop_code = v.hop_code AND o.side <> v.side
       LEFT JOIN (
         SELECT p.visit_id, ${VISIT_ESTIMATE} AS body
         FROM plan_visit p ${VISIT_ESTIMATE_JOINS}
         WHERE p.plan_id = :plan AND p.start_on BETWEEN :from AND :to
       ) e ON e.visit_id = v.visit_id
       WHERE v.plan_id = :plan AND v.crew_code IS NOT NULL AND v.start_on BETWEEN :from AND :to
       ORDER BY v.start_on, v.start_min, v.visit_id`,
    )
    .all({ plan: plan.id, from, to }) as (Omit<ForecastVisit, "segments" | "isJoint"> & {
    isJoint: number;
    segments: string | null;
    parts: string | null;
  })[];
  const withdrawn = withdrawnVisits(db);
  const needed = rows.filter((r) => !withdrawn.has(r.visitId));
  return needed.map(({ parts, ...r }) => {
    const inParts = parts && (JSON.parse(parts) as WorkSegment[][])[(parseVisitId(r.visitId)?.part ?? 1) - 1];
    return {
      ...r,
      isJoint: r.isJoint === 1,
      segments: inParts || (r.segments ? (JSON.parse(r.segments) as WorkSegment[]) : null),
    };
  });
}
