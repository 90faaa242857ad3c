/** The instant (epoch milliseconds, UTC) of a date and time on the wall clock of a site's IANA zone. */
import { Temporal } from "temporal-polyfill";
import { type CalendarDate, dayNumber } from "./calendar";
import { offsetMinutes } from "./clock";

/** Milliseconds since 1970-01-01T00:00Z. */
export type InstantMillis = number & { readonly __brand: "InstantMillis" };

const DAY_MIN = 1440;
const MINUTE = 60_000;

export function isKnownZone(zone: string): boolean {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone);
    return true;
  } catch {
    return false;
  }
}

/**
 * The instant at `minuteOfDay` wall-clock minutes after midnight of `date` in `zone`.
 * A time that a clock change skips moves forward, one that it repeats takes the first (Temporal "compatible").
 */
export function instantAt(date: CalendarDate, minuteOfDay: number, zone: string): InstantMillis {
  // By the platform's own zone data: the calendar library takes twenty times as long, and a plan asks by the thousand.
  const local = dayNumber(date) * DAY_MIN + Math.floor(minuteOfDay);
  const before = offsetMinutes((local - DAY_MIN) * MINUTE, zone);
  const after = offsetMinutes((local + DAY_MIN) * MINUTE, zone);
  const early = local - before;
  // Before a change, or in the hour that it skips or repeats, the old offset answers.
  const isOld =
    before === after ||
    offsetMinutes(early * MINUTE, zone) === before ||
    offsetMinutes((local - after) * MINUTE, zone) === before;
  return ((isOld ? early : local - after) * MINUTE) as InstantMillis;
}
