/** How much longer outdoor work takes for heat and cold: on the days of the forecast, and on dates as past years had them. */
import { type DeratingPolicy, type Rest, restFactor, restFor, type WorkSegment } from "@/lib/hours";
import { addDays, type CalendarDate, instantAt, weekdayOf } from "@/lib/time";
import {
  chillReachC,
  feltAt,
  heatReachC,
  meanOfYear,
  type PastHours,
  type ShiftWeek,
  type SiteProfile,
  type StretchByDay,
  temperatureAtSite,
  type WeatherPolicy,
  type WeatherSeries,
} from "@/lib/weather";

const HOUR = 3_600_000;

export interface RestDay {
  on: CalendarDate;
  /** Mean rest over the hours of the shift that the forecast holds, minutes an hour. */
  restMinPerH: number;
  cause?: Rest["cause"];
  /** Highest heat index and lowest wind chill in the shift. */
  hottestC: number;
  coldestC: number;
}

/** One entry a day; undefined on days off and where the forecast holds no hour of the shift. */
export function restDays(
  forecast: WeatherSeries,
  profile: SiteProfile,
  weather: WeatherPolicy,
  shift: ShiftWeek,
  days: readonly CalendarDate[],
  derating: DeratingPolicy,
): (RestDay | undefined)[] {
  return days.map((on) => {
    const open = shift[weekdayOf(on) - 1];
    if (!open) return undefined;
    const from = (instantAt(on, open.fromMin, profile.zone) - forecast.startsAtMillis) / HOUR;
    const to = (instantAt(on, open.toMin, profile.zone) - forecast.startsAtMillis) / HOUR;
    const hours: { restMinPerH: number; cause?: Rest["cause"]; heatIndexC: number; windChillC: number }[] =
      [];
    for (let h = Math.max(0, Math.floor(from)); h < Math.min(forecast.hours, to); h++) {
      const felt = feltAt(forecast, profile, weather, h);
      // A gap in the series asks for nothing: the limits keep it closed.
      if (Number.isNaN(felt.heatIndexC + felt.windChillC)) continue;
      hours.push({ ...felt, ...restFor(felt.heatIndexC, felt.windChillC, derating) });
    }
    if (hours.length === 0) return undefined;
    const longest = hours.reduce((a, b) => (b.restMinPerH > a.restMinPerH ? b : a));
    return {
      on,
      restMinPerH: hours.reduce((sum, x) => sum + x.restMinPerH, 0) / hours.length,
      cause: longest.cause,
      hottestC: Math.max(...hours.map((x) => x.heatIndexC)),
      coldestC: Math.min(...hours.map((x) => x.windChillC)),
    };
  });
}

/**
 * Mean rest of each date of the calendar over the past hours in which work aloft was possible, minutes an hour: hours
 * that the limits close are lost already and rest nobody.
 */
export function restOfYear(
  series: WeatherSeries,
  past: PastHours,
  profile: SiteProfile,
  weather: WeatherPolicy,
  derating: DeratingPolicy,
): Float32Array {
  // Most hours are far from any step: the air temperature alone says so.
  const hotFromC = heatReachC(Math.min(...derating.heat.map((s) => s.fromC)));
  const coldBelowC = chillReachC(Math.max(...derating.cold.map((s) => s.belowC)));
  const dropC = temperatureAtSite(0, profile.elevationM, profile.placeElevationM, weather.lapseRateKPerKm);
  return meanOfYear(past, "aloft", (h) => {
    const tempC = series.tempC[h]! + dropC;
    if (tempC < hotFromC && tempC > coldBelowC) return 0;
    const felt = feltAt(series, profile, weather, h);
    return Number.isNaN(felt.heatIndexC + felt.windChillC)
      ? Number.NaN
      : restFor(felt.heatIndexC, felt.windChillC, derating).restMinPerH;
  });
}

/** What past years say of each date with the rest that heat and cold ask for. */
export function withRest(
  year: StretchByDay,
  restMinPerH: ArrayLike<number>,
  segments: readonly Pick<WorkSegment, "workClass" | "durationMin">[],
): StretchByDay {
  return {
    ...year,
    stretch: year.stretch.map((s, date) => s * deratedStretch(restMinPerH[date]!, segments)),
  };
}

/** Factor on the whole work of a visit whose outdoor part rests. */
export function deratedStretch(
  restMinPerH: number,
  segments: readonly Pick<WorkSegment, "workClass" | "durationMin">[],
) {
  const sum = (list: typeof segments) => list.reduce((s, x) => s + x.durationMin, 0);
  const outdoors = sum(segments.filter((s) => s.workClass !== "indoor")) / Math.max(1e-9, sum(segments));
  return 1 + (restFactor(restMinPerH) - 1) * outdoors;
}

export const daysFrom = (first: CalendarDate, count: number): CalendarDate[] =>
  Array.from({ length: count }, (_, d) => addDays(first, d));
