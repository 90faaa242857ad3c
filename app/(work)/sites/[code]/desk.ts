/** Everything one site's page computes live: take-off of its ends, hours, curve. Kept per process by their inputs. */
import { createHash } from "node:crypto";
import { homeToday } from "@/app/_server/clock";
import type { Db } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { loadCrews } from "@/db/queries/crews";
import { loadHops, loadSite } from "@/db/queries/design";
import { type RulesInForce, rulesInForce } from "@/db/queries/programme";
import { hopCodesAtSite } from "@/db/queries/siteViews";
import { calibratedEstimate } from "@/lib/calibration";
import {
  type CrewComposition,
  type EndEstimate,
  type EstimateOptions,
  estimateAlignment,
  estimateHours,
  workKey,
} from "@/lib/hours";
import { type Crew, endWork, hopWork, referenceCrew, SIDES } from "@/lib/programme";
import type { EndSide, Hop, LinkEnd, Site } from "@/lib/site";
import { type EndTakeoff, type HopTakeoff, type TakeoffContext, takeOff, takeOffEnd } from "@/lib/takeoff";

/** One end at a site with its take-off. */
export interface SiteEnd {
  /** `${hop code}/${side}`, as in the address. */
  key: string;
  hop: Hop;
  side: EndSide;
  end: LinkEnd;
  site: Site;
  otherSite: Site;
  takeoff: EndTakeoff;
  hopTakeoff: HopTakeoff;
}

export interface Desk {
  context: TakeoffContext;
  rules: RulesInForce;
  crews: Crew[];
  /** Whom the hours are worked out for. */
  crew: CrewComposition;
}

/** Rules, catalogue and crews, with only the sites that these hops stand on. */
export function openDesk(db: Db, hops: readonly Hop[]): Desk {
  const rules = rulesInForce(db);
  const crews = loadCrews(db);
  const codes = new Set(hops.flatMap((h) => [h.near.siteId, h.far.siteId]));
  const sites = [...codes].flatMap((code) => loadSite(db, code) ?? []);
  return {
    rules,
    crews,
    crew: referenceCrew(crews, homeToday(db)),
    context: {
      sites: new Map(sites.map((s) => [s.id, s])),
      catalogue: loadCatalogue(db),
      rules: rules.takeoffRules,
      policy: rules.takeoffPolicy,
    },
  };
}

/** The ends of a hop, taken off. */
export function endsOfHop(hop: Hop, { context }: Desk): SiteEnd[] {
  const hopTakeoff = takeOff(hop, context);
  return SIDES.map((side) => {
    const other = side === "near" ? "far" : "near";
    return {
      key: `${hop.code}/${side}`,
      hop,
      side,
      end: hop[side],
      site: context.sites.get(hop[side].siteId)!,
      otherSite: context.sites.get(hop[other].siteId)!,
      takeoff: hopTakeoff[side],
      hopTakeoff,
    };
  });
}

export function loadSiteDesk(
  db: Db,
  siteCode: string,
): { site: Site; ends: SiteEnd[]; desk: Desk } | undefined {
  const site = loadSite(db, siteCode);
  if (!site) return undefined;
  const hops = loadHops(db, hopCodesAtSite(db, siteCode));
  const desk = openDesk(db, hops);
  const ends = hops.flatMap((hop) => endsOfHop(hop, desk)).filter((e) => e.end.siteId === site.id);
  return { site, ends, desk };
}

// An end takes some tenths of a second to schedule; equal work with equal norms and people has an equal answer.
const kept = new Map<string, EndEstimate>();
const KEPT_MOST = 2_000;

function keptEstimate(
  end: SiteEnd,
  takeoff: EndTakeoff,
  { rules: { norms, calibration }, crew }: Desk,
  options?: EstimateOptions,
): EndEstimate {
  const work = endWork(end.hop, end.end, end.site, takeoff);
  const estimate = once([workKey(work), norms, crew.people, options ?? 0], () =>
    estimateHours(work, norms, crew, undefined, options),
  );
  return { ...calibratedEstimate(estimate, "install", calibration, norms), endId: end.end.id };
}

function once(basis: unknown, solve: () => EndEstimate): EndEstimate {
  const key = createHash("sha1").update(JSON.stringify(basis)).digest("base64url");
  let estimate = kept.get(key);
  if (!estimate) {
    estimate = solve();
    if (kept.size >= KEPT_MOST) kept.clear();
    kept.set(key, estimate);
  }
  return estimate;
}

/** The alignment visit of an end's hop, seen from this end. */
export function estimateHop({ hop, end, hopTakeoff }: SiteEnd, desk: Desk): EndEstimate {
  const work = hopWork(hop, end.side, desk.context.sites, hopTakeoff);
  const { norms, calibration } = desk.rules;
  const estimate = once(["alignment", work, norms, desk.crew.people], () =>
    estimateAlignment(work, norms, desk.crew),
  );
  return calibratedEstimate(estimate, "alignment", calibration, norms);
}

export function estimateEnd(end: SiteEnd, desk: Desk): EndEstimate {
  return keptEstimate(end, end.takeoff, desk);
}

export interface CurvePoint {
  heightM: number;
  p50H: number;
  p80H: number;
}

/**
 * The same end at other mount heights: antennas and the vertical part of each run move together, take-off and hours
 * are worked out anew. A lighter search than the end's own estimate: the curve's shape counts.
 */
export function heightCurve(end: SiteEnd, desk: Desk): CurvePoint[] {
  const topM = Math.max(end.site.structureHeightM, end.takeoff.drivers.maxMountHeightM);
  const heights = new Set(
    Array.from({ length: CURVE_POINTS }, (_, i) =>
      Math.round(CURVE_FROM_M + (i * (topM - CURVE_FROM_M)) / (CURVE_POINTS - 1)),
    ),
  );
  return [...heights]
    .filter((h) => h >= CURVE_FROM_M)
    .map((heightM) => {
      const moved = atHeight(end.end, heightM - end.takeoff.drivers.maxMountHeightM);
      const takeoff = takeOffEnd(end.hop, moved, desk.context);
      const e = keptEstimate({ ...end, end: moved }, takeoff, desk, CURVE_EFFORT);
      return { heightM, p50H: e.p50Min / 60, p80H: e.p80Min / 60 };
    });
}

const CURVE_FROM_M = 6;
const CURVE_POINTS = 8;
const CURVE_EFFORT: EstimateOptions = { budget: { nodes: 0, passes: 20 }, samples: 300 };
const LEAST_VERTICAL_M = 0.5;

function atHeight(end: LinkEnd, liftM: number): LinkEnd {
  return {
    ...end,
    antennas: end.antennas.map((a) => ({ ...a, mountHeightM: Math.max(2, a.mountHeightM + liftM) })),
    odus: end.odus.map((odu) => {
      const longest = odu.route.reduce(
        (best, s, i) =>
          s.kind === "vertical" && (best < 0 || s.lengthM > odu.route[best]!.lengthM) ? i : best,
        -1,
      );
      return {
        ...odu,
        route: odu.route.map((s, i) =>
          i === longest ? { ...s, lengthM: Math.max(LEAST_VERTICAL_M, s.lengthM + liftM) } : s,
        ),
      };
    }),
  };
}
