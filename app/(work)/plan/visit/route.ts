/** One visit of a plan, for the side panel. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { reachOfVisit } from "@/app/_server/regions";
import { loadVisitView } from "@/db/queries/planViews";

export const GET = defineRoute({
  roles: ["administrator", "manager", "logistics", "crew lead"],
  reach: ({ visit }) => reachOfVisit(visit),
  input: z.object({ plan: z.coerce.number().int().positive(), visit: z.string().min(1) }),
  run: ({ plan, visit }, { db }) =>
    loadVisitView(db, plan, visit) ??
    problemResponse([
      {
        path: "visit",
        rule: "not-in-plan",
        value: visit,
        message: `Plan ${plan} has no visit ${visit}.`,
        remedy: "Choose a visit on the board.",
      },
    ]),
});
