/**
 * The kinds of long work: what each takes and who may start, watch and stop it. Light on purpose, since pages import
 * it; the code that does the work is listed in handlers.ts, which only the worker process imports.
 */
import { z } from "zod";
import type { Role } from "@/db/schema/auth";
import { wantedChange } from "./ruleChange";

export interface JobKind<S extends z.ZodType = z.ZodType> {
  /** What it does, for people: "Planning the crews". */
  label: string;
  roles: readonly Role[];
  input: S;
}

const kind = <S extends z.ZodType>(definition: JobKind<S>): JobKind<S> => definition;

export const JOB_KINDS = {
  /** Plans the crews of the whole programme and stores the plan as a draft. */
  plan: kind({
    label: "Planning the crews",
    roles: ["administrator", "manager"],
    input: z.object({
      weeks: z.number().int().min(1).max(52),
      /** The search for a better plan ends after so many seconds. */
      seconds: z.number().min(1).max(3600),
      seed: z.string().min(1).max(60),
      frozenDays: z.number().int().min(0).max(60),
      createdBy: z.string(),
    }),
  }),
  /** Nets the plan in force anew against stock and orders, and cuts drums anew; the visits stay. */
  net: kind({
    label: "Netting needs against stock",
    roles: ["administrator", "manager", "logistics"],
    input: z.object({}),
  }),
  /** Holds every balance against the sum of its movements. */
  reconcile: kind({
    label: "Holding balances against the ledger",
    roles: ["administrator", "manager", "logistics"],
    input: z.object({}),
  }),
  /** Runs a plan through drawn hours and past weather, and stores how sure it is. */
  risk: kind({
    label: "Working out how sure the plan is",
    roles: ["administrator", "manager", "logistics"],
    input: z.object({
      /** Absent = the plan that is in force when it runs. */
      planId: z.number().int().positive().optional(),
    }),
  }),
  /** Brings take-off and hours of every end up to date. */
  estimate: kind({
    label: "Taking off and estimating",
    roles: ["administrator", "manager", "logistics"],
    input: z.object({}),
  }),
  /** Takes the whole programme off as it is and as a change of the take-off rules would make it. */
  "rule-effect": kind({
    label: "Working out the effect on the programme",
    roles: ["administrator", "manager", "logistics"],
    input: wantedChange,
  }),
  /** Reads the files of an import and says what each row would do. */
  "import-preview": kind({
    label: "Reading the files",
    roles: ["administrator", "manager", "logistics"],
    input: z.object({ importId: z.string() }),
  }),
  /** Stores all accepted rows of an import, or nothing. */
  "import-apply": kind({
    label: "Bringing the rows in",
    roles: ["administrator", "manager", "logistics"],
    input: z.object({
      importId: z.string(),
      /** Of the preview that the person saw. */
      digest: z.string(),
      by: z.string(),
      userId: z.string().nullable(),
    }),
  }),
  /** Counts to `steps`, to show that the worker takes jobs, tells how far it is and stops when asked. */
  "worker-check": kind({
    label: "Checking the worker process",
    roles: ["administrator"],
    input: z.object({
      steps: z.number().int().min(1).max(1000),
      stepMillis: z.number().min(0).max(1000),
      /** The step at which to throw, to see a failure reported. */
      failAt: z.number().int().optional(),
    }),
  }),
};

export type JobKindName = keyof typeof JOB_KINDS;
export type JobInput<K extends JobKindName> = z.output<(typeof JOB_KINDS)[K]["input"]>;

export function isJobKind(name: string): name is JobKindName {
  return Object.hasOwn(JOB_KINDS, name);
}
