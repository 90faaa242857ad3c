/** The question about goods that come in when nobody may use them any more. */
import { phrase } from "@/lib/phrase";
import { type Problem, problem } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";

interface ComingIn {
  itemCode: string;
  expiresOn?: CalendarDate;
  /** The last day of use that a person saw is past, and takes in all the same. */
  sureOfExpired?: CalendarDate;
}

/** A last day of use before today is asked about, until a person confirms that very day. */
export function pastLastDay(
  path: string,
  { itemCode, expiresOn, sureOfExpired }: ComingIn,
  today: CalendarDate,
): Problem[] {
  if (!expiresOn || expiresOn >= today || sureOfExpired === expiresOn) return [];
  return [
    problem(
      path,
      "past-last-day",
      expiresOn,
      phrase("The last day of use of {{item}} is past: no kit takes it.", { item: itemCode }),
      phrase("Correct the day, put it on hold, or confirm that it is taken in all the same."),
    ),
  ];
}
