import { type CalendarDate, dayNumber, fromDayNumber, weekdayOf } from "@/lib/time";

/** Round steps of a date axis, in days: day, week, fortnight; from there whole months. */
const DAY_STEPS = [1, 7, 14] as const;

/**
 * Day numbers at which a date axis gets a mark: every day, Mondays, every other Monday, or firsts of months,
 * whichever is the finest that stays within `most`. Empty when the span is empty.
 */
export function dateTicks(from: CalendarDate, to: CalendarDate, most: number): readonly number[] {
  const first = dayNumber(from);
  const last = dayNumber(to);
  if (last < first || most < 1) return [];
  for (const step of DAY_STEPS) {
    const start = step === 1 ? first : first + ((8 - weekdayOf(from)) % 7);
    const ticks: number[] = [];
    for (let day = start; day <= last; day += step) ticks.push(day);
    if (ticks.length <= most) return ticks;
  }
  for (let step = 1; ; step++) {
    const ticks = monthFirsts(first, last, step);
    if (ticks.length <= most) return ticks;
  }
}

function monthFirsts(first: number, last: number, step: number): number[] {
  const ticks: number[] = [];
  const start = fromDayNumber(first);
  let month = Number(start.slice(0, 4)) * 12 + Number(start.slice(5, 7)) - 1;
  for (; ; month++) {
    if (month % step !== 0) continue;
    const text = `${Math.floor(month / 12)}-${String((month % 12) + 1).padStart(2, "0")}-01` as CalendarDate;
    const day = dayNumber(text);
    if (day > last) return ticks;
    if (day >= first) ticks.push(day);
  }
}
