import { describe, expect, it } from "vitest";
import { headerOf } from "@/lib/exchange/columns";
import { plainName } from "@/lib/exchange/headerNames";
import { columnOf, KIND_NAMES, keyLabel, kindOf, rowSchema } from "@/lib/exchange/kinds";
import type { ItemRow, RowsByKind } from "@/lib/exchange/rows";

/** Every field of the row types; a field added there does not compile until it stands here, and fails until it has a column. */
const FIELDS: { [K in keyof RowsByKind]: Readonly<Record<keyof Required<RowsByKind[K]>, true>> } = {
  sites: {
    code: true,
    name: true,
    region: true,
    latDeg: true,
    lonDeg: true,
    elevationM: true,
    zone: true,
    structure: true,
    structureHeightM: true,
    terrain: true,
    hasEarthingBar: true,
    accessWeekdays: true,
    accessFromMin: true,
    accessToMin: true,
    noticeDays: true,
    allowsTwoCrews: true,
  },
  hops: {
    code: true,
    scheme: true,
    bandGhz: true,
    nearSiteCode: true,
    farSiteCode: true,
    promisedOn: true,
    weight: true,
    alignment: true,
    acceptance: true,
  },
  ends: {
    hopCode: true,
    side: true,
    siteCode: true,
    cableCode: true,
    worstSupplyV: true,
    includesIduPower: true,
    entryHeightM: true,
    couplerSplit: true,
  },
  antennas: {
    hopCode: true,
    side: true,
    siteCode: true,
    label: true,
    mountHeightM: true,
    diameterM: true,
    polarisations: true,
    mount: true,
    bandGhz: true,
    owner: true,
  },
  radios: {
    hopCode: true,
    side: true,
    label: true,
    antennaLabel: true,
    bandGhz: true,
    subBand: true,
    duplexSpacingMhz: true,
    half: true,
    polarisation: true,
    role: true,
    mounting: true,
    owner: true,
    route: true,
    earthBarDistanceM: true,
    targetLevelDbm: true,
  },
  gates: { hopCode: true, side: true, kind: true, owner: true, state: true, dueOn: true },
  places: { code: true, name: true, kind: true, latDeg: true, lonDeg: true },
  items: {
    code: true,
    name: true,
    category: true,
    unit: true,
    massKg: true,
    volumeL: true,
    owner: true,
    leadTimeDays: true,
    lotRule: true,
    orderMultiple: true,
    minimumOrder: true,
    safetyStock: true,
    priceMinor: true,
    currency: true,
    shelfLifeDays: true,
    bandGhz: true,
    subBand: true,
    duplexSpacingMhz: true,
    half: true,
    diameterM: true,
    factoryPolarisation: true,
    polarisationPartInBox: true,
    split: true,
    mainLossDb: true,
    standbyLossDb: true,
    cableDiameterMm: true,
    k1: true,
    k2: true,
    loopOhmPer100M: true,
    minBendRadiusMm: true,
    maxPullN: true,
    massKgPerM: true,
    tapeWidthMm: true,
    tapeThicknessMm: true,
    rollLengthM: true,
    tapeMinTempC: true,
    powerW: true,
    minVoltageV: true,
    ifLowMhz: true,
    ifHighMhz: true,
    maxIfLossDb: true,
    crossSectionMm2: true,
    maxBends: true,
    wrapDiameterMm: true,
    contentG: true,
  } satisfies Record<keyof Required<ItemRow>, true>,
  stock: {
    itemCode: true,
    placeCode: true,
    owner: true,
    lotCode: true,
    expiresOn: true,
    drumSerial: true,
    receivedM: true,
    remainingM: true,
    quantity: true,
  },
  orders: {
    orderCode: true,
    lineNo: true,
    itemCode: true,
    quantity: true,
    dueOn: true,
    placeCode: true,
    supplier: true,
    owner: true,
    priceMinor: true,
    currency: true,
  },
  crews: {
    code: true,
    name: true,
    depotPlace: true,
    zone: true,
    weekdays: true,
    shiftFromMin: true,
    shiftToMin: true,
    overtimeMaxMin: true,
    weeklyMaxMin: true,
    restMin: true,
    nightsAwayMax: true,
    payloadKg: true,
    pace: true,
  },
  "crew members": { code: true, crewCode: true, name: true, isLead: true, skills: true, leave: true },
  "weather places": { code: true, name: true, latDeg: true, lonDeg: true, elevationM: true },
  weather: {
    placeCode: true,
    startsAtMillis: true,
    memberNo: true,
    windMs: true,
    gustMs: true,
    rainMmH: true,
    tempC: true,
    humidityPct: true,
    thunder: true,
  },
  "actual hours": {
    hopCode: true,
    side: true,
    work: true,
    visitNo: true,
    workedOn: true,
    crewCode: true,
    workedMin: true,
    isFinished: true,
    tasks: true,
  },
};

describe.each(KIND_NAMES)("the kind %s", (kind) => {
  const { columns, key, references, uniques = [], agreements = [] } = kindOf(kind);
  const stored = columns.filter((c) => !c.isVirtual).map((c) => c.key);

  it("has a column for every field of its rows, and no other stored one", () => {
    expect([...stored].sort()).toEqual(Object.keys(FIELDS[kind]).sort());
    expect(Object.keys(rowSchema(kind).shape).sort()).toEqual([...stored].sort());
  });

  it("has no header, key or alias twice, so that a match is never a toss-up", () => {
    const keys = columns.map((c) => c.key);
    expect(new Set(keys).size).toBe(keys.length);
    const headers = columns.map((c) => headerOf(c).toLowerCase());
    expect(new Set(headers).size).toBe(headers.length);
    const named = new Map<string, string>();
    for (const c of columns) {
      for (const name of new Set([c.label, ...c.aliases].map(plainName))) {
        const other = named.get(name);
        const arePartners =
          other !== undefined && (c.partner !== undefined || columnOf(kind, other).partner !== undefined);
        expect(arePartners ? undefined : other, `"${name}" of ${c.key}`).toBeUndefined();
        named.set(name, c.key);
      }
    }
  });

  it("names only columns that it has", () => {
    const named = [
      ...key,
      ...references.flatMap((r) => r.columns),
      ...uniques.flat(),
      ...agreements.flatMap((a) => [...a.by, ...a.columns]),
    ];
    for (const k of named) expect(stored, k).toContain(k);
    expect(keyLabel(kind).length).toBeGreaterThan(0);
  });

  it("has choices and defaults that its own schema takes", () => {
    for (const c of columns) {
      if (c.type === "enum") expect(c.choices?.length, c.key).toBeGreaterThan(1);
      for (const target of Object.values(c.choiceAliases ?? {}))
        expect(["", ...(c.choices ?? [])], c.key).toContain(target);
      if (c.default === undefined || c.isVirtual) continue;
      expect(rowSchema(kind).shape[c.key]?.safeParse(c.default).success, c.key).toBe(true);
    }
  });
});
