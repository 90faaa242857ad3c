/** Past years of a place, made ready for running work through them. */
import { lightOver, type PreparedSeries, prepareSeries } from "./behind";
import { daylightRule } from "./limits";
import { hourMask, jointMask, maskOfLight } from "./masks";
import { clearTables, type FinishTables, finishTables, jointTables } from "./tables";
import type { HourMask, ShiftWeek, SiteProfile, WeatherPolicy, WeatherSeries, WorkClass } from "./types";
import { WORK_CLASSES } from "./types";
import { dateOfDay, type WallClock, wallClock, wallOf } from "./wall-clock";

/** History of a place made ready for one site profile and crew week. */
export interface History {
  mask: HourMask;
  tables: FinishTables;
  /** The same with perfect weather: only daylight and shifts. */
  clear: FinishTables;
  /** Calendar years that the history touches. */
  years: readonly number[];
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

interface ClearHistory {
  key: string;
  clear: FinishTables;
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
  const made = {
    key,
    clear: clearTables(clearMask, policy, shift, clock),
    gapHoursByYear: gapHours(series, clock),
  };
  lastClear.set(prepared, made);
  return made;
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
