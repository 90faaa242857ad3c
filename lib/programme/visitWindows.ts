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
  historyKey,
  hourMask,
  joinSeries,
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
  wallClock,
} from "@/lib/weather";
import type { Crew, WeatherAtPlace } from "./types";

const HOUR = 3_600_000;

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
    const ends = w.ends.map((e) => maker.window(e, w.segments));
    const key = ends
      .map((e) => e.key)
      .sort()
      .join(" + ");
    let index = known.get(key);
    if (index === undefined) {
      index = out.windows.length;
      known.set(key, index);
      out.windows.push(joined(`w${index}`, ends));
      out.basis.push(WORST_FIRST.find((b) => ends.some((e) => e.basis === b))!);
      out.forecastDays.push(Math.min(...ends.map((e) => e.forecastDays)));
    }
    out.indexOf.set(w.visitId, index);
  }
  return out;
}

const WORST_FIRST: readonly WindowBasis[] = ["no weather data", "regional climate", "past years"];

interface EndWindow extends Omit<PlanWindow, "basis"> {
  key: string;
  basis: WindowBasis;
}

/** The hours that suit every end, and the larger stretch and risk of them. */
function joined(id: string, ends: readonly EndWindow[]): VisitWindow {
  const masks = ends[0]!.masks.slice();
  const stretch = ends[0]!.stretch.slice();
  const riskMinPerH = ends[0]!.riskMinPerH.slice();
  for (const end of ends.slice(1)) {
    for (let i = 0; i < masks.length; i++) masks[i]! &= end.masks[i]!;
    for (let d = 0; d < stretch.length; d++) {
      stretch[d] = Math.max(stretch[d]!, end.stretch[d]!);
      riskMinPerH[d] = Math.max(riskMinPerH[d]!, end.riskMinPerH[d]!);
    }
  }
  return { id, masks, stretch, riskMinPerH };
}

/** Makes each series, history and window once, however many ends read it. */
class WindowMaker {
  readonly #windows = new Map<string, EndWindow>();
  readonly #prepared = new Map<WeatherSeries, PreparedSeries>();
  readonly #histories = new Map<string, WeatherSeries | undefined>();
  readonly #near = new Map<string, { place: WeatherAtPlace; km: number }[]>();
  readonly #clocks = new Map<string, WallClock>();

  constructor(
    readonly weather: readonly WeatherAtPlace[],
    readonly policy: WeatherPolicy,
    readonly shift: ShiftWeek,
    readonly firstDay: CalendarDate,
    readonly dayCount: number,
  ) {}

  window(end: WindowWanted["ends"][number], segments: readonly WorkSegment[]): EndWindow {
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
    const kind = segments.some((s) => s.workClass === "alignment") ? "alignment" : "install";
    const nearKey = place?.code ?? `region ${near.slice(0, REGIONAL_PLACES).map((n) => n.place.code)}`;
    const key = `${kind} ${historyKey(nearKey, profile, this.policy, this.shift)}`;
    let window = this.#windows.get(key);
    if (!window) {
      window = { key, ...this.#make(profile, bandedSegments(segments), place, near) };
      this.#windows.set(key, window);
    }
    return window;
  }

  #make(
    profile: SiteProfile,
    segments: readonly WorkSegment[],
    place: WeatherAtPlace | undefined,
    near: readonly { place: WeatherAtPlace }[],
  ): Omit<EndWindow, "key"> {
    const { policy, shift, firstDay, dayCount } = this;
    const series = place && this.#history(place);
    const forecast =
      place?.forecast && hourMask(place.forecast, profile, policy, this.#ready(place.forecast));
    const classes = [...new Set(segments.map((s) => s.workClass))];
    const history =
      series &&
      stretchByDay(
        prepareHistory(series, profile, policy, shift, classes, this.#ready(series)),
        segments,
        firstDay,
        dayCount,
      );
    const climate = history ? undefined : this.#climate(profile, near);
    const clock = this.#clock(profile.zone);
    const { basis, ...made } = planWindow(
      profile,
      policy,
      segments,
      firstDay,
      dayCount,
      { forecast, history, climate },
      clock,
    );
    if (basis !== "none") {
      return { ...made, basis: basis === "history" ? "past years" : "regional climate" };
    }
    made.stretch.fill(UNKNOWN_STRETCH, made.forecastDays);
    made.riskMinPerH.fill(UNKNOWN_RISK_MIN_PER_H, made.forecastDays);
    return { ...made, basis: "no weather data" };
  }

  #climate(profile: SiteProfile, near: readonly { place: WeatherAtPlace }[]): MonthlyWorkability | undefined {
    const tables = near.slice(0, REGIONAL_PLACES).flatMap(({ place }) => {
      const series = this.#history(place);
      if (!series) return [];
      const mask = hourMask(series, profile, this.policy, this.#ready(series));
      const clock = wallClock(
        profile.zone,
        series.startsAtMillis,
        series.startsAtMillis + series.hours * HOUR,
      );
      return [monthlyWorkability(mask, clock, this.shift, place.code)];
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

  #history(place: WeatherAtPlace): WeatherSeries | undefined {
    if (!this.#histories.has(place.code)) {
      this.#histories.set(place.code, place.history.length > 0 ? joinSeries(place.history) : undefined);
    }
    return this.#histories.get(place.code);
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
