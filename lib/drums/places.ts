/** Where a drum stands and where its pieces are wanted: what lies between costs days. */
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import type { DaysOver, DrumOnHand, RunWanted } from "./types";

/** The warehouse a drum stands at, or comes to; "" for one to be bought where all want it at one place. */
export function homeOf(drum: Pick<DrumOnHand, "placeId" | "comesTo">): string {
  return drum.comesTo ?? drum.placeId;
}

/** Is a piece for the run cut at another warehouse than the one that wants it? */
export function isElsewhere(
  drum: Pick<DrumOnHand, "placeId" | "comesTo">,
  run: Pick<RunWanted, "placeId">,
  daysOver: DaysOver | undefined,
): boolean {
  const home = homeOf(drum);
  return daysOver !== undefined && run.placeId !== undefined && home !== "" && home !== run.placeId;
}

/** Days from the cut to the kit's warehouse; Infinity = nothing is sent that way. */
export function daysToKit(
  drum: Pick<DrumOnHand, "placeId" | "comesTo">,
  run: Pick<RunWanted, "placeId">,
  daysOver: DaysOver | undefined,
): number {
  if (!isElsewhere(drum, run, daysOver)) return 0;
  return daysOver!(homeOf(drum), run.placeId!) ?? Number.POSITIVE_INFINITY;
}

/** Last day on which to cut so that the piece is there when it is needed; what is sent is cut on a working day (Monday to Friday). */
export function cutBy(
  drum: Pick<DrumOnHand, "placeId" | "comesTo">,
  run: Pick<RunWanted, "placeId" | "neededOn">,
  daysOver: DaysOver | undefined,
): CalendarDate {
  const days = daysToKit(drum, run, daysOver);
  if (days === 0 || !Number.isFinite(days)) return run.neededOn;
  let day = addDays(run.neededOn, -days);
  while (weekdayOf(day) > 5) day = addDays(day, -1);
  return day;
}
