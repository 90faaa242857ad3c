/** What a move by hand would do, before anybody accepts it. Writes nothing. */

import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { homeZone, today } from "@/app/_server/clock";
import { serverWords } from "@/app/_server/language";
import { effectFor } from "@/app/_server/planEdits";
import { reachOfVisit, shiftRefusal } from "@/app/_server/regions";
import { phrase } from "@/lib/phrase";
import { costChanges } from "@/lib/programme";
import { sentences } from "@/lib/result";
import { parseCalendarDate } from "@/lib/time";
import { effectWords } from "../why";

export const GET = defineRoute({
  roles: ["administrator", "manager"],
  reach: ({ visit }) => reachOfVisit(visit),
  input: z.object({
    plan: z.coerce.number().int().positive(),
    visit: z.string().min(1),
    crew: z.string().min(1),
    on: z.string(),
    start: z.coerce.number().int().min(0).max(1439).optional(),
  }),
  run: async ({ plan, visit, crew, on, start }, { db, visitor }) => {
    const date = parseCalendarDate(on);
    if (!date) {
      return problemResponse([
        {
          path: "on",
          rule: "not-a-date",
          value: on,
          ...sentences(
            on ? phrase("{{text}} is no date.", { text: on }) : phrase("Nothing is no date."),
            phrase("Choose a day."),
          ),
        },
      ]);
    }
    const effect = effectFor(
      db,
      plan,
      { visitId: visit, crewCode: crew, on: date, startMin: start },
      today(homeZone(db), db),
    );
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
