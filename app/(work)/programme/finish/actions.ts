"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { riskAgain } from "@/app/_server/riskAgain";
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
    return ok(riskAgain(db, visitor));
  },
});
