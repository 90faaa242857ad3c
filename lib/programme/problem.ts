/** Puts visits, windows, crews, gates and kit dates together as the problem that the crew scheduler solves. */
import { crewFactor, NO_CALIBRATION } from "@/lib/calibration";
import { practiceFactor, type WorkSegment } from "@/lib/hours";
import { english } from "@/lib/phrase";
import type { PlacedVisit, PlanCrew, PlanPlace, PlanVisit, ScheduleProblem } from "@/lib/schedule";
import { type Hop, SCHEMES, type Site } from "@/lib/site";
import { daysBetween, type Weekday } from "@/lib/time";
import { visitPhrase } from "@/lib/visitIds";
import { crewDays } from "./crewDays";
import { freedOfFrozen } from "./freedOfFrozen";
import { releaseOf } from "./gates";
import type { KitSupply } from "./kitSupply";
import { noCoordinateWords } from "./missing";
import { travelMatrices } from "./travel";
import type { NamedVisit, ProgrammeInput, ProgrammeVisit } from "./types";
import { withUnderWay } from "./underWay";
import { awaitedBy, jointPartnerOf, SIDES } from "./visits";
import type { VisitWindows } from "./visitWindows";

export interface ProblemParts {
  input: ProgrammeInput;
  /** Visits still to do. */
  visits: readonly ProgrammeVisit[];
  windows: VisitWindows;
  supply: KitSupply;
  /** Why a hop may not be planned at all (failed design checks), by hop code. */
  stops: ReadonlyMap<string, string>;
  /** Factor on durations by crew composition, by crew code. */
  paces: ReadonlyMap<string, number>;
}

/** The work after the set-up, which the scheduler pays once per crew, site and day. */
export function afterSetup(segments: readonly WorkSegment[], setupMin: number): WorkSegment[] {
  let left = setupMin;
  const rest: WorkSegment[] = [];
  for (const s of segments) {
    const durationMin = Math.max(0, s.durationMin - left);
    left = Math.max(0, left - s.durationMin);
    if (durationMin > 0) rest.push({ ...s, durationMin });
  }
  return rest;
}

export function accessOf(site: Site): PlanVisit["access"] {
  return ([1, 2, 3, 4, 5, 6, 7] as Weekday[]).map((w) =>
    site.access.weekdays.includes(w) ? { fromMin: site.access.fromMin, toMin: site.access.toMin } : null,
  );
}

export function buildProblem(parts: ProblemParts): ScheduleProblem {
  const { input, visits } = parts;
  const sites = new Map(input.sites.map((s) => [s.id, s]));
  const hops = new Map(input.hops.map((h) => [h.code, h]));
  const hopCodes = [...new Set(visits.map((v) => v.hopCode))];
  const hopIndex = new Map(hopCodes.map((code, i) => [code, i]));
  const visitIndex = new Map(visits.map((v, i) => [v.id, i]));
  const openOf = new Map<string, ProgrammeVisit[]>(hopCodes.map((code) => [code, []]));
  for (const v of visits) openOf.get(v.hopCode)!.push(v);
  const { places, placeOfSite, placeOfDepot } = placesOf(input, visits, sites);
  const { km, min } = travelMatrices(places, input.roads);

  const planVisits = visits.map((v): PlanVisit => {
    const hop = hops.get(v.hopCode)!;
    const site = sites.get(v.siteCode)!;
    const release = releaseOf(hop.gates, v.side, input.today);
    // Less may be left than a set-up takes: a minute of it is work.
    const setupMin = Math.max(0, Math.min(Math.ceil(v.estimate.setupMin), Math.ceil(v.durationMin) - 1));
    return {
      id: v.id,
      label: labelOf(v),
      kind: v.kind,
      hop: hopIndex.get(v.hopCode)!,
      // A site without a coordinate has no place: its visits are blocked, and any index does.
      place: placeOfSite.get(v.siteCode) ?? 0,
      segments: afterSetup(v.segments, setupMin),
      setupMin,
      paceKind: SCHEMES.indexOf(hop.scheme),
      needs: v.estimate.needs,
      loadKg: v.massKg,
      releaseDay: release.releaseDay,
      // A kit that was issued is not in the list: it is with the crew.
      kitReadyDay: parts.supply.earliestStart.get(v.id) ?? 0,
      takes: parts.supply.takes.get(v.id),
      window: parts.windows.indexOf.get(v.id)!,
      access: accessOf(site),
      noticeDays: site.access.noticeDays,
      siteLock: !site.access.allowsTwoCrews,
      after: awaitedBy(v, openOf.get(v.hopCode)!).map((id) => visitIndex.get(id)!),
      togetherWith: visitIndex.get(jointPartnerOf({ visitId: v.id, isJoint: v.isJoint }) ?? ""),
      ...blockOf(v, hop, sites, input, parts.stops.get(v.hopCode)),
    };
  });

  const crewIndex = new Map(input.crews.map((c, i) => [c.code, i]));
  const placed = (list: readonly NamedVisit[]) => placedFrom(list, input, visitIndex, crewIndex);
  const inForce = placed(input.inForce);
  const pinned = placed(input.pinned);
  const frozenUntilDay = input.inForce.length > 0 ? input.frozenDays : 0;
  const problem: ScheduleProblem = {
    firstDay: input.today,
    dayCount: input.dayCount,
    frozenUntilDay,
    places,
    travelKm: km,
    travelMin: min,
    crews: input.crews.map(
      (c): PlanCrew => ({
        id: c.code,
        code: c.code,
        depotPlace: placeOfDepot.get(c.depotPlace)!,
        days: crewDays(c, input.today, input.dayCount),
        payloadKg: c.payloadKg,
        overtimeMaxMin: c.overtimeMaxMin,
        weeklyMaxMin: c.weeklyMaxMin,
        nightsAwayMax: c.nightsAwayMax,
        restMin: c.restMin,
        pace: c.pace * (parts.paces.get(c.code) ?? 1),
        paceByKind: schemeFactors(c.code, input),
      }),
    ),
    hops: hopCodes.map((code) => {
      const hop = hops.get(code)!;
      return {
        id: code,
        code,
        promiseDay: hop.promisedOn && daysBetween(input.today, hop.promisedOn),
        weight: hop.weight,
      };
    }),
    visits: planVisits,
    windows: parts.windows.windows,
    scarce: parts.supply.scarce,
    weights: input.weights,
    inForce,
    pinned,
  };
  const going = withUnderWay(problem, input.inForce, input);
  const stays = [...pinned, ...(going.underWay ?? [])];
  const freed = freedOfFrozen(planVisits, going.inForce!, stays, frozenUntilDay, input.onHold ?? new Set());
  return { ...going, inForce: going.inForce!.filter((x) => !freed.has(x.visit)) };
}

/** What practice and actual hours say of a crew, scheme by scheme. */
function schemeFactors(
  crewCode: string,
  { calibration = NO_CALIBRATION, completedEnds, norms }: ProgrammeInput,
): number[] {
  return SCHEMES.map((scheme) => {
    const practice = completedEnds
      ? practiceFactor(completedEnds[crewCode]?.[scheme] ?? 0, norms.learning)
      : 1;
    return practice * crewFactor({ crewCode, scheme }, calibration);
  });
}

/** As every page calls it. */
function labelOf({ id }: ProgrammeVisit): string {
  const named = visitPhrase(id);
  return typeof named === "string" ? named : english(named);
}

/** What keeps a visit out of any plan. All but the installs need both ends, so what stops either stops them. */
function blockOf(
  v: ProgrammeVisit,
  hop: Hop,
  sites: ReadonlyMap<string, Site>,
  input: ProgrammeInput,
  stop: string | undefined,
): Pick<PlanVisit, "blockedBy" | "blockedRule"> {
  if (stop) return { blockedBy: stop, blockedRule: "design check" };
  for (const side of v.kind === "install" ? [v.side] : SIDES) {
    const gate = releaseOf(hop.gates, side, input.today).blockedBy;
    if (gate) return { blockedBy: gate, blockedRule: "gate" };
    const site = sites.get(hop[side].siteId);
    if (!site?.position)
      return {
        blockedBy: noCoordinateWords(hop[side].siteId),
        blockedRule: "coordinate",
      };
  }
  return {};
}

function placesOf(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  sites: ReadonlyMap<string, Site>,
) {
  const places: PlanPlace[] = [];
  const placeOfDepot = new Map<string, number>();
  for (const d of input.depots) {
    if (d.latDeg === null || d.lonDeg === null) continue;
    placeOfDepot.set(d.code, places.length);
    places.push({ id: d.code, code: d.code, latDeg: d.latDeg, lonDeg: d.lonDeg });
  }
  const placeOfSite = new Map<string, number>();
  for (const v of visits) {
    const site = sites.get(v.siteCode);
    if (!site?.position || placeOfSite.has(site.code)) continue;
    placeOfSite.set(site.code, places.length);
    places.push({ id: site.code, code: site.code, ...site.position });
  }
  return { places, placeOfSite, placeOfDepot };
}

/** The plan in force, by the indices of visits and crews. */
export const placedNamed = (input: ProgrammeInput, visits: readonly ProgrammeVisit[]): PlacedVisit[] =>
  placedFrom(
    input.inForce,
    input,
    new Map(visits.map((v, i) => [v.id, i])),
    new Map(input.crews.map((c, i) => [c.code, i])),
  );

function placedFrom(
  list: readonly NamedVisit[],
  input: ProgrammeInput,
  visitIndex: ReadonlyMap<string, number>,
  crewIndex: ReadonlyMap<string, number>,
): PlacedVisit[] {
  return list.flatMap((n): PlacedVisit[] => {
    const visit = visitIndex.get(n.visitId);
    const crew = crewIndex.get(n.crewCode);
    const startDay = daysBetween(input.today, n.startOn);
    const endDay = daysBetween(input.today, n.endOn);
    // What began before today is under way (`withUnderWay`) or overdue: that is planned anew.
    if (visit === undefined || crew === undefined || startDay < 0 || endDay >= input.dayCount) return [];
    return [{ visit, crew, startDay, startMin: n.startMin, endDay, endMin: n.endMin }];
  });
}
