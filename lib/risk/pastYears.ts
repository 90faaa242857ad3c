/** Which past day stands for which day of a plan. */
import { addDays, type CalendarDate, dayNumber, fromDayNumber } from "@/lib/time";
import { sameDayIn } from "@/lib/weather";
import type { PastYears } from "./types";

/** Days around the plan's date in each past year, as the hindcast takes them (docs/methods/weather.md). */
const NEIGHBOUR_DAYS = 3;

/** A year counts when so many of the days followed (or all, when they are fewer) are its own. Our own choice. */
const LEAST_OWN_DAYS = 90;

const LEAP_YEAR_DAYS = 366;

/**
 * Lays the plan's days on past days from the same calendar date of each year. A run that reaches the end of the past
 * days goes on a whole number of years earlier on the same calendar date, so that the last year counts like the
 * others.
 *
 * @param firstDay first day of the plan
 * @param dayCount days a run is followed
 * @param pastFrom first of the past days
 * @param pastDays how many there are without a gap
 * @returns undefined when no year can be used
 */
export function pastYearsFor(
  firstDay: CalendarDate,
  dayCount: number,
  pastFrom: CalendarDate,
  pastDays: number,
): PastYears | undefined {
  if (pastDays < LEAP_YEAR_DAYS) return undefined;
  const from = dayNumber(pastFrom);
  const ownDays = Math.min(dayCount, LEAST_OWN_DAYS) + NEIGHBOUR_DAYS;
  const begins: { year: number; day: number }[] = [];
  for (let year = yearOf(pastFrom); year <= yearOf(addDays(pastFrom, pastDays - 1)); year++) {
    const day = sameDayIn(firstDay, year) - from;
    if (day >= NEIGHBOUR_DAYS && day + ownDays <= pastDays) begins.push({ year, day });
  }
  if (begins.length === 0) return undefined;
  const span = dayCount + 2 * NEIGHBOUR_DAYS;
  const dayOf = new Int32Array(begins.length * span);
  begins.forEach(({ day }, y) => {
    for (let k = 0; k < span; k++) dayOf[y * span + k] = inside(from, pastDays, day - NEIGHBOUR_DAYS + k);
  });
  return { years: begins.map((b) => b.year), neighbourDays: NEIGHBOUR_DAYS, dayOf };
}

/** The day itself, or the same calendar date in the latest year that the past days hold. */
function inside(from: number, pastDays: number, day: number): number {
  const date = fromDayNumber(from + day);
  let at = day;
  for (let year = yearOf(date) - 1; at >= pastDays; year--) at = sameDayIn(date, year) - from;
  return at;
}

const yearOf = (date: CalendarDate): number => Number(date.slice(0, 4));
