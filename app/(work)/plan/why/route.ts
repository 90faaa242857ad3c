/** Where else a visit could stand and what that would cost. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { homeZone, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { otherPlacesFor } from "@/app/_server/planEdits";
import { reachOfVisit } from "@/app/_server/regions";
import { costChanges } from "@/lib/programme";
import { whyWords } from "../why";

export const GET = defineRoute({
  roles: ["administrator", "manager"],
  reach: ({ visit }) => reachOfVisit(visit),
  input: z.object({ plan: z.coerce.number().int().positive(), visit: z.string().min(1) }),
  run: async ({ plan, visit }, { db }) => {
    const words = await serverWords();
    const found = otherPlacesFor(db, plan, visit, today(homeZone(db), db));
    if (!found.ok) return problemResponse(found.problems);
    const zero = Object.fromEntries(Object.keys(found.value.places[0]?.difference ?? {}).map((k) => [k, 0]));
    return {
      impossible: found.value.impossible,
      stops: found.value.stops.map(({ rule, crewDays, example }) => ({
        rule: whyWords(rule, words),
        crewDays,
        example: { ...example, text: whyWords(example.text, words) },
      })),
      bindingItem: found.value.bindingItem,
      places: found.value.places.map((p) => ({
        visit: p.visit,
        other: p.other,
        total: p.difference.total,
        changes: costChanges({ ...p.difference, ...zero }, p.difference),
      })),
    };
  },
});
