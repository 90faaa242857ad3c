/** Instants (epoch milliseconds, UTC) against the wall clock of a site's IANA zone. */
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

/** Date and minute of day that a clock in `zone` shows at `instant`. */
export function localOf(instant: number, zone: string): { date: CalendarDate; minuteOfDay: number } {
  const z = Temporal.Instant.fromEpochMilliseconds(Math.floor(instant)).toZonedDateTimeISO(zone);
  return {
    date: z.toPlainDate().toString() as CalendarDate,
    minuteOfDay: z.hour * 60 + z.minute + z.second / 60,
  };
}

/** Offset of `zone` from UTC at `instant`, in minutes, positive east. */
export function offsetMinutes(instant: number, zone: string): number {
  return Math.round(
    Temporal.Instant.fromEpochMilliseconds(Math.floor(instant)).toZonedDateTimeISO(zone).offsetNanoseconds /
      6e10,
  );
}
