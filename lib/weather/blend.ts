/** Forecast hours first, past years after them. */
import type { CalendarDate } from "@/lib/time";
import { type MonthlyWorkability, stretchFromClimate } from "./climate";
import { clockOfDays, dayMasks } from "./days";
import { advance, newProgress } from "./finish";
import { percentile, type StretchByDay, sameDayIn } from "./hindcast";
import type { History } from "./history";
import { daylightOnlyMask } from "./masks";
import { minuteAfter, minutesBefore } from "./spans";
import type { FinishTables } from "./tables";
import type { HourMask, SiteProfile, SpellSegment, WeatherPolicy } from "./types";
import { WORK_CLASSES } from "./types";
import { dateOfDay, dayOfDate, epochMinOf, type WallClock, wallOf } from "./wall-clock";

const DAY = 86_400_000;

export interface BlendedFinish {
  /** "forecast": done inside the forecast, P50 = P80. "hindcast": the rest ran through past years. */
  basis: "forecast" | "hindcast";
  p50Millis: number;
  p80Millis: number;
  /** Runs through past years that continued the work, and how many of them did not finish in 60 days. */
  runs: number;
  unfinished: number;
}

/**
 * When a sequence is done: inside the forecast by its hours, and what the forecast does not hold continued in
 * each past year from the same calendar date and the days around it. The time each year takes is counted in
 * shift minutes and laid on the plan's own calendar, so that weekends fall where they will fall. Unbroken
 * work that does not fit before the forecast ends begins anew after it.
 *
 * @param forecast tables of the forecast mask
 * @param calendar tables of perfect weather over the plan: the crew's shifts from now on
 * @returns undefined when no past year covers the rest, or the plan's calendar ends first
 */
export function blendedFinish(
  forecast: FinishTables,
  history: History,
  calendar: FinishTables,
  segments: readonly SpellSegment[],
  startMillis: number,
  { neighbourDays = 3, mostDays = 60 } = {},
): BlendedFinish | undefined {
  const startMin = (startMillis - forecast.startsAtMillis) / 60_000;
  const progress = advance(forecast, segments, startMin, newProgress());
  const millisOf = (min: number) => forecast.startsAtMillis + min * 60_000;
  if (progress.isDone) {
    const at = millisOf(progress.endMin);
    return { basis: "forecast", p50Millis: at, p80Millis: at, runs: 0, unfinished: 0 };
  }
  const rest = segments.slice(progress.segment);
  rest[0] = { ...rest[0]!, durationMin: progress.remainingMin };
  const resumeMillis = Math.max(startMillis, forecast.startsAtMillis + forecast.hours * 3_600_000);
  const shiftMin = continuations(history, rest, resumeMillis, neighbourDays, mostDays);
  if (shiftMin.length === 0) return undefined;
  const p50 = layOn(calendar, resumeMillis, percentile(shiftMin, 0.5));
  const p80 = layOn(calendar, resumeMillis, percentile(shiftMin, 0.8));
  if (p50 === undefined) return undefined;
  return {
    basis: "hindcast",
    p50Millis: p50,
    p80Millis: p80 ?? Number.POSITIVE_INFINITY,
    runs: shiftMin.length,
    unfinished: shiftMin.filter((m) => !Number.isFinite(m)).length,
  };
}

/** Shift minutes that the rest takes in each past year, Infinity where it did not finish. */
function continuations(
  history: History,
  rest: readonly SpellSegment[],
  resumeMillis: number,
  neighbourDays: number,
  mostDays: number,
): number[] {
  const { tables } = history;
  const origin = tables.startsAtMillis / 60_000;
  const resume = wallOf(tables.clock, resumeMillis / 60_000);
  const date = dateOfDay(resume.day);
  const progress = newProgress();
  const taken: number[] = [];
  for (const year of history.years) {
    const base = sameDayIn(date, year);
    for (let d = -neighbourDays; d <= neighbourDays; d++) {
      const from = epochMinOf(tables.clock, base + d, resume.minuteOfDay) - origin;
      const limit = from + mostDays * 1440;
      if (from < 0 || from >= tables.hours * 60) continue;
      advance(tables, rest, from, progress);
      if (progress.isDone && progress.endMin <= limit) {
        taken.push(minutesBefore(tables.shift, progress.endMin) - minutesBefore(tables.shift, from));
      } else if (limit <= tables.hours * 60) taken.push(Number.POSITIVE_INFINITY);
    }
  }
  return taken;
}

/** The instant at which so many shift minutes have passed since `fromMillis`. */
function layOn(calendar: FinishTables, fromMillis: number, shiftMin: number): number | undefined {
  const from = (fromMillis - calendar.startsAtMillis) / 60_000;
  const at = minuteAfter(calendar.shift, minutesBefore(calendar.shift, from) + shiftMin);
  return at === undefined ? undefined : calendar.startsAtMillis + Math.max(at, from) * 60_000;
}

/** What crew scheduling reads of the weather at one site for one sequence: the fields of its VisitWindow. */
export interface PlanWindow {
  masks: Uint32Array;
  stretch: Float32Array;
  riskMinPerH: Float32Array;
  /** Days from the first that the forecast covers to their end. */
  forecastDays: number;
  /** What the days beyond the forecast rest on. "none": no weather is known, the plan must say so. */
  basis: "history" | "climate" | "none";
}

/**
 * Day masks, stretch and risk for a plan. Days that the forecast covers to their end follow its hours (hours
 * of the first day that lie before it are past: not workable). Later days are open in daylight only, with
 * work stretched by what past years, or else the monthly shares, say. Without either the basis is "none" and
 * the stretch 1: never take that for fine weather.
 */
export function planWindow(
  site: SiteProfile,
  policy: WeatherPolicy,
  segments: readonly SpellSegment[],
  firstDay: CalendarDate,
  dayCount: number,
  known: { forecast?: HourMask; history?: StretchByDay; climate?: MonthlyWorkability },
  clock: WallClock = clockOfDays(site.zone, firstDay, dayCount),
  daylight: Uint32Array = daylightDays(site, policy, firstDay, dayCount, clock),
): PlanWindow {
  const first = dayOfDate(firstDay);
  const masks = daylight.slice();
  const forecastDays = known.forecast ? daysCovered(known.forecast, clock, first, dayCount) : 0;
  if (known.forecast && forecastDays > 0) {
    const near = dayMasks(known.forecast, site.zone, firstDay, forecastDays, clock);
    for (let c = 0; c < WORK_CLASSES.length; c++) {
      for (let d = 0; d < forecastDays; d++) masks[c * dayCount + d] = near[c * forecastDays + d]!;
    }
  }
  const beyond = beyondForecast(segments, firstDay, dayCount, known);
  beyond.stretch.fill(1, 0, forecastDays);
  beyond.riskMinPerH.fill(0, 0, forecastDays);
  return { masks, ...beyond, forecastDays };
}

/** Day masks of perfect weather: the same for all sites of one place (bands.ts). */
export function daylightDays(
  site: SiteProfile,
  policy: WeatherPolicy,
  firstDay: CalendarDate,
  dayCount: number,
  clock: WallClock,
): Uint32Array {
  const clearFrom = dayOfDate(firstDay) * DAY - DAY;
  const clear = daylightOnlyMask(site, policy, clearFrom, (dayCount + 2) * 24 + 24);
  return dayMasks(clear, site.zone, firstDay, dayCount, clock);
}

function beyondForecast(
  segments: readonly SpellSegment[],
  firstDay: CalendarDate,
  dayCount: number,
  known: { history?: StretchByDay; climate?: MonthlyWorkability },
): Pick<PlanWindow, "stretch" | "riskMinPerH" | "basis"> {
  const { history, climate } = known;
  if (history?.runs.every((n) => n > 0)) {
    return {
      stretch: history.stretch.slice(),
      riskMinPerH: history.riskMinPerH.slice(),
      basis: "history",
    };
  }
  if (climate) {
    const stretch = stretchFromClimate(climate, segments, firstDay, dayCount);
    if (stretch.every((s) => !Number.isNaN(s))) {
      return { stretch, riskMinPerH: new Float32Array(dayCount), basis: "climate" };
    }
  }
  return {
    stretch: new Float32Array(dayCount).fill(1),
    riskMinPerH: new Float32Array(dayCount),
    basis: "none",
  };
}

/** Days from the first whose last minute the forecast still covers. */
function daysCovered(forecast: HourMask, clock: WallClock, first: number, dayCount: number): number {
  const startsAt = forecast.startsAtMillis / 60_000;
  const endsAt = startsAt + forecast.hours * 60;
  if (startsAt >= epochMinOf(clock, first + 1, 0)) return 0;
  let days = 0;
  while (days < dayCount && epochMinOf(clock, first + days + 1, 0) <= endsAt) days++;
  return days;
}
