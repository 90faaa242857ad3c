import { z } from "zod";
import { defineMutationRoute } from "@/app/_server/action";
import { machineNow } from "@/app/_server/clock";
import { jobFor, viewOf } from "@/app/_server/jobView";
import { cancelJob } from "@/db/queries/jobs";
import { ok } from "@/lib/result";

/** Asks a job to stop. One that has ended already stays as it is; that is no error. */
export const POST = defineMutationRoute({
  name: "cancel-job",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({ id: z.string() }),
  run: ({ id }, { db, visitor }) => {
    const job = jobFor(db, id, visitor);
    if (!job.ok) return job;
    cancelJob(db, id, machineNow());
    const after = jobFor(db, id, visitor);
    return after.ok ? ok(viewOf(after.value)) : after;
  },
});
