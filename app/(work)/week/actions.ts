"use server";

import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { makeCalendarAction, revokeCalendarAction } from "@/app/_server/crewCalendar";
import { reachOfVisit } from "@/app/_server/regions";
import { liftHold as storeLift } from "@/db/queries/holds";
import { parseVisitId } from "@/lib/programme";

export const makeCalendar = defineAction({ ...makeCalendarAction, revalidate: ["/week"] });
export const revokeCalendar = defineAction({ ...revokeCalendarAction, revalidate: ["/week"] });

/** Ends a hold that was a slip, or whose reason is gone: the visit goes on as planned. */
export const liftHold = defineAction({
  name: "lift-hold",
  roles: ["crew lead", "manager", "administrator"],
  reach: ({ visitId }) => reachOfVisit(visitId),
  input: z.object({
    visitId: z.string().min(1).max(200),
    reportId: z.number().int().positive(),
    why: z.string().trim().min(3, "Say in a few words why it is lifted.").max(300),
  }),
  run: (input, { db, visitor, now }) =>
    storeLift(db, input, {
      name: visitor.name,
      at: now,
      onlyCrew: visitor.role === "crew lead" ? (visitor.crewId ?? "") : undefined,
    }),
  revalidate: ({ visitId }) => [
    "/week",
    `/week/visit/${visitId}`,
    `/hops/${encodeURIComponent(parseVisitId(visitId)?.hopCode ?? "")}`,
    "/programme",
  ],
});
