/** A change of rule data as it travels: from the dialog to the worker, which shows its effect, and to the save. */
import { z } from "zod";
import type { PolicyKind } from "@/db/schema";
import type { Role } from "./roles";

export const POLICY_KINDS = [
  "takeoff rules",
  "takeoff policy",
  "weather limits",
  "hour norms",
  "hour calibration",
  "plan weights",
  "cutting",
  "stock",
  "acceptance limits",
] as const satisfies readonly PolicyKind[];

/** Who may change which kind. Looser weather limits ask for an administrator on top (ruleEdits.ts). */
export const MAY_CHANGE: Readonly<Record<PolicyKind, readonly Role[]>> = {
  "takeoff rules": ["administrator", "logistics"],
  "takeoff policy": ["administrator", "logistics"],
  "weather limits": ["administrator", "manager"],
  "hour norms": ["administrator", "manager"],
  "hour calibration": ["administrator", "manager"],
  "plan weights": ["administrator", "manager"],
  cutting: ["administrator", "logistics"],
  stock: ["administrator", "logistics"],
  "acceptance limits": ["administrator", "manager"],
};

/** Kinds whose effect on the whole programme must have been shown before they are saved. */
export const EFFECT_FIRST: readonly PolicyKind[] = ["takeoff rules", "takeoff policy", "hour calibration"];

/** Kinds that take-off and hours of every end are made from. */
export const ASKS_ESTIMATE: readonly PolicyKind[] = [
  "takeoff rules",
  "takeoff policy",
  "hour norms",
  "hour calibration",
];

/** Kinds by which needs are netted against stock. */
export const ASKS_NETTING: readonly PolicyKind[] = ["cutting", "stock"];

const figure = z.strictObject({
  /** As in `figuresOf`, e.g. `limits.climb.windMaxMs`. */
  path: z.string().min(1).max(200),
  value: z.union([z.number(), z.string().max(60), z.boolean(), z.null()]),
});

export const ruleChange = z.union([
  z.strictObject({ figures: z.array(figure).min(1, "Change at least one figure.").max(400) }),
  /** Rows of the take-off table, changed or new; the schema of lib/takeoff reads them. */
  z.strictObject({ rows: z.array(z.unknown()).min(1).max(200) }),
  /** Factors that actual hours or reported uses speak for, as the person saw them (lib/calibration). */
  z.strictObject({
    accept: z
      .array(z.strictObject({ id: z.string().min(1).max(200), proposed: z.number().positive() }))
      .min(1, "Choose at least one proposal.")
      .max(500),
  }),
  /** An earlier version brought back; 0 = as delivered. */
  z.strictObject({ restore: z.number().int().min(0) }),
]);

export type RuleChange = z.output<typeof ruleChange>;

export const wantedChange = z.object({
  kind: z.enum(POLICY_KINDS),
  /** The version that the person saw; 0 = as delivered. */
  basedOn: z.number().int().min(0),
  change: ruleChange,
});

export type WantedChange = z.output<typeof wantedChange>;

/** The same text for the same change, whatever the order of its keys. */
export function changeKey(wanted: WantedChange): string {
  return JSON.stringify([wanted.kind, wanted.basedOn, sorted(wanted.change)]);
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, v]) => v !== undefined)
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([k, v]) => [k, sorted(v)]),
  );
}
