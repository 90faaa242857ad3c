/** Makes valid sites, hops and take-off contexts with sane defaults: a test names only what it is about. */
import type {
  AntennaPosition,
  Hop,
  LinkEnd,
  Odu,
  OduRole,
  Polarisation,
  RouteSegment,
  Scheme,
  Site,
} from "@/lib/site";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, DEFAULT_RULES, type TakeoffContext } from "@/lib/takeoff";
import type { Weekday } from "@/lib/time";

const ALL_DAYS: readonly Weekday[] = [1, 2, 3, 4, 5, 6, 7];

/** A surveyed lattice tower of 60 m, open all day. `SITE-A` and `SITE-B` lie some 11 km apart. */
export function makeSite(over: Partial<Site> = {}): Site {
  const id = over.id ?? "SITE-A";
  return {
    id,
    code: id,
    name: `Site ${id}`,
    region: "North",
    position: { latDeg: id === "SITE-B" ? 50.1 : 50, lonDeg: 10 },
    elevationM: 200,
    zone: "Europe/Berlin",
    structure: "lattice",
    structureHeightM: 60,
    terrain: "II",
    hasEarthingBar: true,
    access: { weekdays: ALL_DAYS, fromMin: 0, toMin: 1440, noticeDays: 0, allowsTwoCrews: false },
    ...over,
  };
}

/** From the ODU down: drop along the structure, bridge, indoors; bends at the foot and at the entry. */
export function makeRoute(verticalM: number, bridgeM = 8, indoorM = 6): RouteSegment[] {
  return [
    { kind: "vertical", lengthM: verticalM, bendAtEnd: true },
    { kind: "bridge", lengthM: bridgeM, bendAtEnd: true },
    { kind: "indoor", lengthM: indoorM, bendAtEnd: false },
  ];
}

export function makeAntenna(over: Partial<AntennaPosition> = {}): AntennaPosition {
  return {
    label: "A1",
    mountHeightM: 30,
    diameterM: 0.6,
    polarisations: ["V"],
    mount: "pole",
    bandGhz: 15,
    owner: "customer",
    ...over,
  };
}

export function makeOdu(over: Partial<Odu> = {}): Odu {
  return {
    label: "R1",
    antennaLabel: "A1",
    polarisation: "V",
    role: "main",
    mounting: "direct",
    owner: "customer",
    bandGhz: 15,
    subBand: "A",
    duplexSpacingMhz: 420,
    half: "high",
    route: makeRoute(28),
    earthBarDistanceM: 2,
    ...over,
  };
}

export interface EndOptions extends Partial<LinkEnd> {
  scheme?: Scheme;
  mountHeightM?: number;
  diameterM?: number;
  polarisation?: Polarisation;
  bandGhz?: number;
  half?: "high" | "low";
}

const ROLES: Record<Scheme, readonly OduRole[]> = {
  "1+0": ["main"],
  "1+1 hot standby": ["main", "standby"],
  "1+1 space diversity": ["main", "standby"],
  "2+0 dual-polar": ["channel 1", "channel 2"],
  "2+0 two channels": ["channel 1", "channel 2"],
};

/** Height of the entry that the routes made here come down to, m. */
const ENTRY_HEIGHT_M = 2;
/** Space diversity: the second antenna stands this much lower, m. */
const DIVERSITY_M = 8;

/** An end that fits its scheme: antennas, ODUs and routes agree with the mount height. */
export function makeEnd(options: EndOptions = {}): LinkEnd {
  const {
    scheme = "1+0",
    mountHeightM = 30,
    diameterM = 0.6,
    polarisation = "V",
    bandGhz = 15,
    ...rest
  } = options;
  const { half = "high", ...over } = rest;
  const side = over.side ?? "near";
  const isDiversity = scheme === "1+1 space diversity";
  const isDualPolar = scheme === "2+0 dual-polar";
  const heights = isDiversity ? [mountHeightM, mountHeightM - DIVERSITY_M] : [mountHeightM];
  return {
    id: `HOP-1/${side}`,
    hopId: "HOP-1",
    side,
    siteId: side === "near" ? "SITE-A" : "SITE-B",
    antennas: heights.map((h, i) =>
      makeAntenna({
        label: `A${i + 1}`,
        mountHeightM: h,
        diameterM,
        bandGhz,
        polarisations: isDualPolar ? ["V", "H"] : [polarisation],
      }),
    ),
    odus: ROLES[scheme].map((role, i) =>
      makeOdu({
        label: `R${i + 1}`,
        role,
        bandGhz,
        duplexSpacingMhz: DUPLEX_MHZ[bandGhz] ?? 420,
        half,
        antennaLabel: isDiversity ? `A${i + 1}` : "A1",
        polarisation: isDualPolar ? (i === 0 ? "V" : "H") : polarisation,
        route: makeRoute((heights[isDiversity ? i : 0] ?? mountHeightM) - ENTRY_HEIGHT_M),
      }),
    ),
    worstSupplyV: 43.2,
    includesIduPower: true,
    ...over,
  };
}

/** One duplex spacing of each band in the default catalogue. */
const DUPLEX_MHZ: Readonly<Record<number, number>> = { 7: 161, 15: 420, 18: 1010, 23: 1008 };

export type HopOptions = Partial<Omit<Hop, "near" | "far">> & {
  /** For both ends. */
  mountHeightM?: number;
  diameterM?: number;
  polarisation?: Polarisation;
  near?: Partial<LinkEnd>;
  far?: Partial<LinkEnd>;
};

/** How a hop is aligned and accepted when nothing else is said. */
export const USUAL_PROCEDURES = { alignment: "both ends at once", acceptance: "with the alignment" } as const;

/** A hop that passes every check: near end high, far end low, same everything else. */
export function makeHop(options: HopOptions = {}): Hop {
  const { mountHeightM, diameterM, polarisation, near, far, ...over } = options;
  const id = over.id ?? "HOP-1";
  const scheme = over.scheme ?? "1+0";
  const bandGhz = over.bandGhz ?? 15;
  const shared = { scheme, bandGhz, mountHeightM, diameterM, polarisation, hopId: id };
  return {
    code: id,
    weight: 1,
    ...USUAL_PROCEDURES,
    gates: [],
    ...over,
    id,
    scheme,
    bandGhz,
    near: makeEnd({ ...shared, side: "near", id: `${id}/near`, half: "high", ...near }),
    far: makeEnd({ ...shared, side: "far", id: `${id}/far`, half: "low", ...far }),
  };
}

/** Default catalogue, rules and policy with the sites `SITE-A` and `SITE-B`. */
export function makeTakeoffContext(
  over: Partial<TakeoffContext> = {},
  sites: readonly Site[] = [],
): TakeoffContext {
  const all = [makeSite(), makeSite({ id: "SITE-B" }), ...sites];
  return {
    sites: new Map(all.map((s) => [s.id, s])),
    catalogue: DEFAULT_CATALOGUE,
    rules: DEFAULT_RULES,
    policy: DEFAULT_POLICY,
    ...over,
  };
}
