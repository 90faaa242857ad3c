import { defineRoute, problemResponse } from "@/app/_server/action";
import { jobFor, viewOf } from "@/app/_server/jobView";

/** One job as it stands now. */
export const GET = defineRoute<never, { id: string }>({
  roles: [],
  reach: "any",
  run: (_input, { db, visitor, params }) => {
    const job = jobFor(db, params.id, visitor);
    return job.ok ? viewOf(job.value) : problemResponse(job.problems);
  },
});
