/** How much longer outdoor work takes on the days of the forecast, for heat and cold. */
import { type DeratingPolicy, type Rest, restFactor, restFor, type WorkSegment } from "@/lib/hours";
import { addDays, type CalendarDate, instantAt, weekdayOf } from "@/lib/time";
import {
  feltAt,
  type ShiftWeek,
  type SiteProfile,
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
