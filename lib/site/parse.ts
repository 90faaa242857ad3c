/** Reading sites, hops, gates and catalogue items at a border. After this their types are trusted. */
import { z } from "zod";
import type { Problem, Result } from "@/lib/result";
import { type CalendarDate, isKnownZone, parseCalendarDate, type Weekday } from "@/lib/time";
import { MATCHED_ON } from "./identity";
import { parseWith } from "./problems";
import {
  ACCEPTANCE_PROCEDURES,
  ALIGNMENT_PROCEDURES,
  ANTENNA_MOUNTS,
  type AntennaPosition,
  type CatalogueItem,
  GATE_KINDS,
  type Gate,
  type Hop,
  ITEM_CATEGORIES,
  type ItemAttributes,
  type LinkEnd,
  ODU_ROLES,
  type Odu,
  SCHEMES,
  SEGMENT_KINDS,
  type Site,
  STRUCTURE_KINDS,
  TERRAIN_CATEGORIES,
  UNITS,
} from "./types";

/** Every field of `T`, none left out: a field added to a type and forgotten here does not compile. */
type Shape<T> = { [K in keyof Required<T>]: z.ZodType };

const text = z.string().min(1);
const notNegative = z.number().min(0);
const positive = z.number().gt(0);
const owner = z.enum(["contractor", "customer"]);
const polarisation = z.enum(["V", "H"]);
const half = z.enum(["high", "low"]);
const couplerSplit = z.enum(["equal", "unequal"]);
const side = z.enum(["near", "far"]);
const bandGhz = positive.max(300); // above any microwave band; catches MHz entered as GHz

const calendarDate = z
  .string()
  .refine((value) => parseCalendarDate(value) !== undefined, {
    message: "This is not a calendar date.",
    params: { rule: "not-a-date", remedy: "Give a date as YYYY-MM-DD." },
  })
  .transform((value) => value as CalendarDate);

const weekday = z
  .number()
  .int()
  .min(1)
  .max(7)
  .transform((value) => value as Weekday);

const zone = z.string().refine(isKnownZone, {
  message: "This time zone is not known.",
  params: { rule: "unknown-zone", remedy: "Give an IANA name such as Europe/Berlin." },
});

const site: z.ZodType<Site> = z.strictObject({
  id: text,
  code: text,
  name: text,
  region: z.string(),
  position: z
    .strictObject({ latDeg: z.number().min(-90).max(90), lonDeg: z.number().min(-180).max(180) })
    .optional(),
  elevationM: z.number().min(-500).max(9000),
  zone,
  structure: z.enum(STRUCTURE_KINDS),
  structureHeightM: positive.max(1000),
  terrain: z.enum(TERRAIN_CATEGORIES),
  hasEarthingBar: z.boolean().optional(),
  access: z.strictObject({
    weekdays: z.array(weekday).min(1),
    fromMin: notNegative.max(1440),
    toMin: notNegative.max(1440),
    noticeDays: z.number().int().min(0),
    allowsTwoCrews: z.boolean(),
  }),
} satisfies Shape<Site>);

const antenna: z.ZodType<AntennaPosition> = z.strictObject({
  label: text,
  mountHeightM: notNegative.max(1000),
  diameterM: positive.max(6),
  polarisations: z.array(polarisation).min(1),
  mount: z.enum(ANTENNA_MOUNTS),
  bandGhz,
  owner,
} satisfies Shape<AntennaPosition>);

const odu: z.ZodType<Odu> = z.strictObject({
  label: text,
  antennaLabel: text,
  polarisation,
  role: z.enum(ODU_ROLES),
  mounting: z.enum(["direct", "remote"]),
  owner,
  bandGhz,
  subBand: text,
  duplexSpacingMhz: positive,
  half,
  // An empty route is readable: the take-off fails the end and says so, instead of hiding the hop.
  route: z.array(
    z.strictObject({ kind: z.enum(SEGMENT_KINDS), lengthM: positive.max(2000), bendAtEnd: z.boolean() }),
  ),
  earthBarDistanceM: notNegative.max(100),
  targetLevelDbm: z.number().min(-120).max(10).optional(),
} satisfies Shape<Odu>);

const linkEnd: z.ZodType<LinkEnd> = z.strictObject({
  id: text,
  hopId: text,
  side,
  siteId: text,
  antennas: z.array(antenna).min(1),
  odus: z.array(odu).min(1),
  cableCode: text.optional(),
  worstSupplyV: positive.max(75),
  includesIduPower: z.boolean(),
  entryHeightM: z.number().min(-50).max(1000).optional(),
  couplerSplit: couplerSplit.optional(),
} satisfies Shape<LinkEnd>);

const gate: z.ZodType<Gate> = z.strictObject({
  hopId: text,
  side: side.optional(),
  kind: z.enum(GATE_KINDS),
  owner: z.string(),
  state: z.enum(["met", "dated", "open"]),
  dueOn: calendarDate.optional(),
} satisfies Shape<Gate>);

const hop: z.ZodType<Hop> = z.strictObject({
  id: text,
  code: text,
  scheme: z.enum(SCHEMES),
  bandGhz,
  promisedOn: calendarDate.optional(),
  weight: positive,
  alignment: z.enum(ALIGNMENT_PROCEDURES),
  acceptance: z.enum(ACCEPTANCE_PROCEDURES),
  near: linkEnd,
  far: linkEnd,
  gates: z.array(gate),
} satisfies Shape<Hop>);

const attributes: z.ZodType<ItemAttributes> = z.strictObject({
  bandGhz: bandGhz.optional(),
  subBand: text.optional(),
  duplexSpacingMhz: positive.optional(),
  half: half.optional(),
  diameterM: positive.optional(),
  factoryPolarisation: polarisation.optional(),
  polarisationPartInBox: z.boolean().optional(),
  split: couplerSplit.optional(),
  mainLossDb: notNegative.optional(),
  standbyLossDb: notNegative.optional(),
  cableDiameterMm: positive.optional(),
  k1: notNegative.optional(),
  k2: notNegative.optional(),
  loopOhmPer100M: notNegative.optional(),
  minBendRadiusMm: positive.optional(),
  maxPullN: positive.optional(),
  massKgPerM: positive.optional(),
  tapeWidthMm: positive.optional(),
  tapeThicknessMm: positive.optional(),
  rollLengthM: positive.optional(),
  tapeMinTempC: z.number().optional(),
  powerW: positive.optional(),
  minVoltageV: positive.optional(),
  ifLowMhz: positive.optional(),
  ifHighMhz: positive.optional(),
  maxIfLossDb: positive.optional(),
  crossSectionMm2: positive.optional(),
  maxBends: z.number().int().min(0).optional(),
  wrapDiameterMm: positive.optional(),
  contentG: positive.optional(),
} satisfies Shape<ItemAttributes>);

const catalogueItem: z.ZodType<CatalogueItem> = z.strictObject({
  code: text,
  name: text,
  category: z.enum(ITEM_CATEGORIES),
  unit: z.enum(UNITS),
  massKg: notNegative,
  volumeL: notNegative,
  attributes,
  owner,
  leadTimeDays: z.number().int().min(0),
  orderMultiple: positive,
  minimumOrder: notNegative,
  safetyStock: notNegative,
  priceMinor: z.number().int().min(0),
  currency: z.string().length(3),
  shelfLifeDays: z.number().int().min(1).optional(),
} satisfies Shape<CatalogueItem>);

/** A site as it comes from outside, or everything that is wrong with it. */
export const parseSite = (raw: unknown): Result<Site> => parseWith(site, raw, accessProblems);

/**
 * A hop with both ends as it comes from outside, or everything that is wrong with it. Contradictions in the
 * design that a person may want to see planned all the same are left to the take-off's checks.
 */
export const parseHop = (raw: unknown): Result<Hop> => parseWith(hop, raw, hopProblems);

/** One gate, or everything that is wrong with it. */
export const parseGate = (raw: unknown): Result<Gate> => parseWith(gate, raw, (g) => gateProblems(g, ""));

/** A catalogue item, or everything that is wrong with it: also attributes without which nothing would find it. */
export const parseCatalogueItem = (raw: unknown): Result<CatalogueItem> =>
  parseWith(catalogueItem, raw, itemProblems);

/* ---- across fields: on raw data of any shape, so that these problems show together with the schema's ---- */

function accessProblems(raw: unknown): Problem[] {
  const access = fieldsOf(fieldsOf(raw).access);
  const { fromMin, toMin } = access;
  if (typeof fromMin !== "number" || typeof toMin !== "number" || fromMin < toMin) return [];
  return [
    {
      path: "access.toMin",
      rule: "access-order",
      value: toMin,
      message: `Access ends at minute ${toMin} of the day, not after it begins at ${fromMin}.`,
      remedy: "Give an end after the beginning; all day is 0 to 1440.",
    },
  ];
}

function hopProblems(raw: unknown): Problem[] {
  const given = fieldsOf(raw);
  const problems: Problem[] = [];
  for (const slot of ["near", "far"] as const) {
    const end = fieldsOf(given[slot]);
    problems.push(
      ...mustEqual(
        `${slot}.side`,
        end.side,
        slot,
        `The ${slot} end says that it is the ${String(end.side)} end.`,
      ),
      ...mustEqual(
        `${slot}.hopId`,
        end.hopId,
        given.id,
        `The ${slot} end belongs to hop ${String(end.hopId)}.`,
      ),
      ...endProblems(end, slot),
    );
  }
  const [near, far] = [fieldsOf(given.near), fieldsOf(given.far)];
  for (const [field, rule, what] of [
    ["siteId", "same-site", "site"],
    ["id", "duplicate-end", "id"],
  ] as const) {
    if (typeof near[field] !== "string" || near[field] !== far[field]) continue;
    problems.push({
      path: `far.${field}`,
      rule,
      value: far[field],
      message: `Both ends have the ${what} ${near[field]}.`,
      remedy: "The two ends of a hop are two: correct one of them.",
    });
  }
  for (const [i, entry] of listOf(given.gates).entries()) {
    problems.push(
      ...mustEqual(`gates[${i}].hopId`, fieldsOf(entry).hopId, given.id, "The gate belongs to another hop."),
      ...gateProblems(entry, `gates[${i}].`),
    );
  }
  return problems;
}

function endProblems(end: Record<string, unknown>, slot: string): Problem[] {
  const antennas = listOf(end.antennas).map((a) => fieldsOf(a).label);
  const odus = listOf(end.odus).map(fieldsOf);
  const problems = [
    ...duplicates(`${slot}.antennas`, antennas),
    ...duplicates(
      `${slot}.odus`,
      odus.map((o) => o.label),
    ),
  ];
  for (const [i, { antennaLabel }] of odus.entries()) {
    if (typeof antennaLabel !== "string" || antennas.includes(antennaLabel)) continue;
    problems.push({
      path: `${slot}.odus[${i}].antennaLabel`,
      rule: "unknown-antenna",
      value: antennaLabel,
      message: `This end has no antenna ${antennaLabel}.`,
      remedy: `Use one of: ${antennas.map(String).join(", ")}.`,
    });
  }
  return problems;
}

function gateProblems(raw: unknown, prefix: string): Problem[] {
  const { state, dueOn } = fieldsOf(raw);
  if (state !== "dated" || dueOn !== undefined) return [];
  return [
    {
      path: `${prefix}dueOn`,
      rule: "gate-needs-date",
      value: dueOn,
      message: "A dated gate has no date.",
      remedy: 'Give the date as YYYY-MM-DD, or set the state to "open".',
    },
  ];
}

function itemProblems(raw: unknown): Problem[] {
  const { category, attributes: given, unit } = fieldsOf(raw);
  const has = fieldsOf(given);
  const known = ITEM_CATEGORIES.find((c) => c === category);
  if (!known) return [];
  const problems: Problem[] = (MATCHED_ON[known] ?? [])
    .filter((attribute) => has[attribute] === undefined)
    .map((attribute) => ({
      path: `attributes.${attribute}`,
      rule: "identity-incomplete",
      value: undefined,
      message: `${known} is looked up by ${attribute}, which is missing: nothing would ever find this item.`,
      remedy: `Give ${attribute}.`,
    }));
  if (known === "IF cable" && unit !== "m") {
    problems.push({
      path: "unit",
      rule: "cable-unit",
      value: unit,
      message: "IF cable is counted in metres.",
      remedy: "Set the unit to m; the drum length is the order multiple.",
    });
  }
  return problems;
}

function mustEqual(path: string, value: unknown, expected: unknown, message: string): Problem[] {
  if (typeof value !== "string" || typeof expected !== "string" || value === expected) return [];
  return [{ path, rule: "wrong-place", value, message, remedy: `It must be ${expected} here.` }];
}

function duplicates(path: string, labels: readonly unknown[]): Problem[] {
  return labels.flatMap((label, i) =>
    typeof label === "string" && labels.indexOf(label) < i
      ? [
          {
            path: `${path}[${i}].label`,
            rule: "duplicate-label",
            value: label,
            message: `${label} is used twice in this list.`,
            remedy: "Give each its own label.",
          },
        ]
      : [],
  );
}

const fieldsOf = (raw: unknown): Record<string, unknown> =>
  typeof raw === "object" && raw !== null && !Array.isArray(raw) ? (raw as Record<string, unknown>) : {};

const listOf = (raw: unknown): readonly unknown[] => (Array.isArray(raw) ? raw : []);
