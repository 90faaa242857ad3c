/**
 * What the same work would have met in past years: the sequence is run from the same calendar date, and the days
 * around it, through each year of history. This keeps how bad weather lasts, which monthly shares lose.
 */
import { addDays, type CalendarDate, calendarDate } from "@/lib/time";
import { advance, newProgress, type Progress, type WorkPart } from "./finish";
import type { History, PastHours, PastYears } from "./history";
import { addLostTime, noLostTime } from "./lost-time";
import { minutesBefore } from "./spans";
import type { FinishTables } from "./tables";
import type { LimitingFactor, SpellSegment, WorkClass } from "./types";
import { LIMITING_FACTORS, WORK_CLASSES } from "./types";
import { dateOfDay, epochMinOf, wallOf } from "./wall-clock";

export interface HindcastOptions {
  /** Days before and after the calendar date that are run too. Default 3. */
  neighbourDays: number;
  /** A run that takes longer than this many days counts as not finished. Default 60. */
  mostDays: number;
  /** Begin on the day, minutes after midnight on the site's clock. Default 0: with the shift. */
  startMin: number;
}

const DEFAULTS: HindcastOptions = { neighbourDays: 3, mostDays: 60, startMin: 0 };

export interface HindcastRun {
  startsOn: CalendarDate;
  /** Shift minutes from the start to the finish, work and waiting; Infinity when it was not finished. */
  shiftMin: number;
  /** Shift minutes that the same work takes with perfect weather from the same start. */
  clearMin: number;
  /** Local days from the start day to the finish day, 1 = the same day. */
  days: number;
}

export interface Hindcast {
  /** Begins whose years the history covers; begins it does not cover are left out. */
  runs: readonly HindcastRun[];
  unfinished: number;
  /** Shift minutes; Infinity when so many runs were not finished. */
  p50Min: number;
  p80Min: number;
  p50Days: number;
  p80Days: number;
  /** Median with perfect weather. */
  clearMin: number;
  /** p50Min / clearMin, at least 1. */
  stretch: number;
  /** Shift hours lost a run, by cause, mean over the finished runs. */
  lostHours: Record<LimitingFactor, number>;
  /** Hours that suited but came in stretches too short for unbroken work. */
  shortSpellHours: number;
  /** Years with gaps: unknown hours count as not workable, so such years look worse than they were. */
  gapHoursByYear: ReadonlyMap<number, number>;
}

/**
 * Distribution of the finish of a sequence that begins on a calendar date, over all years of history.
 * 29 February is run from 28 February in years that have none.
 */
export function hindcast(
  history: History,
  segments: readonly SpellSegment[],
  startsOn: CalendarDate,
  options: Partial<HindcastOptions> = {},
): Hindcast {
  const { neighbourDays, mostDays, startMin } = { ...DEFAULTS, ...options };
  const runs: HindcastRun[] = [];
  const lost = noLostTime();
  for (const year of history.years) {
    const base = sameDayIn(startsOn, year);
    for (let d = -neighbourDays; d <= neighbourDays; d++) {
      const run = runFrom(history, segments, base + d, startMin, mostDays);
      if (!run) continue;
      runs.push(run.result);
      if (Number.isFinite(run.result.shiftMin)) {
        addLostTime(history.mask, history.tables, segments, run.parts, lost);
      }
    }
  }
  const finished = runs.filter((r) => Number.isFinite(r.shiftMin)).length;
  const p50Min = percentile(
    runs.map((r) => r.shiftMin),
    0.5,
  );
  const clearMin = percentile(
    runs.map((r) => r.clearMin),
    0.5,
  );
  const hoursARun = (min: number) => (finished > 0 ? min / 60 / finished : 0);
  return {
    runs,
    unfinished: runs.length - finished,
    p50Min,
    p80Min: percentile(
      runs.map((r) => r.shiftMin),
      0.8,
    ),
    p50Days: percentile(
      runs.map((r) => r.days),
      0.5,
    ),
    p80Days: percentile(
      runs.map((r) => r.days),
      0.8,
    ),
    clearMin,
    stretch: Math.max(1, p50Min / clearMin),
    lostHours: Object.fromEntries(LIMITING_FACTORS.map((f) => [f, hoursARun(lost.lostMin[f])])) as Record<
      LimitingFactor,
      number
    >,
    shortSpellHours: hoursARun(lost.shortSpellMin),
    gapHoursByYear: history.gapHoursByYear,
  };
}

/** Day number of the same month and day in another year; 28 February where that year has no 29th. */
export function sameDayIn(date: CalendarDate, year: number): number {
  const month = Number(date.slice(5, 7));
  const day = Number(date.slice(8, 10));
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return Date.UTC(year, month - 1, month === 2 && day === 29 && !isLeap ? 28 : day) / 86_400_000;
}

/** One run, or undefined when the history does not cover it from its begin to its finish or its limit. */
function runFrom(
  history: History,
  segments: readonly SpellSegment[],
  day: number,
  startMin: number,
  mostDays: number,
): { result: HindcastRun; parts: WorkPart[] } | undefined {
  const parts: WorkPart[] = [];
  const work = { met: segments, clear: segments };
  const minutes = runMinutes(history, work, day, startMin, mostDays, newProgress(), parts);
  if (!minutes) return undefined;
  const { clock } = history.tables;
  const origin = history.mask.startsAtMillis / 60_000;
  // an end at midnight belongs to the day that it ends
  const days = Number.isFinite(minutes.shiftMin)
    ? wallOf(clock, origin + Math.max(minutes.endMin - 1, minutes.fromMin)).day - day + 1
    : Number.POSITIVE_INFINITY;
  return {
    result: { startsOn: dateOfDay(day), shiftMin: minutes.shiftMin, clearMin: minutes.clearMin, days },
    parts,
  };
}

interface RunMinutes {
  fromMin: number;
  endMin: number;
  shiftMin: number;
  clearMin: number;
}

/** The sequence as it meets the weather, and as it meets daylight alone. */
interface RunWork {
  met: readonly SpellSegment[];
  clear: readonly SpellSegment[];
}

function runMinutes(
  past: PastYears,
  work: RunWork,
  day: number,
  startMin: number,
  mostDays: number,
  progress: Progress,
  parts?: WorkPart[],
): RunMinutes | undefined {
  const { tables, clear } = past;
  const origin = tables.startsAtMillis / 60_000;
  const from = epochMinOf(tables.clock, day, startMin) - origin;
  const limit = epochMinOf(tables.clock, day + mostDays, startMin) - origin;
  if (from < 0 || from >= tables.hours * 60) return undefined;
  const before = minutesBefore(tables.shift, from);
  if (!advance(clear, work.clear, from, progress).isDone) return undefined;
  const clearMin = minutesBefore(tables.shift, progress.endMin) - before;
  advance(tables, work.met, from, progress, parts);
  if (progress.isDone && progress.endMin <= limit) {
    const shiftMin = minutesBefore(tables.shift, progress.endMin) - before;
    return { fromMin: from, endMin: progress.endMin, shiftMin, clearMin };
  }
  // not finished within the limit is a result; not finished because the history ends is none
  if (limit > tables.hours * 60) return undefined;
  return { fromMin: from, endMin: limit, shiftMin: Number.POSITIVE_INFINITY, clearMin };
}

/** Nearest-rank percentile: the smallest value that at least this share of the values do not exceed. */
export function percentile(values: readonly number[], share: number): number {
  if (values.length === 0) return Number.NaN;
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[rankOf(sorted.length, share)]!;
}

export interface StretchByDay {
  /** Factor on the time of a sequence that begins on the day: P50 over perfect weather, at least 1. */
  stretch: Float32Array;
  /** Minutes between P50 and P80 for each hour of work. */
  riskMinPerH: Float32Array;
  /** Runs behind each day; 0 = the history says nothing, stretch and risk are NaN. */
  runs: Uint16Array;
}

/** Days of a leap year: what past years say of a calendar date does not depend on the year of the plan. */
const DATES = 366;
const LEAP_YEAR = 2000;

/**
 * `hindcast` for every date of the calendar, for crew scheduling: index 0 is 1 January, 59 is 29 February. Each
 * historical day is run once and read by all the dates around it. A run that does not finish counts with the
 * shift minutes of `mostDays`. The result can be kept for as long as the history stays.
 */
export function stretchOfYear(
  past: PastYears,
  segments: readonly SpellSegment[],
  options: Partial<HindcastOptions> = {},
): StretchByDay {
  const { neighbourDays, mostDays, startMin } = { ...DEFAULTS, ...options };
  const bases = past.years.map(daysOfYear);
  const first = Math.min(...bases.map((days) => days[0]!)) - neighbourDays;
  const last = Math.max(...bases.map((days) => days[DATES - 1]!)) + neighbourDays;
  const shiftMin = new Float64Array(last - first + 1);
  const clearMin = new Float64Array(last - first + 1);
  const progress = newProgress();
  const work = { met: joined(segments, past.tables), clear: joined(segments, past.clear) };
  for (let day = first; day <= last; day++) {
    const run = runMinutes(past, work, day, startMin, mostDays, progress);
    clearMin[day - first] = run ? run.clearMin : Number.NaN;
    if (run) shiftMin[day - first] = Number.isFinite(run.shiftMin) ? run.shiftMin : shiftMinutes(past, run);
  }
  const workH = segments.reduce((sum, s) => sum + s.durationMin, 0) / 60;
  const out = emptyStretch(DATES);
  const most = past.years.length * (2 * neighbourDays + 1);
  const shifts = new Float64Array(most);
  const clears = new Float64Array(most);
  for (let date = 0; date < DATES; date++) {
    let n = 0;
    for (const days of bases) {
      const at = days[date]! - first;
      for (let i = at - neighbourDays; i <= at + neighbourDays; i++) {
        if (Number.isNaN(clearMin[i]!)) continue;
        insertSorted(shifts, n, shiftMin[i]!);
        insertSorted(clears, n, clearMin[i]!);
        n++;
      }
    }
    const p50 = n > 0 ? shifts[rankOf(n, 0.5)]! : Number.NaN;
    const clear = n > 0 ? clears[rankOf(n, 0.5)]! : Number.NaN;
    out.runs[date] = n;
    out.stretch[date] = clear > 0 ? Math.max(1, p50 / clear) : n > 0 ? 1 : Number.NaN;
    out.riskMinPerH[date] =
      workH > 0 && n > 0 ? (shifts[rankOf(n, 0.8)]! - p50) / workH : n > 0 ? 0 : Number.NaN;
  }
  return out;
}

/**
 * Mean of an hourly figure for every date of the calendar, as `stretchOfYear` counts them: over the hours of the shifts
 * on which the class may be worked, on the date and its neighbours in all past years; 0 where there was none.
 *
 * @param valueAt figure of hour `h` of the series; NaN = not known, left out
 */
export function meanOfYear(
  { workable, clear, years }: PastHours,
  workClass: WorkClass,
  valueAt: (h: number) => number,
  neighbourDays: number = DEFAULTS.neighbourDays,
): Float32Array {
  const bases = years.map(daysOfYear);
  const first = Math.min(...bases.map((days) => days[0]!)) - neighbourDays;
  const last = Math.max(...bases.map((days) => days[DATES - 1]!)) + neighbourDays;
  const sum = new Float64Array(last - first + 1);
  const count = new Float64Array(last - first + 1);
  const bit = 1 << WORK_CLASSES.indexOf(workClass);
  const epochMin = clear.startsAtMillis / 60_000;
  const { from, to } = clear.shift;
  for (let i = 0; i < from.length; i++) {
    const at = wallOf(clear.clock, epochMin + from[i]!).day - first;
    if (at < 0 || at >= sum.length) continue;
    for (let h = Math.floor(from[i]! / 60); h < Math.ceil(to[i]! / 60); h++) {
      if ((workable[h]! & bit) === 0) continue;
      const value = valueAt(h);
      if (Number.isNaN(value)) continue;
      sum[at]! += value;
      count[at]! += 1;
    }
  }
  return Float32Array.from({ length: DATES }, (_, date) => {
    let total = 0;
    let hours = 0;
    for (const days of bases) {
      const at = days[date]! - first;
      for (let i = at - neighbourDays; i <= at + neighbourDays; i++) {
        total += sum[i]!;
        hours += count[i]!;
      }
    }
    return hours > 0 ? total / hours : 0;
  });
}

/** Neighbours that may pause and are open in the same minutes are one piece of work. */
function joined(segments: readonly SpellSegment[], { byClass }: FinishTables): SpellSegment[] {
  const openIn = (s: SpellSegment) => byClass[WORK_CLASSES.indexOf(s.workClass)];
  const out: SpellSegment[] = [];
  for (const s of segments) {
    const last = out.at(-1);
    const mayJoin = last?.splittable && s.splittable && last.spell === undefined && s.spell === undefined;
    if (mayJoin && openIn(last) === openIn(s)) {
      out[out.length - 1] = { ...last, durationMin: last.durationMin + s.durationMin };
    } else out.push(s);
  }
  return out;
}

/** What a year of dates says of the days of a plan. */
export function stretchOnDays(year: StretchByDay, firstDay: CalendarDate, dayCount: number): StretchByDay {
  const out = emptyStretch(dayCount);
  const origin = sameDayIn(calendarDate(`${LEAP_YEAR}-01-01`), LEAP_YEAR);
  for (let i = 0; i < dayCount; i++) {
    const at = sameDayIn(addDays(firstDay, i), LEAP_YEAR) - origin;
    out.stretch[i] = year.stretch[at]!;
    out.riskMinPerH[i] = year.riskMinPerH[at]!;
    out.runs[i] = year.runs[at]!;
  }
  return out;
}

const emptyStretch = (days: number): StretchByDay => ({
  stretch: new Float32Array(days),
  riskMinPerH: new Float32Array(days),
  runs: new Uint16Array(days),
});

/** Day number of each date of the calendar in `year`; 29 February falls on the 28th where there is none. */
function daysOfYear(year: number): Int32Array {
  const origin = Date.UTC(year, 0, 1) / 86_400_000;
  const isLeap = Date.UTC(year, 1, 29) / 86_400_000 !== Date.UTC(year, 2, 1) / 86_400_000;
  return Int32Array.from({ length: DATES }, (_, date) => origin + date - (date >= 59 && !isLeap ? 1 : 0));
}

function insertSorted(sorted: Float64Array, n: number, value: number): void {
  let at = n;
  while (at > 0 && sorted[at - 1]! > value) {
    sorted[at] = sorted[at - 1]!;
    at--;
  }
  sorted[at] = value;
}

const rankOf = (n: number, share: number) => Math.max(0, Math.ceil(share * n) - 1);

const shiftMinutes = ({ tables }: PastYears, run: RunMinutes) =>
  minutesBefore(tables.shift, run.endMin) - minutesBefore(tables.shift, run.fromMin);
