/** Working days of the store: what is picked, sent or received waits for one. */
import { addDays, type CalendarDate, weekdayOf } from "./calendar";

/** Which days count as working days. */
export interface WorkingWeek {
  /** Weekday of day 0, Monday 1 ... Sunday 7. */
  firstWeekday: number;
  /** Weekdays that count; at least one. */
  workdays: readonly number[];
}

/** Monday to Friday. */
export const FIVE_DAYS: readonly number[] = [1, 2, 3, 4, 5];

/** @throws RangeError on a week without workdays */
function workdaysOf({ firstWeekday, workdays }: WorkingWeek): (day: number) => boolean {
  if (!workdays.some((day) => day >= 1 && day <= 7)) throw new RangeError("the week has no workdays");
  return (day) => workdays.includes(((((firstWeekday - 1 + day) % 7) + 7) % 7) + 1);
}

/** The workday that lies `days` workdays before a day; with 0 the day itself or the last workday before it. */
export function workdayBefore(day: number, days: number, week: WorkingWeek): number {
  const isWorkday = workdaysOf(week);
  let before = day;
  for (let counted = 0; counted < days; ) if (isWorkday(--before)) counted++;
  while (!isWorkday(before)) before--;
  return before;
}

/** The day on which something is there that leaves on `from` or the next workday and takes `days` days of the week. */
export function arrivalDay(
  from: number,
  days: number,
  week?: WorkingWeek,
): { leaves: number; arrives: number } {
  if (!week) return { leaves: from, arrives: from + days };
  const isWorkday = workdaysOf(week);
  let leaves = from;
  while (!isWorkday(leaves)) leaves++;
  let arrives = leaves;
  for (let counted = 0; counted < days; ) if (isWorkday(++arrives)) counted++;
  return { leaves, arrives };
}

const weekFrom = (day: CalendarDate): WorkingWeek => ({ firstWeekday: weekdayOf(day), workdays: FIVE_DAYS });

/** When something is there that may leave on `from` and is `days` working days (Monday to Friday) on its way. */
export const arrivesOn = (from: CalendarDate, days: number): CalendarDate =>
  addDays(from, arrivalDay(0, days, weekFrom(from)).arrives);

/** The last day on which it may leave to be there by `by`. */
export function leavesBy(by: CalendarDate, days: number): CalendarDate {
  const week = weekFrom(by);
  return addDays(by, workdayBefore(workdayBefore(0, 0, week), days, week));
}
