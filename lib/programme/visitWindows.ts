/**
 * When the work of each visit may be done, day by day of the plan: the forecast's hours first, then daylight with the
 * stretch that past years ask for. Ends that meet the same weather share one window, so that thousands are cheap.
 */
import { distanceKm } from "@/lib/geo";
import type { WorkSegment } from "@/lib/hours";
import type { VisitWindow } from "@/lib/schedule";
import type { Site } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import {
  bandedProfile,
  bandedSegments,
  clockOfDays,
  clockOfMask,
  type History,
  type HourMask,
  historyKey,
  hourMask,
  joinSeries,
  jointHistory,
  jointMask,
  type MonthlyWorkability,
  monthlyWorkability,
  type PlanWindow,
  type PreparedSeries,
  planWindow,
  prepareHistory,
  prepareSeries,
  regionalWorkability,
  type ShiftWeek,
  type SiteProfile,
  stretchByDay,
  type WallClock,
  type WeatherPolicy,
  type WeatherSeries,
  WORK_CLASSES,
} from "@/lib/weather";
import type { Crew, WeatherAtPlace } from "./types";

/**
 * Where nothing is known of the weather at any distance. From memory, common practice: work aloft loses about a third
 * of its hours to weather. A site without data is never planned as always fine.
 */
const UNKNOWN_STRETCH = 1.5;
const UNKNOWN_RISK_MIN_PER_H = 30;

/** Places whose climate stands in for a site that lies outside every radius. */
const REGIONAL_PLACES = 3;

/** What one visit needs of its window. An alignment names both ends: it needs the same hours at both. */
export interface WindowWanted {
  visitId: string;
  ends: readonly { site: Site; heightM: number; diameterM: number; bandGhz: number }[];
  segments: readonly WorkSegment[];
}

/** What the hours of a window rest on, for the screen. */
export type WindowBasis = "past years" | "regional climate" | "no weather data";

export interface VisitWindows {
  windows: VisitWindow[];
  /** Index into `windows`, by visit id. */
  indexOf: Map<string, number>;
  /** By index of the window: what the days beyond the forecast rest on. */
  basis: WindowBasis[];
  /** By index: days from the first that a forecast covers whole. */
  forecastDays: number[];
}

/** The working week that the hindcast assumes: from the earliest to the latest shift of the crews. */
export function commonShift(crews: readonly Crew[]): ShiftWeek {
  return ([1, 2, 3, 4, 5, 6, 7] as const).map((weekday) => {
    const working = crews.filter((c) => c.weekdays.includes(weekday));
    if (working.length === 0) return null;
    return {
      fromMin: Math.min(...working.map((c) => c.shiftFromMin)),
      toMin: Math.max(...working.map((c) => c.shiftToMin)),
    };
  });
}

export function visitWindows(
  wanted: readonly WindowWanted[],
  weather: readonly WeatherAtPlace[],
  policy: WeatherPolicy,
  shift: ShiftWeek,
  firstDay: CalendarDate,
  dayCount: number,
): VisitWindows {
  const maker = new WindowMaker(weather, policy, shift, firstDay, dayCount);
  const out: VisitWindows = { windows: [], indexOf: new Map(), basis: [], forecastDays: [] };
  const known = new Map<string, number>();
  for (const w of wanted) {
    const ends = w.ends.map((e) => maker.meet(e));
    const key = [...new Set(ends.map((e) => e.key))].sort().join(" + ") + (w.ends.length > 1 ? " joint" : "");
    let index = known.get(key);
    if (index === undefined) {
      index = out.windows.length;
      known.set(key, index);
      const { basis, forecastDays, ...window } = maker.window(ends, bandedSegments(w.segments));
      out.windows.push({ id: `w${index}`, ...window });
      out.basis.push(basis);
      out.forecastDays.push(forecastDays);
    }
    out.indexOf.set(w.visitId, index);
  }
  return out;
}

interface MadeWindow extends Omit<PlanWindow, "basis"> {
  basis: WindowBasis;
}

/** An end with the weather that it meets. Ends with the same key meet the same. */
interface EndWeather {
  key: string;
  profile: SiteProfile;
  /** The place inside the policy's radius, if any. */
  place?: WeatherAtPlace;
  /** All places, nearest first. */
  near: readonly { place: WeatherAtPlace; km: number }[];
}

/** Makes each series, mask and history once, however many ends read it. */
class WindowMaker {
  readonly #prepared = new Map<WeatherSeries, PreparedSeries>();
  readonly #series = new Map<string, WeatherSeries | undefined>();
  readonly #histories = new Map<string, History>();
  readonly #forecasts = new Map<string, HourMask>();
  readonly #near = new Map<string, { place: WeatherAtPlace; km: number }[]>();
  readonly #clocks = new Map<string, WallClock>();

  constructor(
    readonly weather: readonly WeatherAtPlace[],
    readonly policy: WeatherPolicy,
    readonly shift: ShiftWeek,
    readonly firstDay: CalendarDate,
    readonly dayCount: number,
  ) {}

  meet(end: WindowWanted["ends"][number]): EndWeather {
    const near = this.#placesByDistance(end.site);
    const place = near[0] && near[0].km <= this.policy.placeRadiusKm ? near[0].place : undefined;
    const stand = place ?? near[0]?.place;
    const exact: SiteProfile = {
      heightM: end.heightM,
      terrain: end.site.terrain,
      latDeg: end.site.position?.latDeg ?? stand?.latDeg ?? 0,
      lonDeg: end.site.position?.lonDeg ?? stand?.lonDeg ?? 0,
      elevationM: end.site.elevationM,
      placeElevationM: stand?.elevationM ?? end.site.elevationM,
      zone: end.site.zone,
      diameterM: end.diameterM,
      bandGhz: end.bandGhz,
    };
    const profile = stand ? bandedProfile(exact, stand) : exact;
    const nearKey = place?.code ?? `region ${near.slice(0, REGIONAL_PLACES).map((n) => n.place.code)}`;
    return { key: historyKey(nearKey, profile, this.policy, this.shift), profile, place, near };
  }

  /** The window of work at one end, or at all of several ends at once. */
  window(ends: readonly EndWeather[], segments: readonly WorkSegment[]): MadeWindow {
    const { policy, firstDay, dayCount } = this;
    const { profile } = ends[0]!;
    const forecasts = ends.map((e) => this.#forecast(e));
    const histories = ends.map((e) => this.#history(e));
    const known = {
      forecast: forecasts.every((f) => f !== undefined) ? forecasts.reduce(jointMask) : undefined,
      history: histories.every((h) => h !== undefined)
        ? stretchByDay(histories.reduce(jointHistory), segments, firstDay, dayCount)
        : undefined,
      climate: this.#climate(ends[0]!, histories),
    };
    const clock = this.#clock(profile.zone);
    const made = planWindow(profile, policy, segments, firstDay, dayCount, known, clock);
    for (const other of ends.slice(1)) {
      // Daylight beyond the forecast at the other end too; the joint forecast is in both.
      const there = planWindow(other.profile, policy, segments, firstDay, dayCount, known, clock);
      for (let i = 0; i < made.masks.length; i++) made.masks[i]! &= there.masks[i]!;
    }
    if (made.basis !== "none") {
      return { ...made, basis: made.basis === "history" ? "past years" : "regional climate" };
    }
    made.stretch.fill(UNKNOWN_STRETCH, made.forecastDays);
    made.riskMinPerH.fill(UNKNOWN_RISK_MIN_PER_H, made.forecastDays);
    return { ...made, basis: "no weather data" };
  }

  #forecast(end: EndWeather): HourMask | undefined {
    const series = end.place?.forecast;
    if (!series) return undefined;
    let mask = this.#forecasts.get(end.key);
    if (!mask) {
      mask = hourMask(series, end.profile, this.policy, this.#ready(series));
      this.#forecasts.set(end.key, mask);
    }
    return mask;
  }

  #history(end: EndWeather): History | undefined {
    const series = end.place && this.#seriesOf(end.place);
    if (!series) return undefined;
    let history = this.#histories.get(end.key);
    if (!history) {
      history = prepareHistory(
        series,
        end.profile,
        this.policy,
        this.shift,
        WORK_CLASSES,
        this.#ready(series),
      );
      this.#histories.set(end.key, history);
    }
    return history;
  }

  /** Monthly shares of the nearest places, for an end that lies outside every radius. */
  #climate(end: EndWeather, histories: readonly (History | undefined)[]): MonthlyWorkability | undefined {
    if (histories.every((h) => h !== undefined)) return undefined;
    const tables = end.near.slice(0, REGIONAL_PLACES).flatMap(({ place }) => {
      const series = this.#seriesOf(place);
      if (!series) return [];
      const mask = hourMask(series, end.profile, this.policy, this.#ready(series));
      return [monthlyWorkability(mask, clockOfMask(mask, end.profile.zone), this.shift, place.code)];
    });
    return tables.length > 0 ? regionalWorkability(tables, "places outside the radius") : undefined;
  }

  #placesByDistance(site: Site): { place: WeatherAtPlace; km: number }[] {
    let near = this.#near.get(site.id);
    if (!near) {
      const { position } = site;
      near = this.weather
        .map((place) => ({ place, km: position ? distanceKm(position, place) : Number.POSITIVE_INFINITY }))
        .sort((a, b) => a.km - b.km || (a.place.code < b.place.code ? -1 : 1));
      this.#near.set(site.id, near);
    }
    return near;
  }

  #ready(series: WeatherSeries): PreparedSeries {
    let ready = this.#prepared.get(series);
    if (!ready) {
      ready = prepareSeries(series);
      this.#prepared.set(series, ready);
    }
    return ready;
  }

  #seriesOf(place: WeatherAtPlace): WeatherSeries | undefined {
    if (!this.#series.has(place.code)) {
      this.#series.set(place.code, place.history.length > 0 ? joinSeries(place.history) : undefined);
    }
    return this.#series.get(place.code);
  }

  #clock(zone: string): WallClock {
    let clock = this.#clocks.get(zone);
    if (!clock) {
      clock = clockOfDays(zone, this.firstDay, this.dayCount);
      this.#clocks.set(zone, clock);
    }
    return clock;
  }
}
