"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { startJob } from "@/app/_server/jobs";
import { activeJobOfKind } from "@/db/queries/jobs";
import { planInForce } from "@/db/queries/plans";
import { ok, refused } from "@/lib/result";

/** Has the plan in force run through hours and weather again; one that waits in the queue will do. Gives the job's id. */
export const assess = defineAction({
  name: "assess-plan",
  roles: ["administrator", "manager", "logistics"],
  changesData: false,
  input: z.object({}),
  run: (_input, { db, visitor }) => {
    if (!planInForce(db)) {
      return refused({
        path: "",
        rule: "no-plan",
        message: "No plan is in force, so there is nothing to run.",
        remedy: "Make a plan and put it in force.",
      });
    }
    const active = activeJobOfKind(db, "risk");
    return ok(active?.state === "queued" ? active.id : startJob(db, "risk", {}, visitor.userId));
  },
});
