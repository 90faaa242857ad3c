/** Dates, times of day and instants as people and programs write them. */
import { type CalendarDate, fromDayNumber, instantAt, parseCalendarDate } from "@/lib/time";

export type DateOrder = "day first" | "month first";

export type DateReading =
  | { state: "date"; value: CalendarDate }
  /** Day and month can be swapped and nothing in the column decides. */
  | { state: "ambiguous"; dayFirst: CalendarDate; monthFirst: CalendarDate }
  | { state: "mixed" }
  | { state: "two-digit year" }
  | { state: "has a time" }
  | { state: "not a date" };

/** Serial day numbers of spreadsheets that are taken for dates: 2000-01-01 to 2099-12-31. */
const FIRST_SERIAL = 36_526;
const LAST_SERIAL = 73_050;
/** Serial 25569 is 1970-01-01 (the 1900 date system, which counts a 29 February 1900 that never was). */
const SERIAL_OF_EPOCH = 25_569;

const ISO =
  /^(\d{4})[-/](\d{1,2})[-/](\d{1,2})(?:[T ](\d{2}):(\d{2})(?::(\d{2})(?:\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?)?$/;
const DOTTED = /^(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4}|\d{2})$/;
const SLASHED = /^(\d{1,2})([/-])(\d{1,2})\2(\d{4}|\d{2})$/;
const NAMED = /^(\d{1,2})[ -]([a-z]{3,9})\.?[ -](\d{4})$/i;
const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/** The order that one cell proves; undefined when it proves none. */
export function orderOf(text: string): DateOrder | undefined {
  const m = SLASHED.exec(text.trim());
  if (!m) return undefined;
  const a = Number(m[1]);
  const b = Number(m[3]);
  if (a > 12 && b <= 12) return "day first";
  if (b > 12 && a <= 12) return "month first";
  return undefined;
}

/** The order that a column's text cells prove, "both" when they contradict each other. */
export function provedOrder(cells: Iterable<unknown>): DateOrder | "both" | undefined {
  let found: DateOrder | undefined;
  for (const cell of cells) {
    if (typeof cell !== "string") continue;
    const order = orderOf(cell);
    if (!order) continue;
    if (found && found !== order) return "both";
    found = order;
  }
  return found;
}

/**
 * Reads a date: ISO first (`2026-03-01`, also with a time of 00:00), then `1.3.2026` (always day first), a month by
 * its English name, then `1/3/2026` in the column's order; `order` undefined = not known. Two-digit years are refused.
 */
export function readDate(text: string, order: DateOrder | "both" | undefined): DateReading {
  const t = text.trim();
  const iso = ISO.exec(t);
  if (iso) {
    if ([iso[4], iso[5], iso[6]].some((p) => p !== undefined && Number(p) !== 0))
      return { state: "has a time" };
    return dated(Number(iso[1]), Number(iso[2]), Number(iso[3]));
  }
  const dotted = DOTTED.exec(t);
  if (dotted) {
    if (dotted[3]!.length === 2) return { state: "two-digit year" };
    return dated(Number(dotted[3]), Number(dotted[2]), Number(dotted[1]));
  }
  const named = NAMED.exec(t);
  if (named) {
    const month = MONTHS.indexOf(named[2]!.slice(0, 3).toLowerCase()) + 1;
    return month === 0 ? { state: "not a date" } : dated(Number(named[3]), month, Number(named[1]));
  }
  const slashed = SLASHED.exec(t);
  if (!slashed) return { state: "not a date" };
  if (slashed[4]!.length === 2) return { state: "two-digit year" };
  const [a, b, year] = [Number(slashed[1]), Number(slashed[3]), Number(slashed[4])];
  const dayFirst = dated(year, b, a);
  const monthFirst = dated(year, a, b);
  if (dayFirst.state !== "date") return monthFirst;
  if (monthFirst.state !== "date" || a === b) return dayFirst;
  if (order === "both") return { state: "mixed" };
  if (order === undefined) {
    return { state: "ambiguous", dayFirst: dayFirst.value, monthFirst: monthFirst.value };
  }
  return order === "day first" ? dayFirst : monthFirst;
}

/** The date of a spreadsheet's serial day number; undefined outside 2000 to 2099. */
export function dateOfSerial(serial: number): CalendarDate | undefined {
  if (!Number.isInteger(serial) || serial < FIRST_SERIAL || serial > LAST_SERIAL) return undefined;
  return fromDayNumber(serial - SERIAL_OF_EPOCH);
}

function dated(year: number, month: number, day: number): DateReading {
  const pad = (n: number, width: number) => String(n).padStart(width, "0");
  const value = parseCalendarDate(`${pad(year, 4)}-${pad(month, 2)}-${pad(day, 2)}`);
  return value ? { state: "date", value } : { state: "not a date" };
}

/** `07:30`, `7:30`, `0730`, `24:00`, `7:30 pm` -> minutes of the day, 0..1440; undefined for anything else. */
export function readTimeOfDay(text: string): number | undefined {
  const m = /^(\d{1,2}):?(\d{2})(?::00(?:\.0+)?)?\s*(am|pm)?$/i.exec(text.trim());
  if (!m) return undefined;
  let hour = Number(m[1]);
  const minute = Number(m[2]);
  const half = m[3]?.toLowerCase();
  if (half) {
    if (hour < 1 || hour > 12) return undefined;
    hour = (hour % 12) + (half === "pm" ? 12 : 0);
  }
  const total = hour * 60 + minute;
  return minute < 60 && total <= 1440 ? total : undefined;
}

export function timeOfDayText(minuteOfDay: number): string {
  const pad = (n: number) => String(n).padStart(2, "0");
  return `${pad(Math.floor(minuteOfDay / 60))}:${pad(minuteOfDay % 60)}`;
}

const DAY_MILLIS = 86_400_000;
const DAYS_KEPT = 5000;
const dayStarts = new Map<string, { startMillis: number; isWhole: boolean }>();

/**
 * Epoch milliseconds of a wall-clock minute (0..1440) of `zone`. A file of hours asks for the same
 * days over and over, and the time zone database is slow: on days of 24 hours the minutes just add up.
 */
export function wallInstant(date: CalendarDate, minuteOfDay: number, zone: string): number {
  if (zone === "UTC") return Date.parse(`${date}T00:00:00Z`) + minuteOfDay * 60_000;
  const name = `${zone} ${date}`;
  let day = dayStarts.get(name);
  if (!day) {
    const startMillis = instantAt(date, 0, zone);
    day = { startMillis, isWhole: instantAt(date, 1440, zone) - startMillis === DAY_MILLIS };
    if (dayStarts.size >= DAYS_KEPT) dayStarts.clear();
    dayStarts.set(name, day);
  }
  return day.isWhole ? day.startMillis + minuteOfDay * 60_000 : instantAt(date, minuteOfDay, zone);
}

const INSTANT =
  /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(?:\.0+)?)?\s*(Z|UTC|[+-]\d{2}(?::?\d{2})?)?$/;

/**
 * Epoch milliseconds of `2026-01-01T13:00Z`, `2026-01-01 13:00` or with an offset. 24:00 is the next day's 00:00.
 * Without an offset the wall clock of `zone` counts; "zone unknown" when there is none. undefined for anything else.
 */
export function readInstant(text: string, zone: string | undefined): number | "zone unknown" | undefined {
  const m = INSTANT.exec(text.trim());
  if (!m) return undefined;
  const date = parseCalendarDate(`${m[1]}-${m[2]}-${m[3]}`);
  const hour = Number(m[4]);
  const minute = Number(m[5]);
  const second = Number(m[6] ?? 0);
  if (!date || minute > 59 || second > 59 || hour * 60 + minute > 1440) return undefined;
  const offset = m[7];
  if (offset === undefined) {
    return zone === undefined ? "zone unknown" : wallInstant(date, hour * 60 + minute, zone) + second * 1000;
  }
  const utc = Date.UTC(Number(m[1]), Number(m[2]) - 1, Number(m[3]), hour, minute, second);
  if (offset === "Z" || offset === "UTC") return utc;
  const sign = offset.startsWith("-") ? -1 : 1;
  const offsetMin = Number(offset.slice(1, 3)) * 60 + Number(offset.slice(3).replace(":", "") || 0);
  return utc - sign * offsetMin * 60_000;
}

/** `2026-01-01T13:00Z`; seconds only when there are any. */
export function instantText(millis: number): string {
  const iso = new Date(millis).toISOString();
  return iso.endsWith(":00.000Z") ? `${iso.slice(0, 16)}Z` : iso;
}
