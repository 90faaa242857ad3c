/**
 * The made-up scenario: Vellmark, an island that no map shows, and Skerrow Link Works, a contractor that does not
 * exist. Sites, hops and gates are generated from a seed, then made awkward in the ways that a rollout is.
 */
import { destination, distanceKm, type LatLon } from "@/lib/geo";
import type { Random } from "@/lib/random";
import type {
  AntennaPosition,
  CatalogueItem,
  Gate,
  Hop,
  LinkEnd,
  Odu,
  Polarisation,
  RadioIdentity,
  RouteSegment,
  Scheme,
  Site,
  StructureKind,
  TransmitHalf,
} from "@/lib/site";
import { addDays, type CalendarDate, type Weekday } from "@/lib/time";

export const CONTRACTOR = "Skerrow Link Works";
export const CUSTOMER = "Vellmark Island Networks";
export const ZONE = "Atlantic/Azores";
/** Open ocean: nothing real lies here. */
export const ISLAND_CENTRE: LatLon = { latDeg: 46.6, lonDeg: -27.4 };

const REGIONS = ["North Fells", "Salt Coast", "Inner Moor", "Teal Vale"] as const;

const FIRST = [
  "Arl", "Brask", "Cald", "Dorn", "Ebbe", "Falk", "Grenn", "Hask", "Irla", "Jorr", "Kelm", "Lorn", "Mell", "Narr",
  "Orm", "Pell", "Quern", "Rusk", "Stave", "Thorl",
]; // biome-ignore format: a table of name parts
const LAST = ["beck", "combe", "fold", "garth", "holt", "ness", "rigg", "scar", "stead", "wick"];

const WEEKDAYS: Weekday[] = [1, 2, 3, 4, 5];

/** Structures by share: what a rural rollout meets. Heights in m. */
const STRUCTURES: { kind: StructureKind; share: number; fromM: number; toM: number }[] = [
  { kind: "lattice", share: 0.45, fromM: 30, toM: 92 },
  { kind: "mast", share: 0.15, fromM: 36, toM: 80 },
  { kind: "monopole", share: 0.22, fromM: 18, toM: 42 },
  { kind: "roof", share: 0.18, fromM: 14, toM: 34 },
];

/** Sites over an ellipse that grows with their number, so that neighbours stay a hop apart. */
export function makeSites(random: Random, count: number): Site[] {
  const spread = Math.sqrt(count / 60);
  const names = FIRST.flatMap((a) => LAST.map((b) => a + b));
  random.shuffle(names);
  const positions: LatLon[] = [];
  while (positions.length < count) {
    // Uniform over an ellipse of 46 x 30 km half axes (for 60 sites), at least 2.4 km apart.
    const angle = random.next() * 360;
    const share = Math.sqrt(random.next());
    const east = destination(ISLAND_CENTRE, 90, Math.cos((angle * Math.PI) / 180) * share * 46 * spread);
    const p = destination(east, 0, Math.sin((angle * Math.PI) / 180) * share * 30 * spread);
    if (positions.every((q) => distanceKm(p, q) > 2.4)) positions.push(p);
  }
  return positions.map((position, i) => {
    let draw = random.next();
    const structure =
      STRUCTURES.find((s) => {
        draw -= s.share;
        return draw < 0;
      }) ?? STRUCTURES[0]!;
    const heightM = Math.round(random.between(structure.fromM, structure.toM) / 2) * 2;
    const north = position.latDeg > ISLAND_CENTRE.latDeg;
    const east = position.lonDeg > ISLAND_CENTRE.lonDeg;
    const coast = distanceKm(position, ISLAND_CENTRE) > 30 * spread;
    return {
      id: `VM${String(101 + i)}`,
      code: `VM${String(101 + i)}`,
      name: i < names.length ? names[i]! : `${names[i % names.length]!} ${Math.floor(i / names.length) + 1}`,
      region: coast ? "Salt Coast" : north ? "North Fells" : east ? "Teal Vale" : REGIONS[2],
      position: {
        latDeg: Math.round(position.latDeg * 1e5) / 1e5,
        lonDeg: Math.round(position.lonDeg * 1e5) / 1e5,
      },
      elevationM: Math.round(random.between(coast ? 8 : 60, coast ? 120 : 480)),
      zone: ZONE,
      structure: structure.kind,
      structureHeightM: heightM,
      terrain: coast ? "I" : structure.kind === "roof" ? "III" : "II",
      hasEarthingBar: true,
      access: { weekdays: WEEKDAYS, fromMin: 7 * 60, toMin: 18 * 60, noticeDays: 0, allowsTwoCrews: false },
    };
  });
}

const SCHEME_SHARES: { scheme: Scheme; share: number }[] = [
  { scheme: "1+0", share: 0.4 },
  { scheme: "1+1 hot standby", share: 0.27 },
  { scheme: "1+1 space diversity", share: 0.13 },
  { scheme: "2+0 dual-polar", share: 0.13 },
  { scheme: "2+0 two channels", share: 0.07 },
];

/** Band by hop length: the longer the hop, the lower the band (common practice). */
function bandOf(lengthKm: number): number {
  if (lengthKm > 18) return 7;
  if (lengthKm > 11) return 15;
  if (lengthKm > 6) return 18;
  return 23;
}

function dishOf(lengthKm: number, bandGhz: number): number {
  if (bandGhz === 7) return lengthKm > 22 ? 1.8 : 1.2;
  if (bandGhz === 15) return 1.2;
  if (bandGhz === 18) return lengthKm > 9 ? 1.2 : 0.6;
  return lengthKm > 4.5 ? 0.6 : 0.3;
}

/** Pairs of sites for hops: near neighbours first, no site in more than four. */
export function pairSites(random: Random, sites: readonly Site[], count: number): [Site, Site][] {
  const candidates: { a: Site; b: Site; cost: number }[] = [];
  for (const a of sites) {
    for (const b of sites) {
      if (a.code >= b.code || !a.position || !b.position) continue;
      const km = distanceKm(a.position, b.position);
      if (km > 3 && km < 28) candidates.push({ a, b, cost: km * random.between(0.6, 1.6) });
    }
  }
  candidates.sort(
    (x, y) => x.cost - y.cost || x.a.code.localeCompare(y.a.code) || x.b.code.localeCompare(y.b.code),
  );
  const used = new Map<string, number>();
  const taken = new Set<string>();
  const degree = (s: Site) => used.get(s.code) ?? 0;
  const pairs: [Site, Site][] = [];
  for (const cap of [1, 2, 4]) {
    for (const { a, b } of candidates) {
      if (pairs.length === count) return pairs;
      const key = `${a.code} ${b.code}`;
      if (degree(a) >= cap || degree(b) >= cap || taken.has(key)) continue;
      taken.add(key);
      pairs.push([a, b]);
      used.set(a.code, degree(a) + 1);
      used.set(b.code, degree(b) + 1);
    }
  }
  return pairs;
}

/** Radio variants that the catalogue offers in a band, by transmit half. */
function variantsOf(catalogue: readonly CatalogueItem[], bandGhz: number): RadioIdentity[] {
  return catalogue
    .filter((i) => i.category === "ODU" && i.attributes.bandGhz === bandGhz)
    .map((i) => ({
      bandGhz,
      subBand: i.attributes.subBand!,
      duplexSpacingMhz: i.attributes.duplexSpacingMhz!,
      half: i.attributes.half!,
    }));
}

function routeOf(random: Random, site: Site, mountHeightM: number): RouteSegment[] {
  const bridgeM = site.structure === "roof" ? 0 : Math.round(random.between(4, 14) * 2) / 2;
  const route: RouteSegment[] = [
    { kind: "vertical", lengthM: Math.max(1, mountHeightM - 2.5), bendAtEnd: true },
  ];
  if (bridgeM > 0) route.push({ kind: "bridge", lengthM: bridgeM, bendAtEnd: false });
  else route.push({ kind: "tray", lengthM: Math.round(random.between(6, 22)), bendAtEnd: true });
  route.push({ kind: "indoor", lengthM: Math.round(random.between(4, 12) * 2) / 2, bendAtEnd: true });
  return route;
}

function makeEnd(
  random: Random,
  hopCode: string,
  side: "near" | "far",
  site: Site,
  scheme: Scheme,
  dishM: number,
  identity: RadioIdentity,
  pol: Polarisation,
): LinkEnd {
  const top = Math.max(
    4,
    Math.min(site.structureHeightM - 1.5, Math.round(site.structureHeightM * random.between(0.55, 0.97))),
  );
  const diversity = scheme === "1+1 space diversity";
  const heights = diversity
    ? [top, Math.max(3, top - Math.min(10, Math.max(5, Math.round(top / 4))))]
    : [top];
  const owner = "customer" as const; // radios and antennas are the customer's, installation material the contractor's
  const antennas: AntennaPosition[] = heights.map((mountHeightM, i) => ({
    label: `A${i + 1}`,
    mountHeightM,
    diameterM: dishM,
    polarisations: scheme === "2+0 dual-polar" ? ["V", "H"] : [pol],
    mount: site.structure === "roof" ? "roof stand" : site.structure === "lattice" ? "face" : "pole",
    bandGhz: identity.bandGhz,
    owner,
  }));
  const radioCount = scheme === "1+0" ? 1 : 2;
  const odus: Odu[] = Array.from({ length: radioCount }, (_, i) => {
    const antenna = antennas[diversity ? i : 0]!;
    const isChannel = scheme.startsWith("2+0");
    return {
      ...identity,
      label: `R${i + 1}`,
      antennaLabel: antenna.label,
      polarisation: scheme === "2+0 dual-polar" ? (i === 0 ? "V" : "H") : pol,
      role: isChannel ? (i === 0 ? "channel 1" : "channel 2") : i === 0 ? "main" : "standby",
      mounting: "direct",
      owner,
      route: routeOf(random, site, antenna.mountHeightM),
      earthBarDistanceM: Math.round(random.between(1, 3) * 2) / 2,
    };
  });
  // Two radios on one antenna share the way down.
  if (!diversity && odus[1]) odus[1] = { ...odus[1], route: odus[0]!.route };
  return {
    id: `${hopCode}/${side}`,
    hopId: hopCode,
    side,
    siteId: site.code,
    antennas,
    odus,
    cableCode: undefined,
    worstSupplyV: 43.2,
    includesIduPower: random.next() < 0.7,
  };
}

const other = (half: TransmitHalf): TransmitHalf => (half === "high" ? "low" : "high");

/** Made up: transmit power at the antenna of every radio, dBm, and what a hybrid coupler takes of it, dB. */
const TRANSMIT_DBM = 21;
const COUPLER_LOSS_DB = 3.5;

/** Receive level in free space (ITU-R P.525) with two parabolic antennas of 55 % efficiency, dBm to one tenth. */
function targetLevelOf(scheme: Scheme, lengthKm: number, bandGhz: number, dishM: number): number {
  const spreadingLossDb = 92.45 + 20 * Math.log10(bandGhz * lengthKm);
  const gainDbi = 17.8 + 20 * Math.log10(bandGhz * dishM);
  const couplersDb = scheme === "1+1 hot standby" || scheme === "2+0 two channels" ? 2 * COUPLER_LOSS_DB : 0;
  return Math.round((TRANSMIT_DBM + 2 * gainDbi - spreadingLossDb - couplersDb) * 10) / 10;
}

const withTarget = (end: LinkEnd, targetLevelDbm: number): LinkEnd => ({
  ...end,
  odus: end.odus.map((o) => ({ ...o, targetLevelDbm })),
});

/** @param days within which the promises lie, spread evenly from two weeks on */
export function makeHops(
  random: Random,
  sites: readonly Site[],
  catalogue: readonly CatalogueItem[],
  today: CalendarDate,
  count: number,
  days = 62,
): Hop[] {
  const siteHalf = new Map<string, TransmitHalf>();
  return pairSites(random, sites, count).map(([a, b], i) => {
    const code = `VH${String(11 + i).padStart(3, "0")}`;
    const lengthKm = distanceKm(a.position!, b.position!);
    const bandGhz = bandOf(lengthKm);
    let draw = random.next();
    const scheme =
      SCHEME_SHARES.find((s) => {
        draw -= s.share;
        return draw < 0;
      })?.scheme ?? "1+0";
    // One site keeps to one half in a band where it can.
    const key = (s: Site) => `${s.code} ${bandGhz}`;
    const nearHalf = siteHalf.get(key(a)) ?? (siteHalf.has(key(b)) ? other(siteHalf.get(key(b))!) : "high");
    siteHalf.set(key(a), nearHalf);
    if (!siteHalf.has(key(b))) siteHalf.set(key(b), other(nearHalf));
    const variants = variantsOf(catalogue, bandGhz);
    const nearIdentity = random.pick(variants.filter((v) => v.half === nearHalf));
    const farIdentity: RadioIdentity = { ...nearIdentity, half: other(nearHalf) };
    const pol: Polarisation = random.next() < 0.8 ? "V" : "H";
    const dishM = dishOf(lengthKm, bandGhz);
    const targetLevelDbm = targetLevelOf(scheme, lengthKm, bandGhz, dishM);
    const end = (side: "near" | "far", site: Site, identity: RadioIdentity) =>
      withTarget(makeEnd(random, code, side, site, scheme, dishM, identity, pol), targetLevelDbm);
    const gates: Gate[] = [
      { hopId: code, kind: "survey", owner: CONTRACTOR, state: "met" },
      { hopId: code, kind: "structure approval", owner: "tower owner", state: "met" },
      {
        hopId: code,
        kind: "spectrum licence",
        owner: CUSTOMER,
        ...(random.next() < 0.25
          ? ({ state: "dated", dueOn: addDays(today, 4 + random.below(30)) } as const)
          : ({ state: "met" } as const)),
      },
    ];
    if (random.next() < 0.3) {
      gates.push({
        hopId: code,
        side: random.next() < 0.5 ? "near" : "far",
        kind: "site ready",
        owner: "civil works",
        state: "dated",
        dueOn: addDays(today, 3 + random.below(28)),
      });
    }
    return {
      id: code,
      code,
      scheme,
      bandGhz,
      promisedOn: addDays(today, 16 + Math.round((i / count) * days) + random.below(9)),
      weight: random.pick([1, 1, 1, 2]),
      alignment: "both ends at once",
      acceptance: "with the alignment",
      near: end("near", a, nearIdentity),
      far: end("far", b, farIdentity),
      gates,
    };
  });
}

/** The troubles that a planner must see: each is looked for by name in the tests. */
export function makeAwkward(
  sites: Site[],
  hops: Hop[],
): { sites: Site[]; hops: Hop[]; notes: Record<string, string> } {
  const siteByCode = new Map(sites.map((s) => [s.code, s]));
  const withHops = hops.map((h) => ({ ...h }));
  const notes: Record<string, string> = {};

  const far = (i: number) => withHops[i]!.far.siteId;
  const tuesdaySite = far(3);
  notes.tuesdayOnly = tuesdaySite;
  const lostSite = far(withHops.length - 1);
  notes.noCoordinate = lostSite;
  const changedSites = sites.map((s): Site => {
    if (s.code === tuesdaySite) return { ...s, access: { ...s.access, weekdays: [2], noticeDays: 7 } };
    if (s.code === lostSite) return { ...s, position: undefined };
    if (s.code === withHops[6]!.near.siteId) return { ...s, hasEarthingBar: false };
    return s;
  });

  const openGateHop = withHops[5]!;
  notes.openSpectrumGate = openGateHop.code;
  openGateHop.gates = openGateHop.gates.map((g) =>
    g.kind === "spectrum licence" ? { ...g, state: "open" as const, dueOn: undefined } : g,
  );

  const clashing = withHops[8]!;
  notes.sameHalf = clashing.code;
  clashing.far = {
    ...clashing.far,
    odus: clashing.far.odus.map((o) => ({ ...o, half: clashing.near.odus[0]!.half })),
  };

  notes.endAfterEnd = withHops[10]!.code;
  withHops[10]!.alignment = "end after end";
  notes.ownAcceptance = withHops[12]!.code;
  withHops[12]!.acceptance = "own visit";

  // The tallest structure carries the longest run: longer than any remnant in the rack.
  let longest: { hop: Hop; side: "near" | "far"; heightM: number } | undefined;
  for (const h of withHops) {
    for (const side of ["near", "far"] as const) {
      const heightM = siteByCode.get(h[side].siteId)!.structureHeightM;
      if (h !== clashing && h !== openGateHop && (!longest || heightM > longest.heightM))
        longest = { hop: h, side, heightM };
    }
  }
  if (longest) {
    notes.longRun = longest.hop.code;
    const end = longest.hop[longest.side];
    const stretch: RouteSegment[] = [
      { kind: "vertical", lengthM: longest.heightM - 4, bendAtEnd: true },
      { kind: "bridge", lengthM: 24, bendAtEnd: true },
      { kind: "indoor", lengthM: 18, bendAtEnd: true },
    ];
    longest.hop[longest.side] = { ...end, odus: end.odus.map((o) => ({ ...o, route: stretch })) };
  }
  return { sites: changedSites, hops: withHops, notes };
}
