/** Past years of a place, made ready for running work through them. */
import { lightOver, type PreparedSeries, prepareSeries } from "./behind";
import { daylightRule } from "./limits";
import { hourMask, jointMask, maskOfLight, workableHours } from "./masks";
import { clearTables, type FinishTables, finishTables, jointTables, tablesWithin } from "./tables";
import type { HourMask, ShiftWeek, SiteProfile, WeatherPolicy, WeatherSeries, WorkClass } from "./types";
import { WORK_CLASSES } from "./types";
import { dateOfDay, type WallClock, wallClock, wallOf } from "./wall-clock";

/** Past years in which work can be run. */
export interface PastYears {
  tables: FinishTables;
  /** The same with perfect weather: only daylight and shifts. */
  clear: FinishTables;
  /** Calendar years that the history touches. */
  years: readonly number[];
}

/** History of a place made ready for one site profile and crew week, with what closed each hour. */
export interface History extends PastYears {
  mask: HourMask;
  /** Hours without wind, rain or temperature, by year: they count as not workable. */
  gapHoursByYear: ReadonlyMap<number, number>;
}

/**
 * Prepares the history of a place for one profile and crew week.
 * @param prepared `prepareSeries(series)`, shared by all profiles of the place: what perfect weather would
 * give is then worked out once for neighbours with the same sun, zone and week
 */
export function prepareHistory(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  shift: ShiftWeek,
  classes: readonly WorkClass[],
  prepared: PreparedSeries = prepareSeries(series),
): History {
  const shared = clearHistory(series, site, policy, shift, prepared);
  const mask = hourMask(series, site, policy, prepared);
  return {
    mask,
    tables: finishTables(mask, shift, shared.clear.clock, classes),
    clear: shared.clear,
    years: [...shared.gapHoursByYear.keys()],
    gapHoursByYear: shared.gapHoursByYear,
  };
}

/**
 * History of both ends of a hop for work done at both at once. Two stormy ends lose more hours together than
 * either alone.
 * @throws RangeError when the two histories do not cover the same hours
 */
export function jointHistory(near: History, far: History): History {
  const gaps = new Map(
    near.years.map((year) => [
      year,
      Math.max(near.gapHoursByYear.get(year) ?? 0, far.gapHoursByYear.get(year) ?? 0),
    ]),
  );
  return {
    mask: jointMask(near.mask, far.mask),
    tables: jointTables(near.tables, far.tables),
    clear: jointTables(near.clear, far.clear),
    years: near.years,
    gapHoursByYear: gaps,
  };
}

/** Past hours of one end, small enough to be kept for thousands of ends. */
export interface PastHours {
  /** Bits by WORK_CLASSES, one byte an hour; 0 outside the shifts. */
  workable: Uint8Array;
  clear: FinishTables;
  years: readonly number[];
}

export function pastHours(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  shift: ShiftWeek,
  prepared: PreparedSeries,
): PastHours {
  const { clear, inShift, gapHoursByYear } = clearHistory(series, site, policy, shift, prepared);
  return {
    workable: workableHours(series, site, policy, prepared, inShift),
    clear,
    years: [...gapHoursByYear.keys()],
  };
}

/**
 * Past years of work that one end, or both ends at once, must suit.
 * @param classes the classes of the work
 * @throws RangeError when the ends' hours are not the same
 */
export function pastYears(ends: readonly PastHours[], classes: readonly WorkClass[]): PastYears {
  const [first, ...others] = ends;
  if (!first) throw new RangeError("past years of no end");
  const clear = others.reduce((joint, other) => jointTables(joint, other.clear), first.clear);
  const workable = others.length > 0 ? first.workable.slice() : first.workable;
  for (const other of others) for (let h = 0; h < workable.length; h++) workable[h]! &= other.workable[h]!;
  return { tables: tablesWithin(workable, clear, classes), clear, years: first.years };
}

interface ClearHistory {
  key: string;
  clear: FinishTables;
  /** 1 for hours that any shift touches. */
  inShift: Uint8Array;
  gapHoursByYear: Map<number, number>;
}

/** The last one of each prepared series; an entry goes with its series. */
const lastClear = new WeakMap<PreparedSeries, ClearHistory>();

function clearHistory(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  shift: ShiftWeek,
  prepared: PreparedSeries,
): ClearHistory {
  const needsLight = WORK_CLASSES.map((c) => policy.limits[c].needsDaylight);
  const key = JSON.stringify([site.latDeg, site.lonDeg, site.zone, daylightRule(policy), needsLight, shift]);
  const last = lastClear.get(prepared);
  if (last?.key === key) return last;
  const { startsAtMillis, hours } = series;
  const clock = wallClock(site.zone, startsAtMillis, startsAtMillis + hours * 3_600_000);
  const light = lightOver(series, prepared, site.latDeg, site.lonDeg, daylightRule(policy));
  const clearMask = maskOfLight(policy, startsAtMillis, hours, light);
  const clear = clearTables(clearMask, policy, shift, clock);
  const made = {
    key,
    clear,
    inShift: hoursOf(clear),
    gapHoursByYear: gapHours(series, clock),
  };
  lastClear.set(prepared, made);
  return made;
}

function hoursOf({ shift, hours }: FinishTables): Uint8Array {
  const inShift = new Uint8Array(hours);
  for (let i = 0; i < shift.from.length; i++) {
    inShift.fill(1, Math.floor(shift.from[i]! / 60), Math.ceil(shift.to[i]! / 60));
  }
  return inShift;
}

/** Counted by the local year of each day's begin. */
function gapHours(series: WeatherSeries, clock: WallClock): Map<number, number> {
  const byYear = new Map<number, number>();
  const origin = series.startsAtMillis / 60_000;
  for (let h = 0; h < series.hours; h += 24) {
    const year = Number(dateOfDay(wallOf(clock, origin + h * 60).day).slice(0, 4));
    let gaps = byYear.get(year) ?? 0;
    for (let k = h; k < Math.min(series.hours, h + 24); k++) {
      const known = series.windMs[k]! + series.rainMmH[k]! + series.tempC[k]!;
      if (Number.isNaN(known)) gaps++;
    }
    byYear.set(year, gaps);
  }
  return byYear;
}
