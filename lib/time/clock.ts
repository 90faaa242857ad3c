/**
 * What a clock in an IANA zone shows at an instant. Read from the platform's own zone data, without the calendar
 * library of zone.ts: pages show times, and the library is a tenth of what a phone would have to load.
 */
import type { CalendarDate } from "./calendar";

// Making a formatter costs far more than using it.
const clocks = new Map<string, Intl.DateTimeFormat>();

function clockOf(zone: string): Intl.DateTimeFormat {
  let clock = clocks.get(zone);
  if (!clock) {
    // Always of this shape and these digits: "03/29/2026, 02:30:00".
    clock = new Intl.DateTimeFormat("en-US-u-ca-gregory-nu-latn", {
      timeZone: zone,
      hourCycle: "h23",
      year: "numeric",
      month: "2-digit",
      day: "2-digit",
      hour: "2-digit",
      minute: "2-digit",
      second: "2-digit",
    });
    clocks.set(zone, clock);
  }
  return clock;
}

const SHOWN = /^(\d\d)\/(\d\d)\/(\d{4}), (\d\d):(\d\d):(\d\d)$/;

function shown(instant: number, zone: string) {
  const text = clockOf(zone).format(Math.floor(instant));
  const [, month, day, year, hour, minute, second] = SHOWN.exec(text) ?? [];
  if (year === undefined) throw new RangeError(`${text}: only years 1000 to 9999 of our era can be shown.`);
  return {
    date: `${year}-${month}-${day}`,
    hour: Number(hour),
    minute: Number(minute),
    second: Number(second),
  };
}

/**
 * Date and minute of day that a clock in `zone` shows at `instant`, to the second.
 * @throws RangeError for a zone that is not known
 */
export function localOf(instant: number, zone: string): { date: CalendarDate; minuteOfDay: number } {
  const { date, hour, minute, second } = shown(instant, zone);
  return { date: date as CalendarDate, minuteOfDay: hour * 60 + minute + second / 60 };
}

/** Offset of `zone` from UTC at `instant`, in minutes, positive east. */
export function offsetMinutes(instant: number, zone: string): number {
  const { date, hour, minute, second } = shown(instant, zone);
  const wallMillis = Date.parse(date) + ((hour * 60 + minute) * 60 + second) * 1000;
  return Math.round((wallMillis - Math.floor(instant / 1000) * 1000) / 60_000);
}
