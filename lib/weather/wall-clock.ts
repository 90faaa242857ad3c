/**
 * The wall clock of a zone as a short table, so that hours and days of years are found by arithmetic.
 * Reading the zone's rules costs microseconds a call; a plan asks millions of times.
 */
import { type CalendarDate, dayNumber, fromDayNumber, offsetMinutes, type Weekday } from "@/lib/time";

const DAY_MIN = 1440;

export interface WallClock {
  zone: string;
  /** Offsets from UTC in minutes; `offsetMin[i]` holds from `fromMin[i]` (epoch minutes) on. */
  fromMin: Float64Array;
  offsetMin: Float64Array;
}

/**
 * Clock of `zone` from the day of `fromMillis` to that of `toMillis`, with two days to spare at both ends.
 * Offset changes are looked for every three days, then to the minute: two changes closer than that would hide.
 */
export function wallClock(zone: string, fromMillis: number, toMillis: number): WallClock {
  const at = (min: number) => offsetMinutes(min * 60_000, zone);
  const step = 3 * DAY_MIN;
  let min = Math.floor(fromMillis / 60_000) - 2 * DAY_MIN;
  const last = Math.ceil(toMillis / 60_000) + 2 * DAY_MIN;
  const fromMin = [min];
  const offsetMin = [at(min)];
  while (min < last) {
    const before = offsetMin.at(-1)!;
    const after = at(min + step);
    if (after !== before) {
      let lo = min;
      let hi = min + step;
      while (hi - lo > 1) {
        const mid = Math.floor((lo + hi) / 2);
        if (at(mid) === before) lo = mid;
        else hi = mid;
      }
      fromMin.push(hi);
      offsetMin.push(at(hi));
    }
    min += step;
  }
  return { zone, fromMin: Float64Array.from(fromMin), offsetMin: Float64Array.from(offsetMin) };
}

function offsetAt(clock: WallClock, epochMin: number): number {
  let i = clock.fromMin.length - 1;
  while (i > 0 && clock.fromMin[i]! > epochMin) i--;
  return clock.offsetMin[i]!;
}

/** Local day number and minute of the day at an instant given in epoch minutes. */
export function wallOf(clock: WallClock, epochMin: number): { day: number; minuteOfDay: number } {
  const local = epochMin + offsetAt(clock, epochMin);
  const day = Math.floor(local / DAY_MIN);
  return { day, minuteOfDay: local - day * DAY_MIN };
}

/**
 * Epoch minute at which the clock shows `minuteOfDay` of day `day`. A time that is skipped moves forward by
 * the change, one that is repeated takes the first: as `instantAt` of lib/time.
 */
export function epochMinOf(clock: WallClock, day: number, minuteOfDay: number): number {
  const local = day * DAY_MIN + minuteOfDay;
  const before = offsetAt(clock, local - DAY_MIN);
  const after = offsetAt(clock, local + DAY_MIN);
  if (before === after) return local - before;
  const early = local - before;
  // Before the change, or in the hour that it skips or repeats: the old offset answers.
  return offsetAt(clock, early) === before || offsetAt(clock, local - after) === before
    ? early
    : local - after;
}

/** As `weekdayOf` of lib/time: 1970-01-01 was a Thursday. */
export const weekdayOfDay = (day: number): Weekday => (((((day + 3) % 7) + 7) % 7) + 1) as Weekday;

/** 0 = January. */
export const monthOfDay = (day: number): number => new Date(day * 86_400_000).getUTCMonth();

export const dateOfDay = (day: number): CalendarDate => fromDayNumber(day);

export const dayOfDate = (date: CalendarDate): number => dayNumber(date);
