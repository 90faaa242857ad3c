/** What was done to a plan by hand since somebody read it: for the planner who has it open, and before a late edit. */
import { z } from "zod";
import { defineRoute } from "@/app/_server/action";
import { editPhrase } from "@/app/_server/planEdits";
import { ofSeenEdits } from "@/app/_server/regions";
import { editsSince } from "@/db/queries/planEdits";
import { loadPlan } from "@/db/queries/plans";
import type { PlanChanges } from "../planChanges";

export const GET = defineRoute({
  roles: ["administrator", "manager"],
  reach: "any",
  input: z.object({ plan: z.coerce.number().int().positive(), since: z.coerce.number().int().min(0) }),
  run: ({ plan, since }, { db, visitor }): PlanChanges => {
    const head = loadPlan(db, plan);
    if (!head) return { state: "gone", revision: since, changes: [] };
    return {
      state: head.state,
      revision: head.revision,
      changes: ofSeenEdits(db, visitor, editsSince(db, plan, since)).map((e) => ({
        no: e.editNo,
        isOwn: e.userId === visitor.userId,
        sentence: editPhrase(e),
        visits: e.changes.map(({ before, after }) => ({ before, after })),
      })),
    };
  },
});
