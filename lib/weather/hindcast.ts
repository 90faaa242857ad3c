/**
 * What the same work would have met in past years: the sequence is run from the same calendar date, and the days
 * around it, through each year of history. This keeps how bad weather lasts, which monthly shares lose.
 */
import { addDays, type CalendarDate } from "@/lib/time";
import { advance, newProgress, type Progress, type WorkPart } from "./finish";
import type { History } from "./history";
import { addLostTime, noLostTime } from "./lost-time";
import { minutesBefore } from "./spans";
import type { LimitingFactor, SpellSegment } from "./types";
import { LIMITING_FACTORS } from "./types";
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
  const minutes = runMinutes(history, segments, day, startMin, mostDays, newProgress(), parts);
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

function runMinutes(
  history: History,
  segments: readonly SpellSegment[],
  day: number,
  startMin: number,
  mostDays: number,
  progress: Progress,
  parts?: WorkPart[],
): RunMinutes | undefined {
  const { tables, clear, mask } = history;
  const origin = mask.startsAtMillis / 60_000;
  const from = epochMinOf(tables.clock, day, startMin) - origin;
  const limit = epochMinOf(tables.clock, day + mostDays, startMin) - origin;
  if (from < 0 || from >= mask.hours * 60) return undefined;
  const before = minutesBefore(tables.shift, from);
  if (!advance(clear, segments, from, progress).isDone) return undefined;
  const clearMin = minutesBefore(tables.shift, progress.endMin) - before;
  advance(tables, segments, from, progress, parts);
  if (progress.isDone && progress.endMin <= limit) {
    const shiftMin = minutesBefore(tables.shift, progress.endMin) - before;
    return { fromMin: from, endMin: progress.endMin, shiftMin, clearMin };
  }
  // not finished within the limit is a result; not finished because the history ends is none
  if (limit > mask.hours * 60) return undefined;
  return { fromMin: from, endMin: limit, shiftMin: Number.POSITIVE_INFINITY, clearMin };
}

/** Nearest-rank percentile: the smallest value that at least this share of the values do not exceed. */
export function percentile(values: readonly number[], share: number): number {
  if (values.length === 0) return Number.NaN;
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)]!;
}

export interface StretchByDay {
  /** Factor on the time of a sequence that begins on the day: P50 over perfect weather, at least 1. */
  stretch: Float32Array;
  /** Minutes between P50 and P80 for each hour of work. */
  riskMinPerH: Float32Array;
  /** Runs behind each day; 0 = the history says nothing, stretch and risk are NaN. */
  runs: Uint16Array;
}

/**
 * `hindcast` for every day of a plan, for crew scheduling. Each historical day is run once and read by all
 * the days around it. A run that does not finish counts with the shift minutes of `mostDays`.
 */
export function stretchByDay(
  history: History,
  segments: readonly SpellSegment[],
  firstDay: CalendarDate,
  dayCount: number,
  options: Partial<HindcastOptions> = {},
): StretchByDay {
  const { neighbourDays, mostDays, startMin } = { ...DEFAULTS, ...options };
  const out: StretchByDay = {
    stretch: new Float32Array(dayCount),
    riskMinPerH: new Float32Array(dayCount),
    runs: new Uint16Array(dayCount),
  };
  const workH = segments.reduce((sum, s) => sum + s.durationMin, 0) / 60;
  const ran = new Map<number, RunMinutes | undefined>();
  const progress = newProgress();
  const runOf = (day: number) => {
    if (!ran.has(day)) ran.set(day, runMinutes(history, segments, day, startMin, mostDays, progress));
    return ran.get(day);
  };
  for (let i = 0; i < dayCount; i++) {
    const date = addDays(firstDay, i);
    const shiftMin: number[] = [];
    const clearMin: number[] = [];
    for (const year of history.years) {
      const base = sameDayIn(date, year);
      for (let d = -neighbourDays; d <= neighbourDays; d++) {
        const run = runOf(base + d);
        if (!run) continue;
        shiftMin.push(Number.isFinite(run.shiftMin) ? run.shiftMin : shiftMinutes(history, run));
        clearMin.push(run.clearMin);
      }
    }
    const p50 = percentile(shiftMin, 0.5);
    const clear = percentile(clearMin, 0.5);
    out.runs[i] = shiftMin.length;
    out.stretch[i] = clear > 0 ? Math.max(1, p50 / clear) : shiftMin.length > 0 ? 1 : Number.NaN;
    out.riskMinPerH[i] = workH > 0 ? (percentile(shiftMin, 0.8) - p50) / workH : 0;
  }
  return out;
}

const shiftMinutes = (history: History, run: RunMinutes) =>
  minutesBefore(history.tables.shift, run.endMin) - minutesBefore(history.tables.shift, run.fromMin);
