/** Where a drum stands and where its pieces are wanted: what lies between costs days. */
import { arrivesOn, type CalendarDate, leavesBy } from "@/lib/time";
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

/** Working days from the cut to the kit's warehouse; Infinity = nothing is sent that way. */
export function daysToKit(
  drum: Pick<DrumOnHand, "placeId" | "comesTo">,
  run: Pick<RunWanted, "placeId">,
  daysOver: DaysOver | undefined,
): number {
  if (!isElsewhere(drum, run, daysOver)) return 0;
  return daysOver!(homeOf(drum), run.placeId!) ?? Number.POSITIVE_INFINITY;
}

/** Last day on which to cut so that the piece is there when it is needed; what is sent leaves and arrives on working days. */
export function cutBy(
  drum: Pick<DrumOnHand, "placeId" | "comesTo">,
  run: Pick<RunWanted, "placeId" | "neededOn">,
  daysOver: DaysOver | undefined,
): CalendarDate {
  const days = daysToKit(drum, run, daysOver);
  if (!isElsewhere(drum, run, daysOver) || !Number.isFinite(days)) return run.neededOn;
  return leavesBy(run.neededOn, days);
}

/** When a piece that is cut on a day is at the kit's warehouse; undefined = nothing is sent that way. */
export function thereOn(
  drum: Pick<DrumOnHand, "placeId" | "comesTo">,
  run: Pick<RunWanted, "placeId">,
  cutOn: CalendarDate,
  daysOver: DaysOver | undefined,
): CalendarDate | undefined {
  if (!isElsewhere(drum, run, daysOver)) return cutOn;
  const days = daysToKit(drum, run, daysOver);
  return Number.isFinite(days) ? arrivesOn(cutOn, days) : undefined;
}
