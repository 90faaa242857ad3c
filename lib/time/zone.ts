/** The instant (epoch milliseconds, UTC) of a date and time on the wall clock of a site's IANA zone. */
import { Temporal } from "temporal-polyfill";
import type { CalendarDate } from "./calendar";

/** Milliseconds since 1970-01-01T00:00Z. */
export type InstantMillis = number & { readonly __brand: "InstantMillis" };

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
  const day = Temporal.PlainDate.from(date).add({ days: Math.floor(minuteOfDay / 1440) });
  const m = ((minuteOfDay % 1440) + 1440) % 1440;
  const wall = day.toPlainDateTime({ hour: Math.floor(m / 60), minute: Math.floor(m % 60) });
  return wall.toZonedDateTime(zone).epochMilliseconds as InstantMillis;
}
