import { defineRoute, problemResponse } from "@/app/_server/action";
import { jobEvents } from "@/app/_server/jobEvents";
import { jobFor } from "@/app/_server/jobView";

/** A job's state as server-sent events, from now until it ends. */
export const GET = defineRoute<never, { id: string }>({
  roles: [],
  reach: "any",
  run: (_input, { db, visitor, params, request }) => {
    const job = jobFor(db, params.id, visitor);
    if (!job.ok) return problemResponse(job.problems);
    return new Response(jobEvents(db, params.id, visitor, request.signal), {
      headers: {
        "content-type": "text/event-stream; charset=utf-8",
        "cache-control": "no-cache, no-transform",
        "x-accel-buffering": "no", // a proxy that collects the events would show nothing until the end
      },
    });
  },
});
