import { z } from "zod";
import { defineRoute } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { loadLinesDue, slipOfLine } from "@/db/queries/itemWhatIf";
import { planInForce } from "@/db/queries/plans";
import { addDays, type CalendarDate } from "@/lib/time";

export interface SlipAnswer {
  dueOn: CalendarDate;
  hit: {
    visitId: string;
    siteCode: string;
    /** The warehouse whose shelf is short; '' = all of them. */
    placeId: string;
    on: CalendarDate;
    missing: number;
    missingBefore: number;
  }[];
  /** Visits short of it without the slip, and with it, after what transfers can save. */
  stopsBefore: number;
  stopsAfter: number;
  /** Transfers that the slip makes worth while. */
  transfers: {
    fromPlace: string;
    toPlace: string;
    quantity: number;
    sendOn: CalendarDate;
    arriveOn: CalendarDate;
  }[];
}

/** What a later (or earlier) delivery would stop. Reads only. */
export const GET = defineRoute({
  roles: ["logistics", "manager", "administrator"],
  reach: "any",
  input: z.object({ line: z.string().max(130), days: z.coerce.number().int().min(-365).max(365) }),
  run: ({ line, days }, { db }): SlipAnswer | Response => {
    const plan = planInForce(db);
    const today = homeToday(db);
    const due = loadLinesDue(db).find((l) => l.key === line);
    const effect = plan && slipOfLine(db, plan, today, line, days);
    if (!due || !effect) return new Response("There is no such line on the way.", { status: 404 });
    return {
      dueOn: addDays(due.dueOn, days),
      hit: effect.hit.map(({ day, itemCode: _, ...h }) => ({ ...h, on: addDays(today, day) })),
      stopsBefore: effect.stopsBefore,
      stopsAfter: effect.stopsAfter,
      transfers: effect.transfers.map((t) => ({
        fromPlace: t.fromPlaceId,
        toPlace: t.toPlaceId,
        quantity: t.quantity,
        sendOn: addDays(today, t.sendDay),
        arriveOn: addDays(today, t.arriveDay),
      })),
    };
  },
});
