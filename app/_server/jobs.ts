/** Starting long work from an action: checked against the kind's input before it enters the queue. */
import type { z } from "zod";
import type { Db } from "@/db/open";
import { enqueueJob } from "@/db/queries/jobs";
import { machineNow } from "./clock";
import { JOB_KINDS, type JobKindName } from "./jobKinds";

/** Puts a job in the queue and returns its id, for `useJob(id)`. `by` is the user id. */
export function startJob<K extends JobKindName>(
  db: Db,
  kind: K,
  input: z.input<(typeof JOB_KINDS)[K]["input"]>,
  by: string | null,
): string {
  const checked = JOB_KINDS[kind].input.parse(input);
  return enqueueJob(db, { kind, input: checked, createdBy: by, now: machineNow() });
}
