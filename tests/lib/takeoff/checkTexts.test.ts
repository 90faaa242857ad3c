/** Whatever design checks say can be said in another language: it reads back to a sentence of CHECK_TEXTS. */
import { describe, expect, test } from "vitest";
import { english, type Phrase, readBack } from "@/lib/phrase";
import { Random } from "@/lib/random";
import {
  type CatalogueItem,
  type Hop,
  ITEM_CATEGORIES,
  type LinkEnd,
  ODU_ROLES,
  type Odu,
  SCHEMES,
  type Site,
} from "@/lib/site";
import {
  CHECK_TEXTS,
  checkSites,
  DEFAULT_CATALOGUE,
  DEFAULT_POLICY,
  DEFAULT_RULES,
  type DesignCheck,
  type TakeoffContext,
  takeOff,
} from "@/lib/takeoff";
import { makeHop, makeRoute, makeSite } from "../../helpers/hop";

const random = new Random("spoiled designs");
const chance = (share: number) => random.next() < share;
const pick = <T>(of: readonly T[]): T => of[Math.floor(random.next() * of.length)]!;
/** What it was, or now and then something else. */
const spoil = <T>(value: T, share: number, other: () => T): T => (chance(share) ? other() : value);

/** Bends so near to each other that no earthing point between them is clear. */
const BENDS = Array.from({ length: 60 }, () => ({
  kind: "bridge" as const,
  lengthM: 0.25,
  bendAtEnd: true,
}));

/** Leads that a rule may name, whatever their section. */
const LEADS = DEFAULT_CATALOGUE.filter((i) => i.category === "earthing lead").map((i) => i.code);

function spoiledOdu(odu: Odu): Odu {
  return {
    ...odu,
    label: spoil(odu.label, 0.03, () => "R1"),
    role: spoil(odu.role, 0.03, () => pick(ODU_ROLES)),
    bandGhz: spoil(odu.bandGhz, 0.04, () => pick([7, 18, 23, 80])),
    half: spoil(odu.half, 0.15, () => pick(["high", "low"] as const)),
    subBand: spoil(odu.subBand, 0.03, () => pick(["B", "07"])),
    duplexSpacingMhz: spoil(odu.duplexSpacingMhz, 0.03, () => 490),
    polarisation: spoil(odu.polarisation, 0.06, () => pick(["V", "H"] as const)),
    antennaLabel: spoil(odu.antennaLabel, 0.05, () => pick(["A1", "A2", "A9"])),
    route: spoil(odu.route, 0.4, () =>
      pick([
        [],
        makeRoute(pick([1, 12.25, 60, 180, 400]), pick([0.2, 8, 40])),
        BENDS,
        [...makeRoute(6, 5, 0).slice(0, 1), ...BENDS, ...makeRoute(0, 6).slice(1)],
      ]),
    ),
  };
}

function spoiledEnd(end: LinkEnd): LinkEnd {
  const odus = end.odus.map(spoiledOdu);
  const antennas = end.antennas.map((a) => ({
    ...a,
    label: spoil(a.label, 0.03, () => "A1"),
    bandGhz: spoil(a.bandGhz, 0.03, () => 38),
    mountHeightM: spoil(a.mountHeightM, 0.15, () => pick([4, 12.5, 61, 90])),
    diameterM: spoil(a.diameterM, 0.1, () => pick([0.45, 1.2, 2.4])),
    polarisations: spoil(a.polarisations, 0.1, () => pick([["V"], ["H"], ["V", "H"], ["H", "V"]] as const)),
  }));
  return {
    ...end,
    siteId: spoil(end.siteId, 0.05, () => pick(["SITE-A", "SITE-B", "SITE-9"])),
    odus: spoil(odus, 0.08, () => pick([[], odus.slice(1), [...odus, { ...odus[0]!, label: "R2" }]])),
    antennas: spoil(antennas, 0.08, () => pick([[], antennas.slice(1), [...antennas, antennas[0]!]])),
    cableCode: spoil(end.cableCode, 0.1, () => pick(["IFC-06", "0417"])),
    couplerSplit: spoil(end.couplerSplit, 0.2, () => pick(["equal", "unequal"] as const)),
    entryHeightM: spoil(end.entryHeightM, 0.2, () => pick([1.5, 3])),
    worstSupplyV: spoil(end.worstSupplyV, 0.2, () => pick([20, 30, 38.4])),
  };
}

function spoiledSite(site: Site): Site {
  return {
    ...site,
    code: spoil(site.code, 0.2, () => "0417"),
    hasEarthingBar: spoil(site.hasEarthingBar, 0.2, () => pick([undefined, false])),
    structureHeightM: spoil(site.structureHeightM, 0.1, () => pick([15, 150])),
    structure: spoil(site.structure, 0.1, () => "roof" as const),
    position: spoil(site.position, 0.2, () =>
      pick([undefined, { latDeg: 50, lonDeg: 10 }, { latDeg: 10, lonDeg: 50 }]),
    ),
  };
}

/** An item that lacks what it is known by, or has what is hard to meet. */
function spoiledItem(item: CatalogueItem): CatalogueItem {
  const lacking = Object.fromEntries(Object.entries(item.attributes).filter(() => !chance(0.25)));
  const demanding = {
    ...item.attributes,
    ...pick<CatalogueItem["attributes"]>([
      { tapeWidthMm: 150 },
      { minBendRadiusMm: 900, maxBends: 1, maxPullN: 20 },
      { maxIfLossDb: 2, minVoltageV: 60 },
      { crossSectionMm2: 4 },
      { factoryPolarisation: "H" },
      { polarisationPartInBox: false },
    ]),
  };
  return { ...item, attributes: pick([lacking, demanding]) };
}

function spoiledContext(sites: readonly Site[]): TakeoffContext {
  const share = pick([0, 0, 0.05, 0.3]);
  const without = spoil(undefined as string | undefined, 0.2, () => pick(ITEM_CATEGORIES));
  return {
    sites: new Map(sites.map((s) => [s.id, s])),
    catalogue: DEFAULT_CATALOGUE.filter((i) => i.category !== without).flatMap((item) => {
      const one = spoil(item, share, () => spoiledItem(item));
      return chance(share / 4) ? [] : chance(share) ? [one, { ...one, code: `${one.code}-2` }] : [one];
    }),
    rules: DEFAULT_RULES.map((rule) => ({
      ...rule,
      enabled: spoil(rule.enabled, 0.1, () => !rule.enabled),
      itemCode:
        rule.category === "earthing lead"
          ? spoil(rule.itemCode, 0.3, () => pick(LEADS))
          : spoil(rule.itemCode, 0.02, () => "GONE-1"),
    })),
    policy: {
      ...DEFAULT_POLICY,
      surplusM: spoil(DEFAULT_POLICY.surplusM, 0.2, () => pick([1, 2.25, 12])),
      minEarthingSectionMm2: spoil(DEFAULT_POLICY.minEarthingSectionMm2, 0.1, () => 95),
      tapeOverlap: spoil(DEFAULT_POLICY.tapeOverlap, 0.1, () => 0.01),
      maxEarthingSpacingM: spoil(DEFAULT_POLICY.maxEarthingSpacingM, 0.1, () => 3),
      couplerSplit: pick(["equal", "unequal"]),
      diversityMinM: spoil(DEFAULT_POLICY.diversityMinM!, 0.1, () => 9),
    },
  };
}

function drawnHop(no: number): Hop {
  const scheme = pick(SCHEMES);
  const hop = makeHop({
    id: `HOP-${no}`,
    scheme,
    mountHeightM: pick([12, 30, 55]),
    polarisation: pick(["V", "H"]),
  });
  // The other end now and then after another scheme.
  const other = makeHop({ scheme: spoil(scheme, 0.1, () => pick(SCHEMES)) }).far;
  return { ...hop, near: spoiledEnd(hop.near), far: spoiledEnd(chance(0.5) ? hop.far : other) };
}

/** Every check of some thousand spoiled designs, each text once. */
function everythingSaid(): Set<string> {
  const said = new Set<string>();
  const hear = (checks: readonly DesignCheck[]) => {
    for (const c of checks) said.add(c.message).add(c.remedy);
  };
  for (let round = 0; round < 2500; round++) {
    const sites = [makeSite(), makeSite({ id: "SITE-B" })].map(spoiledSite);
    const hop = drawnHop(round);
    const off = takeOff(hop, spoiledContext(sites));
    for (const checks of [off.checks, off.near.checks, off.far.checks]) hear(checks);
    if (round % 50 === 0) {
      const twice = { ...drawnHop(round), scheme: pick(SCHEMES) };
      hear(checkSites([hop, twice, drawnHop(round + 1)], [...sites, ...sites]));
    }
  }
  return said;
}

/** The sentences that a text was read back to, the parts in its places too. */
function sentencesIn({ text, values = {} }: Phrase): string[] {
  return [
    text,
    ...Object.values(values).flatMap((v) => (typeof v === "object" && "text" in v ? sentencesIn(v) : [])),
  ];
}

describe("what design checks say of thousands of spoiled designs", () => {
  const said = everythingSaid();
  const heard = new Set<string>();
  for (const text of said) for (const s of sentencesIn(readBack(text, CHECK_TEXTS))) heard.add(s);

  test("reads back to a sentence of the list", () => {
    expect(said.size).toBeGreaterThan(1000);
    expect([...said].filter((text) => !CHECK_TEXTS.includes(readBack(text, CHECK_TEXTS).text))).toEqual([]);
  });

  test("is the same in English as before", () => {
    expect([...said].filter((text) => english(readBack(text, CHECK_TEXTS)) !== text)).toEqual([]);
  });

  test("is all that the list holds", () => {
    const words = new Set<string>([...ITEM_CATEGORIES, ...ODU_ROLES, ...SCHEMES]);
    // A rule of one's own may look for any attribute.
    const isOwn = (text: string) => / unknown$/.test(text);
    expect(CHECK_TEXTS.filter((text) => !heard.has(text) && !words.has(text) && !isOwn(text))).toEqual([]);
  });
});

test("a name of figures stays as it is written", () => {
  expect(readBack("0417 has no earthing bar for the runs.", CHECK_TEXTS).values).toEqual({ code: "0417" });
});
