/** Monthly workability: how much of the daylight of a month suits each class. For sites without hourly history. */
import { addDays, type CalendarDate } from "@/lib/time";
import type { HourMask, ShiftWeek, SpellSegment } from "./types";
import { LIMITING_FACTORS, WORK_CLASSES } from "./types";
import { monthOfDay, type WallClock, wallOf, weekdayOfDay } from "./wall-clock";

export interface MonthlyWorkability {
  /** `share[classIndex * 12 + month]`, month 0 = January: 0..1, NaN when the month is not known. */
  share: Float64Array;
  /** Hours behind each share: daylight (for classes that need it) inside the shift, with data. */
  hours: Float64Array;
  /** What the shares come from, for the screen. */
  source: string;
}

const CODE_DAYLIGHT = LIMITING_FACTORS.indexOf("daylight");
const CODE_NO_DATA = LIMITING_FACTORS.indexOf("no data");

/** 1 for the hours that begin inside the shift: those that `monthlyWorkability` reads. */
export function shiftHours(
  { startsAtMillis, hours }: Pick<HourMask, "startsAtMillis" | "hours">,
  clock: WallClock,
  shift: ShiftWeek,
): Uint8Array {
  const asked = new Uint8Array(hours);
  const origin = startsAtMillis / 60_000;
  for (let h = 0; h < hours; h++) {
    const { day, minuteOfDay } = wallOf(clock, origin + h * 60);
    const open = shift[weekdayOfDay(day) - 1];
    if (open && minuteOfDay >= open.fromMin && minuteOfDay < open.toMin) asked[h] = 1;
  }
  return asked;
}

/**
 * Share of the daylight hours of each month that suit each class. Hours without data are left out of both sides:
 * they say nothing. Only hours that begin inside the shift count.
 */
export function monthlyWorkability(
  mask: HourMask,
  clock: WallClock,
  shift: ShiftWeek,
  source: string,
): MonthlyWorkability {
  const n = WORK_CLASSES.length;
  const good = new Float64Array(n * 12);
  const hours = new Float64Array(n * 12);
  const origin = mask.startsAtMillis / 60_000;
  let day = Number.NaN;
  let month = 0;
  let open: ShiftWeek[number] = null;
  for (let h = 0; h < mask.hours; h++) {
    const wall = wallOf(clock, origin + h * 60);
    if (wall.day !== day) {
      day = wall.day;
      month = monthOfDay(day);
      open = shift[weekdayOfDay(day) - 1] ?? null;
    }
    if (!open || wall.minuteOfDay < open.fromMin || wall.minuteOfDay >= open.toMin) continue;
    for (let c = 0; c < n; c++) {
      const factor = mask.factor[h * n + c]!;
      if (factor === CODE_DAYLIGHT || factor === CODE_NO_DATA) continue;
      hours[c * 12 + month]!++;
      if (factor === 0) good[c * 12 + month]!++;
    }
  }
  return { share: good.map((g, i) => (hours[i]! > 0 ? g / hours[i]! : Number.NaN)), hours, source };
}

/** The mean of several tables, weighted by their hours: a region's climate for a site far from any place. */
export function regionalWorkability(
  tables: readonly MonthlyWorkability[],
  source: string,
): MonthlyWorkability {
  const size = WORK_CLASSES.length * 12;
  const hours = new Float64Array(size);
  const good = new Float64Array(size);
  for (const table of tables) {
    for (let i = 0; i < size; i++) {
      if (!(table.hours[i]! > 0)) continue;
      hours[i]! += table.hours[i]!;
      good[i]! += table.hours[i]! * table.share[i]!;
    }
  }
  return { share: good.map((g, i) => (hours[i]! > 0 ? g / hours[i]! : Number.NaN)), hours, source };
}

/** Most that a month without a workable hour stretches work by: the plan then shows it as hardly possible. */
export const STRETCH_MAX = 20;

/**
 * Stretch of a sequence by day from monthly shares: each class takes 1 / share of its clear time. This leaves
 * out how long bad weather lasts, so it is too hopeful for unbroken work. NaN where a share is not known.
 */
export function stretchFromClimate(
  climate: MonthlyWorkability,
  segments: readonly SpellSegment[],
  firstDay: CalendarDate,
  dayCount: number,
): Float32Array {
  const byMonth = Array.from({ length: 12 }, (_, month) => {
    let clear = 0;
    let taken = 0;
    for (const s of segments) {
      if (s.durationMin === 0) continue;
      const share = climate.share[WORK_CLASSES.indexOf(s.workClass) * 12 + month]!;
      clear += s.durationMin;
      taken += s.durationMin / Math.max(share, 1 / STRETCH_MAX);
    }
    return clear > 0 ? taken / clear : 1;
  });
  return Float32Array.from(
    { length: dayCount },
    (_, i) => byMonth[Number(addDays(firstDay, i).slice(5, 7)) - 1]!,
  );
}
