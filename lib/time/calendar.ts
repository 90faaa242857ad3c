/** Calendar dates (`YYYY-MM-DD`, proleptic Gregorian) and dense day numbers. No clock, no zone. */

export type CalendarDate = string & { readonly __brand: "CalendarDate" };

/** Monday 1 ... Sunday 7 (ISO 8601). */
export type Weekday = 1 | 2 | 3 | 4 | 5 | 6 | 7;

const DATE = /^(\d{4})-(\d{2})-(\d{2})$/;

/** Parses `YYYY-MM-DD`; undefined for anything else or a date that does not exist. */
export function parseCalendarDate(text: string): CalendarDate | undefined {
  const m = DATE.exec(text);
  if (!m) return undefined;
  const date = fromDayNumber(Date.UTC(Number(m[1]), Number(m[2]) - 1, Number(m[3])) / 86_400_000);
  return date === text ? date : undefined;
}

/** The date as a branded value. Throws RangeError when it is not a calendar date. */
export function calendarDate(text: string): CalendarDate {
  const date = parseCalendarDate(text);
  if (!date) throw new RangeError(`not a calendar date: ${text}`);
  return date;
}

/** Days since 1970-01-01. */
export function dayNumber(date: CalendarDate): number {
  return Math.round(Date.parse(`${date}T00:00:00Z`) / 86_400_000);
}

export function fromDayNumber(days: number): CalendarDate {
  return new Date(days * 86_400_000).toISOString().slice(0, 10) as CalendarDate;
}

export function addDays(date: CalendarDate, days: number): CalendarDate {
  return fromDayNumber(dayNumber(date) + days);
}

/** Whole days from `a` to `b`, negative when b is earlier. */
export function daysBetween(a: CalendarDate, b: CalendarDate): number {
  return dayNumber(b) - dayNumber(a);
}

export function weekdayOf(date: CalendarDate): Weekday {
  return (((((dayNumber(date) + 3) % 7) + 7) % 7) + 1) as Weekday; // 1970-01-01 was a Thursday
}

/** ISO 8601 week, e.g. `{ year: 2026, week: 53 }`: week 1 holds the year's first Thursday. */
export function isoWeek(date: CalendarDate): { year: number; week: number } {
  const thursday = addDays(date, 4 - weekdayOf(date));
  const year = Number(thursday.slice(0, 4));
  const first = calendarDate(`${thursday.slice(0, 4)}-01-01`);
  return { year, week: Math.floor(daysBetween(first, thursday) / 7) + 1 };
}

/** `2026-W53`. */
export function isoWeekLabel(date: CalendarDate): string {
  const { year, week } = isoWeek(date);
  return `${year}-W${String(week).padStart(2, "0")}`;
}

/** Day of the year, 1..366. */
export function dayOfYear(date: CalendarDate): number {
  return daysBetween(calendarDate(`${date.slice(0, 4)}-01-01`), date) + 1;
}
