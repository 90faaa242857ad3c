/** One visit of a plan, for the side panel. */

import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { reachOfVisit } from "@/app/_server/regions";
import type { Db } from "@/db/open";
import { loadVisitView, type VisitView } from "@/db/queries/planViews";
import { loadProgrammeState } from "@/db/queries/progress";
import { loadPromiseCauses } from "@/db/queries/promiseCauses";
import { phrase } from "@/lib/phrase";
import { causesAtVisit, type PromiseCause } from "@/lib/programme";
import { sentences } from "@/lib/result";

export const GET = defineRoute({
  roles: ["administrator", "manager", "logistics", "crew lead"],
  reach: ({ visit }) => reachOfVisit(visit),
  input: z.object({ plan: z.coerce.number().int().positive(), visit: z.string().min(1) }),
  run: ({ plan, visit }, { db }) => {
    const view = loadVisitView(db, plan, visit, homeToday(db));
    if (view) return { ...view, causes: causesAtVisit(causesOf(db, plan, view.visit.hopCode), visit) };
    return problemResponse([
      {
        path: "visit",
        rule: "not-in-plan",
        value: visit,
        ...sentences(
          phrase("Plan {{plan}} has no visit {{visit}}.", { plan: String(plan), visit }),
          phrase("Choose a visit on the board."),
        ),
      },
    ]);
  },
});

export type VisitShown = VisitView & { causes: readonly PromiseCause[] };

/** Only the plan in force was simulated and says where a hop stands. */
function causesOf(db: Db, planId: number, hopCode: string): readonly PromiseCause[] {
  const today = homeToday(db);
  const { plan, hops } = loadProgrammeState(db, today);
  if (plan?.id !== planId) return [];
  const hop = hops.filter((h) => h.hopCode === hopCode);
  return loadPromiseCauses(db, plan, hop, today).get(hopCode) ?? [];
}
