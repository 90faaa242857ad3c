/** Hours of a report that a person is asked about before they count: a slip of the hand, more often than the truth. */
import { type Figure, type Phrase, phrase, shortFigure } from "@/lib/phrase";
import { type CalendarDate, daysBetween } from "@/lib/time";

/** Times the estimate from which hours are asked about. Our own choice. */
export const ASKED_FROM = 2;

export interface ReportedHours {
  workedMin: number;
  workedOn: CalendarDate;
  /** First day of the visit by the plan. */
  startOn: CalendarDate | null;
  /** By the norms, set-up included. */
  plannedMin: number;
}

/** Why hours worked on site are doubtful; undefined = they are not. */
export function hoursDoubt({ workedMin, workedOn, startOn, plannedMin }: ReportedHours): Phrase | undefined {
  // Work that was done before its planned day began on the day that is told.
  const days = startOn === null || startOn > workedOn ? 1 : daysBetween(startOn, workedOn) + 1;
  const hours = hoursOf(workedMin);
  if (workedMin > days * 1440)
    return phrase(
      "{{hours}} h are more than the {{most}} h of the days from the visit's start to the day worked.",
      {
        hours,
        most: shortFigure(days * 24),
      },
    );
  if (workedMin > ASKED_FROM * plannedMin)
    return phrase("{{hours}} h are more than twice the {{planned}} h estimated for the visit.", {
      hours,
      planned: hoursOf(plannedMin),
    });
  return undefined;
}

const hoursOf = (min: number): Figure => shortFigure(Math.round(min / 6) / 10);
