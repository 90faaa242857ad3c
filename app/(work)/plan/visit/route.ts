/** One visit of a plan, for the side panel. */

import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { reachOfVisit } from "@/app/_server/regions";
import { loadVisitView } from "@/db/queries/planViews";
import { phrase } from "@/lib/phrase";
import { sentences } from "@/lib/result";

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
        ...sentences(
          phrase("Plan {{plan}} has no visit {{visit}}.", { plan: String(plan), visit }),
          phrase("Choose a visit on the board."),
        ),
      },
    ]),
});
