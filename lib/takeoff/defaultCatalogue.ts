/**
 * A catalogue to start from: invented codes and prices, generic items. Masses, losses and electrical figures are
 * from memory and plausible, no maker's: confirm each with the maker's instructions before ordering.
 */
import type { CatalogueItem, ItemAttributes, ItemCategory, Owner, TransmitHalf, Unit } from "@/lib/site";

interface Supply {
  unit?: Unit;
  owner?: Owner;
  volumeL?: number;
  leadTimeDays?: number;
  orderMultiple?: number;
  safetyStock?: number;
  shelfLifeDays?: number;
}

/** Prices are invented, in minor units of this currency. */
const CURRENCY = "EUR";

function item(
  code: string,
  name: string,
  category: ItemCategory,
  massKg: number,
  priceMinor: number,
  attributes: ItemAttributes = {},
  supply: Supply = {},
): CatalogueItem {
  const orderMultiple = supply.orderMultiple ?? 1;
  return {
    code,
    name,
    category,
    unit: supply.unit ?? "piece",
    massKg,
    volumeL: supply.volumeL ?? massKg,
    attributes,
    owner: supply.owner ?? "contractor",
    leadTimeDays: supply.leadTimeDays ?? 14,
    orderMultiple,
    minimumOrder: orderMultiple,
    safetyStock: supply.safetyStock ?? 0,
    priceMinor,
    currency: CURRENCY,
    ...(supply.shelfLifeDays === undefined ? {} : { shelfLifeDays: supply.shelfLifeDays }),
  };
}

/** Bands with their duplex spacings (from memory of the usual channel plans) and sensible diameters. */
const BANDS = [
  { bandGhz: 7, spacingsMhz: [154, 161], diametersM: [0.6, 1.2, 1.8], powerW: 45 },
  { bandGhz: 15, spacingsMhz: [420, 490], diametersM: [0.6, 1.2, 1.8], powerW: 42 },
  { bandGhz: 18, spacingsMhz: [1010], diametersM: [0.3, 0.6, 1.2], powerW: 40 },
  { bandGhz: 23, spacingsMhz: [1008, 1232], diametersM: [0.3, 0.6, 1.2], powerW: 38 },
] as const;
const SUB_BANDS = ["A", "B"] as const;
const HALVES: readonly TransmitHalf[] = ["high", "low"];

/** Antenna by diameter: mass and packed volume from memory, price invented. */
const ANTENNAS: Record<number, { massKg: number; volumeL: number; priceMinor: number }> = {
  0.3: { massKg: 6, volumeL: 40, priceMinor: 21_000 },
  0.6: { massKg: 12, volumeL: 150, priceMinor: 38_000 },
  1.2: { massKg: 40, volumeL: 700, priceMinor: 92_000 },
  1.8: { massKg: 90, volumeL: 1800, priceMinor: 185_000 },
};

/** Radios and antennas are usually the customer's. */
const CUSTOMERS: Supply = { owner: "customer", leadTimeDays: 56 };

/** Intermediate frequencies and limits of every ODU here (from memory). */
const ODU_FEED = { ifLowMhz: 140, ifHighMhz: 350, maxIfLossDb: 25, minVoltageV: 38 };

const two = (metres: number) => String(Math.round(metres * 10)).padStart(2, "0");
const ghz = (bandGhz: number) => String(bandGhz).padStart(2, "0");

const RADIO_ITEMS: readonly CatalogueItem[] = BANDS.flatMap(
  ({ bandGhz, spacingsMhz, diametersM, powerW }) => [
    ...spacingsMhz.flatMap((duplexSpacingMhz) =>
      SUB_BANDS.flatMap((subBand) =>
        HALVES.map((half) =>
          item(
            `ODU-${ghz(bandGhz)}-${duplexSpacingMhz}${subBand}-${half === "high" ? "HI" : "LO"}`,
            `ODU ${bandGhz} GHz, sub-band ${subBand}, spacing ${duplexSpacingMhz} MHz, ${half}`,
            "ODU",
            5.5,
            240_000,
            { bandGhz, subBand, duplexSpacingMhz, half, powerW, ...ODU_FEED },
            { ...CUSTOMERS, volumeL: 25 },
          ),
        ),
      ),
    ),
    ...diametersM.map((diameterM) => {
      const { massKg, volumeL, priceMinor } = ANTENNAS[diameterM]!;
      return item(
        `ANT-${ghz(bandGhz)}-${two(diameterM)}`,
        `Antenna ${bandGhz} GHz, ${diameterM} m`,
        "antenna",
        massKg,
        priceMinor,
        { bandGhz, diameterM },
        { ...CUSTOMERS, volumeL },
      );
    }),
    item(
      `CPL-${ghz(bandGhz)}-EQ`,
      `Hybrid coupler ${bandGhz} GHz, equal split`,
      "hybrid coupler",
      4,
      46_000,
      { bandGhz, split: "equal", mainLossDb: 3.5, standbyLossDb: 3.5, factoryPolarisation: "V" },
      { ...CUSTOMERS, volumeL: 12 },
    ),
    item(
      `CPL-${ghz(bandGhz)}-UN`,
      `Hybrid coupler ${bandGhz} GHz, unequal split`,
      "hybrid coupler",
      4,
      46_000,
      { bandGhz, split: "unequal", mainLossDb: 1.6, standbyLossDb: 6.5, factoryPolarisation: "V" },
      { ...CUSTOMERS, volumeL: 12 },
    ),
    item(
      `OMT-${ghz(bandGhz)}`,
      `Orthomode coupling ${bandGhz} GHz`,
      "orthomode coupling",
      4.5,
      58_000,
      { bandGhz },
      { ...CUSTOMERS, volumeL: 14 },
    ),
    item(
      `GSK-${ghz(bandGhz)}`,
      `Flange gasket ${bandGhz} GHz`,
      "flange gasket",
      0.01,
      350,
      { bandGhz },
      {
        volumeL: 0.02,
        orderMultiple: 10,
      },
    ),
    item(
      `FWG-${ghz(bandGhz)}`,
      `Flexible waveguide ${bandGhz} GHz, 0.9 m`,
      "flexible waveguide",
      1.1,
      19_500,
      {
        bandGhz,
      },
    ),
    item(`POL-${ghz(bandGhz)}`, `Polarisation part ${bandGhz} GHz`, "polarisation part", 0.3, 6_800, {
      bandGhz,
    }),
  ],
);

/**
 * IF cables, thinner and lossier first; loss fits and loop resistances from memory. `wrap` is where tape starts on
 * the connector, mm.
 */
const CABLES = [
  {
    mm: 6,
    k1: 1.1,
    k2: 0.004,
    ohm: 3.3,
    kgPerM: 0.06,
    bendMm: 60,
    pullN: 250,
    drumM: 500,
    pricePerM: 95,
    wrap: 22,
  },
  {
    mm: 8,
    k1: 0.8,
    k2: 0.0035,
    ohm: 1.8,
    kgPerM: 0.1,
    bendMm: 80,
    pullN: 400,
    drumM: 500,
    pricePerM: 140,
    wrap: 25,
  },
  {
    mm: 10.3,
    k1: 0.62,
    k2: 0.0046,
    ohm: 0.9,
    kgPerM: 0.16,
    bendMm: 110,
    pullN: 600,
    drumM: 500,
    pricePerM: 210,
    wrap: 28,
  },
  {
    mm: 13,
    k1: 0.4,
    k2: 0.0018,
    ohm: 0.5,
    kgPerM: 0.24,
    bendMm: 150,
    pullN: 1000,
    drumM: 300,
    pricePerM: 390,
    wrap: 34,
  },
] as const;

const CABLE_ITEMS: readonly CatalogueItem[] = CABLES.flatMap((c) => {
  const size = ghz(Math.floor(c.mm));
  const cableDiameterMm = c.mm;
  return [
    item(
      `IFC-${size}`,
      `IF cable ${c.mm} mm`,
      "IF cable",
      c.kgPerM,
      c.pricePerM,
      {
        cableDiameterMm,
        k1: c.k1,
        k2: c.k2,
        loopOhmPer100M: c.ohm,
        massKgPerM: c.kgPerM,
        minBendRadiusMm: c.bendMm,
        maxPullN: c.pullN,
        maxBends: 6,
      },
      { unit: "m", volumeL: 0.3, leadTimeDays: 28, orderMultiple: c.drumM },
    ),
    item(
      `CON-${size}`,
      `IF connector for ${c.mm} mm`,
      "connector",
      0.08,
      1_150,
      { cableDiameterMm, wrapDiameterMm: c.wrap },
      {
        orderMultiple: 10,
        volumeL: 0.1,
        safetyStock: 20,
      },
    ),
    item(
      `EK-${size}`,
      `Earthing kit for ${c.mm} mm`,
      "earthing kit",
      0.45,
      2_900,
      { cableDiameterMm, wrapDiameterMm: c.mm + 12 },
      {
        orderMultiple: 10,
        safetyStock: 10,
      },
    ),
    item(`GRP-${size}`, `Hoisting grip for ${c.mm} mm`, "hoisting grip", 0.3, 2_400, { cableDiameterMm }),
    item(
      `HNG-${size}`,
      `Cable hanger for ${c.mm} mm`,
      "cable hanger",
      0.06,
      260,
      { cableDiameterMm },
      { orderMultiple: 10 },
    ),
    item(
      `GLD-${size}`,
      `Cable gland for ${c.mm} mm`,
      "gland",
      0.05,
      480,
      { cableDiameterMm },
      { orderMultiple: 10 },
    ),
  ];
});

const SMALL_ITEMS: readonly CatalogueItem[] = [
  item("IDU-2", "Indoor unit, two ports", "IDU", 4.2, 310_000, {}, { ...CUSTOMERS, volumeL: 15 }),
  item("ARR-IF", "Surge arrestor, IF", "surge arrestor", 0.25, 4_300),
  item(
    "EL-16",
    "Earthing lead, copper 16 mm2",
    "earthing lead",
    0.17,
    260,
    { crossSectionMm2: 16 },
    { unit: "m", orderMultiple: 100, volumeL: 0.15 },
  ),
  item(
    "EL-25",
    "Earthing lead, copper 25 mm2",
    "earthing lead",
    0.26,
    390,
    { crossSectionMm2: 25 },
    { unit: "m", orderMultiple: 100, volumeL: 0.2 },
  ),
  item(
    "LUG-16",
    "Lug 16 mm2, M8",
    "lug",
    0.015,
    95,
    { crossSectionMm2: 16 },
    { orderMultiple: 50, volumeL: 0.02 },
  ),
  item(
    "LUG-25",
    "Lug 25 mm2, M8",
    "lug",
    0.02,
    120,
    { crossSectionMm2: 25 },
    { orderMultiple: 50, volumeL: 0.02 },
  ),
  item(
    "TIE-UV",
    "Tie, UV-stable, 370 mm",
    "tie outdoor",
    0.004,
    9,
    {},
    { orderMultiple: 100, volumeL: 0.01 },
  ),
  item("TIE-IN", "Tie, plain, 200 mm", "tie indoor", 0.002, 4, {}, { orderMultiple: 100, volumeL: 0.005 }),
  item(
    "TAPE-SA-38",
    "Self-amalgamating tape 38 mm, 9 m",
    "self-amalgamating tape",
    0.3,
    1_450,
    { tapeWidthMm: 38, tapeThicknessMm: 0.75, rollLengthM: 9, tapeMinTempC: -10 },
    { unit: "roll", orderMultiple: 6, volumeL: 0.5, shelfLifeDays: 1095, safetyStock: 6 },
  ),
  item(
    "TAPE-SA-50",
    "Self-amalgamating tape 50 mm, 9 m",
    "self-amalgamating tape",
    0.4,
    1_900,
    { tapeWidthMm: 50, tapeThicknessMm: 0.75, rollLengthM: 9, tapeMinTempC: -10 },
    { unit: "roll", orderMultiple: 6, volumeL: 0.6, shelfLifeDays: 1095 },
  ),
  item(
    "TAPE-PVC-19",
    "PVC tape 19 mm, 20 m, UV-stable",
    "PVC tape",
    0.07,
    240,
    { tapeWidthMm: 19, tapeThicknessMm: 0.18, rollLengthM: 20, tapeMinTempC: -10 },
    { unit: "roll", orderMultiple: 10, volumeL: 0.1, shelfLifeDays: 1825, safetyStock: 20 },
  ),
  item("MNT-POLE", "Pole mount, 60 to 115 mm", "pole mount", 9, 14_500, {}, { volumeL: 20 }),
  item("STRUT-12", "Side strut, antenna from 1.2 m", "side strut", 5, 9_800, {}, { volumeL: 10 }),
  item("LBL-CABLE", "Cable label", "label", 0.002, 30, {}, { orderMultiple: 100, volumeL: 0.002 }),
  item(
    "LBL-OUTDOOR",
    "Cable label, weatherproof",
    "label",
    0.01,
    180,
    {},
    { orderMultiple: 50, volumeL: 0.005 },
  ),
  item("LBL-ODU", "ODU label, engraved", "label", 0.02, 350, {}, { orderMultiple: 20, volumeL: 0.005 }),
  item(
    "CAP-CON",
    "Connector cap for hoisting",
    "consumable",
    0.01,
    60,
    {},
    { orderMultiple: 50, volumeL: 0.02 },
  ),
  item(
    "WIPE",
    "Cleaning wipe",
    "consumable",
    0.005,
    25,
    {},
    { orderMultiple: 100, volumeL: 0.01, shelfLifeDays: 730 },
  ),
  item(
    "CHM-ZINC",
    "Cold-galvanising spray, 400 ml",
    "chemical",
    0.5,
    1_250,
    {},
    { unit: "can", orderMultiple: 6, volumeL: 0.6, shelfLifeDays: 1095 },
  ),
  item(
    "CHM-GASKET",
    "Gasket lubricant, 50 g",
    "chemical",
    0.07,
    1_600,
    { contentG: 50 },
    { unit: "tube", volumeL: 0.1, shelfLifeDays: 1095 },
  ),
  item(
    "CHM-RUST",
    "Rust-preventing lubricant, 100 g",
    "chemical",
    0.13,
    1_100,
    { contentG: 100 },
    { unit: "tube", volumeL: 0.15, shelfLifeDays: 1095 },
  ),
  item(
    "PWR-CABLE",
    "DC cable 2 x 4 mm2",
    "power",
    0.12,
    210,
    {},
    { unit: "m", orderMultiple: 100, volumeL: 0.12 },
  ),
  item("PWR-BREAKER", "DC breaker 10 A", "power", 0.12, 2_600),
];

export const DEFAULT_CATALOGUE: readonly CatalogueItem[] = [...RADIO_ITEMS, ...CABLE_ITEMS, ...SMALL_ITEMS];
