/** What moving several visits as one would do, before anybody accepts it. Writes nothing. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { homeZone, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { effectOfGroup, noSuchPlan, openPlan } from "@/app/_server/planEdits";
import { reachOfVisit, shiftRefusal } from "@/app/_server/regions";
import { costChanges } from "@/lib/programme";
import { effectWords } from "../why";

/** An address holds one text: the ids come as lines. */
const visitLines = z
  .string()
  .transform((text) => text.split("\n").filter((id) => id !== ""))
  .pipe(z.array(z.string()).min(1, "at least one visit").max(200, "at most 200 visits at once"));

export const GET = defineRoute({
  roles: ["administrator", "manager"],
  reach: ({ visits }) => visits.flatMap(reachOfVisit),
  input: z.object({
    plan: z.coerce.number().int().positive(),
    visits: visitLines,
    days: z.coerce.number().int().min(-366).max(366),
    crew: z.string().min(1).optional(),
  }),
  run: async ({ plan, visits, days, crew }, { db, visitor }) => {
    const open = openPlan(db, plan, today(homeZone(db), db));
    if (!open) return problemResponse([noSuchPlan(plan)]);
    const effect = effectOfGroup(open, { visitIds: visits, byDays: days, crewCode: crew });
    if (!effect.ok) return problemResponse(effect.problems);
    const outside = shiftRefusal(db, visitor, effect.value.shifts);
    if (outside) return problemResponse([outside]);
    const { before, after } = effect.value;
    return {
      ...effectWords(effect.value, await serverWords()),
      changes: costChanges(before, after),
      total: after.total - before.total,
    };
  },
});
