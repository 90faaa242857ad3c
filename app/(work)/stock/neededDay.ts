import type { CalendarDate } from "@/lib/time";

/** The day that a planned order is needed on: its first kit's, or the shelf's where no kit waits for it. */
export const neededDay = (r: {
  firstKitOn: CalendarDate | undefined;
  neededOn: CalendarDate;
}): CalendarDate => r.firstKitOn ?? r.neededOn;
