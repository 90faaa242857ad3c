import { z } from "zod";
import { defineMutationRoute } from "@/app/_server/action";
import { machineNow } from "@/app/_server/clock";
import { jobFor } from "@/app/_server/jobView";
import { restartJob } from "@/db/queries/jobs";
import { ok, refused } from "@/lib/result";

/** Starts the same work again after it failed or was stopped; answers with the new job's id. */
export const POST = defineMutationRoute({
  name: "restart-job",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({ id: z.string() }),
  run: ({ id }, { db, visitor }) => {
    const job = jobFor(db, id, visitor);
    if (!job.ok) return job;
    const again = restartJob(db, id, visitor.userId, machineNow());
    if (again) return ok({ id: again });
    return refused({
      path: "id",
      rule: "job-not-ended",
      value: job.value.state,
      message: "This job has not ended yet.",
      remedy: "Wait for it, or stop it first.",
    });
  },
});
