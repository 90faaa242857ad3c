/** Reading rule data and policies at a border: everything wrong with them at once, before they count anything. */
import { z } from "zod";
import { phrase } from "@/lib/phrase";
import { type Problem, type Result, sentences } from "@/lib/result";
import { ANTENNA_MOUNTS, ITEM_CATEGORIES, parseWith, SCHEMES, STRUCTURE_KINDS } from "@/lib/site";
import { DRIVERS } from "./drivers";
import type { Driver, FullPolicy, TakeoffPolicy, TakeoffRule } from "./types";

/** Every field of `T`, none left out. */
type Shape<T> = { [K in keyof Required<T>]: z.ZodType };

const text = z.string().min(1);
const driver = z.enum(Object.keys(DRIVERS) as [Driver, ...Driver[]]);
/** A share: 0.05 is 5 %. Above 1 somebody has entered per cent. */
const share = z.number().min(0).max(1);

const rule: z.ZodType<TakeoffRule> = z.strictObject({
  id: text,
  name: text,
  itemCode: text.optional(),
  category: z.enum(ITEM_CATEGORIES),
  driver,
  factor: z.number().min(0),
  offset: z.number().min(0),
  allowance: share,
  allowanceFrom: z.enum(["connectorLoss", "tieLoss"]).optional(),
  measure: z.enum(["m", "g"]).optional(),
  step: z.number().gt(0),
  level: z.enum(["run", "end", "site", "order"]),
  when: z.strictObject({
    schemes: z.array(z.enum(SCHEMES)).min(1).optional(),
    structures: z.array(z.enum(STRUCTURE_KINDS)).min(1).optional(),
    mounts: z.array(z.enum(ANTENNA_MOUNTS)).min(1).optional(),
    polarisations: z
      .array(z.enum(["V", "H"]))
      .min(1)
      .optional(),
  } satisfies Shape<TakeoffRule["when"]>),
  source: text,
  enabled: z.boolean(),
} satisfies Shape<TakeoffRule>);

const lengthM = z.number().min(0);
const stepM = z.number().gt(0);
const perPlace = z.number().min(0).max(20);

const policy: z.ZodType<TakeoffPolicy> = z.strictObject({
  version: z.number().int().min(1),
  surplusM: lengthM.max(50),
  cutStepM: stepM.max(10),
  dripLoopDiameterM: lengthM.max(5),
  terminationM: lengthM.max(10),
  maxEarthingSpacingM: z.number().min(1).max(500),
  shortRunM: lengthM.max(100),
  minEarthingPoints: z.number().int().min(1).max(20),
  bendClearanceM: lengthM.max(2),
  minEarthingSectionMm2: z.number().gt(0).max(500),
  connectorLoss: share,
  tieLoss: share,
  tiesOrHangers: z.enum(["ties", "hangers"]),
  hangerSpacingM: stepM.max(20),
  tapeWidthRatio: z.number().min(0.3).max(1),
  tapeOverlap: z.number().min(0).max(0.9),
  tapeBeyondMm: z.number().min(0).max(500),
  tapeEndLossMm: z.number().min(0).max(1000),
  wrapLengthMm: z.number().gt(0).max(2000),
  handHoistMaxKg: z.number().gt(0).max(500),
  conductorMaxTempC: z.number().min(20).max(120),
  wrapsEntry: z.boolean(),
  lossOfSurgeArrestorDb: z.number().min(0).max(10),
  nearOduM: lengthM.max(10).optional(),
  beforeEntryM: lengthM.max(10).optional(),
  entryHeightM: lengthM.max(100).optional(),
  couplerSplit: z.enum(["equal", "unequal"]).optional(),
  pvcWidthRatio: z.number().min(0.3).max(1).optional(),
  wrapDiameterAddMm: z.number().min(0).max(100).optional(),
  tiesPerOutdoorM: perPlace.optional(),
  tiesPerIndoorM: perPlace.optional(),
  tiesPerDripLoop: perPlace.optional(),
  tiesPerEarthingPoint: perPlace.optional(),
  tiesPerWrap: perPlace.optional(),
  diversityMinM: lengthM.optional(),
  diversityMaxM: lengthM.optional(),
  hopMinM: lengthM.optional(),
  hopMaxKm: z.number().gt(0).optional(),
} satisfies Shape<FullPolicy>);

/** The whole rule table, or everything that is wrong with it. Paths begin with the row, `[3].factor`. */
export const parseRules = (raw: unknown): Result<readonly TakeoffRule[]> =>
  parseWith(z.array(rule), raw, ruleProblems);

/** A policy, or everything that is wrong with it. */
export const parsePolicy = (raw: unknown): Result<TakeoffPolicy> => parseWith(policy, raw);

function ruleProblems(raw: unknown): Problem[] {
  if (!Array.isArray(raw)) return [];
  const rows = raw.map((row) =>
    typeof row === "object" && row !== null ? (row as Partial<TakeoffRule>) : {},
  );
  const ids = rows.map((row) => row.id);
  return rows.flatMap((row, i) => [
    ...(row.id !== undefined && ids.indexOf(row.id) < i
      ? [
          {
            path: `[${i}].id`,
            rule: "duplicate-rule",
            value: row.id,
            ...sentences(
              phrase("Two rules have the id {{id}}.", { id: String(row.id) }),
              phrase("Give each rule its own id."),
            ),
          },
        ]
      : []),
    ...(row.level === "run" && row.driver !== undefined && DRIVERS[row.driver]?.perRun === false
      ? [
          {
            path: `[${i}].level`,
            rule: "level-needs-run",
            value: row.level,
            ...sentences(
              phrase("{{driver}} is not known run by run, so it cannot be rounded at each run.", {
                driver: phrase(row.driver),
              }),
              phrase("Round it per end, per site or over the order."),
            ),
          },
        ]
      : []),
  ]);
}
