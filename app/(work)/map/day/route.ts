/** A crew's day by the plan in force, for the map to draw. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { ofSeenHops, seesSite } from "@/app/_server/regions";
import { loadCrewWay } from "@/db/queries/mapViews";
import { dayRoute } from "@/lib/map";
import { parseCalendarDate } from "@/lib/time";
import type { CrewDay } from "../crewDay";

export const GET = defineRoute({
  roles: [],
  reach: "any",
  input: z.object({
    crew: z.string().min(1).max(60),
    day: z.string().transform((text, context) => {
      const date = parseCalendarDate(text);
      if (date) return date;
      context.addIssue({ code: "custom", message: `${text} is no day; give it as YYYY-MM-DD.` });
      return z.NEVER;
    }),
  }),
  run: ({ crew, day }, { db, visitor }) => {
    const way = loadCrewWay(db, crew);
    if (!way)
      return problemResponse([
        {
          path: "crew",
          rule: "no-such-crew",
          value: crew,
          message: `No plan in force has a crew ${crew}.`,
          remedy: "Choose a crew of the list.",
        },
      ]);
    // The order of the day is that of all its visits; a limited account sees its own ones among them.
    const whole = dayRoute(day, way.depot.position, way.visits, way.nights);
    if (visitor.regions === null) return { depot: way.depot, ...whole, hiddenStops: 0 } satisfies CrewDay;
    const stops = ofSeenHops(db, visitor, whole.stops);
    const seen = (night: typeof whole.nightBefore) =>
      night && seesSite(db, visitor, night.siteCode) ? night : undefined;
    return {
      depot: way.depot,
      stops,
      nightBefore: seen(whole.nightBefore),
      nightAfter: seen(whole.nightAfter),
      path:
        stops.length === whole.stops.length
          ? whole.path
          : stops.flatMap((stop) => (stop.position ? [stop.position] : [])),
      straightKm: stops.length === whole.stops.length ? whole.straightKm : undefined,
      hiddenStops: whole.stops.length - stops.length,
    } satisfies CrewDay;
  },
});
