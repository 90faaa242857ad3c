/**
 * When the work of each visit may be done, day by day of the plan: the forecast's hours first, then daylight with the
 * stretch that past years ask for. Ends that meet the same weather share one window, so that thousands are cheap.
 */
import { distanceKm } from "@/lib/geo";
import type { DeratingPolicy, WorkSegment } from "@/lib/hours";
import type { VisitWindow } from "@/lib/schedule";
import type { Site } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import {
  bandedProfile,
  bandedSegments,
  clockOfDays,
  clockOfMask,
  daylightDays,
  decodeSeries,
  type HourMask,
  historyKey,
  hourMask,
  joinSeries,
  jointMask,
  type MonthlyWorkability,
  monthlyWorkability,
  type PastHours,
  type PlanWindow,
  type PreparedSeries,
  pastHours,
  pastYears,
  planWindow,
  prepareSeries,
  regionalWorkability,
  type ShiftWeek,
  type SiteProfile,
  type SpellSegment,
  type StretchByDay,
  segmentsKey,
  shiftHours,
  stretchOfYear,
  stretchOnDays,
  type WallClock,
  type WeatherPolicy,
  type WeatherSeries,
} from "@/lib/weather";
import { daysFrom, deratedStretch, type RestDay, restDays, restOfYear, withRest } from "./derating";
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

/** What past years say of each date, by history, profile and work: kept from plan to plan under `pastBasis`. */
export type KeptPast = Pick<ReadonlyMap<string, StretchByDay>, "get">;

export interface VisitWindows {
  windows: VisitWindow[];
  /** Index into `windows`, by visit id. */
  indexOf: Map<string, number>;
  /** By index of the window: what the days beyond the forecast rest on. */
  basis: WindowBasis[];
  /** By index: days from the first that a forecast covers whole. */
  forecastDays: number[];
  /** What past years say, kept or worked out now: to be kept under `pastBasis`. */
  past: Map<string, StretchByDay>;
}

/** Raised when the same history and limits give other figures than before. */
const PAST_METHOD = 2;

/** What kept past years rest on besides their key. When it differs, they are worked out anew. */
export const pastBasis = (
  policy: WeatherPolicy,
  crews: readonly Crew[],
  derating: DeratingPolicy | undefined,
): string => JSON.stringify([PAST_METHOD, policy, commonShift(crews), derating]);

/** What the hours of one window are read from; undefined where no place in reach has it. */
export interface WindowMet {
  zone: string;
  forecast?: HourMask;
  /** Hours of the past years; for joint work those that suited both ends. Worked out when asked for. */
  past: () => HourMask | undefined;
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
  kept: KeptPast = new Map(),
  onWindow?: (window: number, met: WindowMet) => void,
  derating?: DeratingPolicy,
): VisitWindows {
  const maker = new WindowMaker(weather, policy, shift, firstDay, dayCount, kept, derating);
  const indexOf = new Map<string, number>();
  const known = new Map<string, number>();
  const distinct: { ends: EndWeather[]; segments: readonly WorkSegment[] }[] = [];
  for (const w of wanted) {
    const ends = w.ends.map((e) => maker.meet(e));
    const key = [...new Set(ends.map((e) => e.key))].sort().join(" + ") + (w.ends.length > 1 ? " joint" : "");
    let index = known.get(key);
    if (index === undefined) {
      index = distinct.length;
      known.set(key, index);
      distinct.push({ ends, segments: bandedSegments(w.segments) });
    }
    indexOf.set(w.visitId, index);
  }
  // Place by place, so that a place's years are read once and let go.
  const order = distinct.map((_, i) => i).sort((a, b) => byPlace(distinct[a]!, distinct[b]!) || a - b);
  const made = new Array<MadeWindow>(distinct.length);
  for (const i of order) {
    made[i] = maker.window(distinct[i]!.ends, distinct[i]!.segments);
    onWindow?.(i, maker.met(distinct[i]!.ends));
  }
  return {
    windows: made.map(({ masks, stretch, riskMinPerH }, i) => ({ id: `w${i}`, masks, stretch, riskMinPerH })),
    indexOf,
    basis: made.map((m) => m.basis),
    forecastDays: made.map((m) => m.forecastDays),
    past: maker.past,
  };
}

const byPlace = (a: { ends: readonly EndWeather[] }, b: { ends: readonly EndWeather[] }): number => {
  const [x, y] = [a, b].map(({ ends }) => ends[0]!.near[0]?.place.code ?? "");
  return x === y ? 0 : x! < y! ? -1 : 1;
};

interface MadeWindow extends Omit<PlanWindow, "basis"> {
  basis: WindowBasis;
}

/** An end with the weather that it meets. Ends with the same key meet the same. */
interface EndWeather {
  key: string;
  profile: SiteProfile;
  /** The place inside the policy's radius, if any. */
  place?: WeatherAtPlace;
  /** All places that have hours, nearest first. */
  near: readonly { place: WeatherAtPlace; km: number }[];
}

/** Places whose years are held decoded at a time: those of neighbouring ends. */
const PLACES_HELD = 12;
/** Past masks held at a time, half a megabyte each: an end is met by its install and again by its alignment. */
const MASKS_HELD = 64;

interface PlaceYears {
  series: WeatherSeries;
  prepared: PreparedSeries;
}

/** Makes each series, mask and history once, however many ends read it. */
class WindowMaker {
  readonly past = new Map<string, StretchByDay>();
  readonly #years = new Map<string, PlaceYears | undefined>();
  readonly #pastHours = new Map<string, PastHours>();
  readonly #pastRests = new Map<string, Float32Array>();
  readonly #pastMasks = new Map<string, HourMask>();
  readonly #forecasts = new Map<string, HourMask>();
  readonly #preparedForecasts = new Map<WeatherSeries, PreparedSeries>();
  readonly #near = new Map<string, { place: WeatherAtPlace; km: number }[]>();
  readonly #light = new Map<string, Uint32Array>();
  readonly #climates = new Map<string, MonthlyWorkability | undefined>();
  readonly #clocks = new Map<string, WallClock>();
  readonly #shifts = new Map<string, { clock: WallClock; asked: Uint8Array }>();
  readonly #restDays = new Map<string, readonly (RestDay | undefined)[]>();

  /** Places that have hours: one without any serves no site. */
  readonly #places: readonly WeatherAtPlace[];

  constructor(
    weather: readonly WeatherAtPlace[],
    readonly policy: WeatherPolicy,
    readonly shift: ShiftWeek,
    readonly firstDay: CalendarDate,
    readonly dayCount: number,
    readonly kept: KeptPast,
    readonly derating?: DeratingPolicy,
  ) {
    this.#places = weather.filter((w) => w.forecast !== undefined || w.history.length > 0);
  }

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
    const known = {
      forecast: this.#jointForecast(ends),
      history: this.#past(ends, segments),
      climate: this.#climate(ends),
    };
    const clock = this.#clock(profile.zone);
    const light = this.#daylight(profile);
    const made = planWindow(profile, policy, segments, firstDay, dayCount, known, clock, light);
    for (const other of ends.slice(1)) {
      // Daylight beyond the forecast at the other end too; the joint forecast is in both.
      const lightThere = this.#daylight(other.profile);
      const there = planWindow(other.profile, policy, segments, firstDay, dayCount, known, clock, lightThere);
      for (let i = 0; i < made.masks.length; i++) made.masks[i]! &= there.masks[i]!;
    }
    this.#rest(made, ends, segments);
    if (made.basis !== "none") {
      return { ...made, basis: made.basis === "history" ? "past years" : "regional climate" };
    }
    made.stretch.fill(UNKNOWN_STRETCH, made.forecastDays);
    made.riskMinPerH.fill(UNKNOWN_RISK_MIN_PER_H, made.forecastDays);
    return { ...made, basis: "no weather data" };
  }

  /** Stretches the forecast's days by the rest that heat and cold ask for, at the end where it is longer. */
  #rest(
    made: { stretch: Float32Array; forecastDays: number },
    ends: readonly EndWeather[],
    segments: readonly WorkSegment[],
  ): void {
    for (const end of ends) {
      const days = this.#restAt(end, made.forecastDays);
      for (let d = 0; d < days.length; d++) {
        const rest = days[d]?.restMinPerH ?? 0;
        if (rest > 0) made.stretch[d] = Math.max(made.stretch[d]!, deratedStretch(rest, segments));
      }
    }
  }

  #restAt(end: EndWeather, dayCount: number): readonly (RestDay | undefined)[] {
    const forecast = end.place?.forecast;
    if (!forecast || !this.derating) return [];
    let days = this.#restDays.get(end.key);
    if (!days || days.length < dayCount) {
      const all = daysFrom(this.firstDay, dayCount);
      days = restDays(forecast, end.profile, this.policy, this.shift, all, this.derating);
      this.#restDays.set(end.key, days);
    }
    return days.slice(0, dayCount);
  }

  met(ends: readonly EndWeather[]): WindowMet {
    return {
      zone: ends[0]!.profile.zone,
      forecast: this.#jointForecast(ends),
      past: () => (ends.every(hasPast) ? ends.map((e) => this.#pastMask(e)).reduce(jointMask) : undefined),
    };
  }

  #pastMask(end: EndWeather): HourMask {
    let mask = this.#pastMasks.get(end.key);
    if (!mask) {
      const { series, prepared } = this.#yearsOf(end.place!)!;
      mask = hourMask(series, end.profile, this.policy, prepared);
      const oldest = this.#pastMasks.keys().next();
      if (this.#pastMasks.size >= MASKS_HELD && !oldest.done) this.#pastMasks.delete(oldest.value);
      this.#pastMasks.set(end.key, mask);
    }
    return mask;
  }

  #jointForecast(ends: readonly EndWeather[]): HourMask | undefined {
    const forecasts = ends.map((e) => this.#forecast(e));
    return forecasts.every((f) => f !== undefined) ? forecasts.reduce(jointMask) : undefined;
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

  /** What past years add on each day of the plan; undefined when an end lies outside every radius. */
  #past(ends: readonly EndWeather[], segments: readonly SpellSegment[]): StretchByDay | undefined {
    if (!ends.every(hasPast)) return undefined;
    const stamps = ends.map((e) => [e.key, e.place!.historyStamp]);
    const key = JSON.stringify([...stamps.sort(), segmentsKey(segments)]);
    let year = this.past.get(key) ?? this.kept.get(key);
    if (!year) {
      const classes = [...new Set(segments.map((s) => s.workClass))];
      year = stretchOfYear(
        pastYears(
          ends.map((e) => this.#hours(e)),
          classes,
        ),
        segments,
      );
      const rest = this.#pastRest(ends);
      if (rest) year = withRest(year, rest, segments);
    }
    this.past.set(key, year);
    return stretchOnDays(year, this.firstDay, this.dayCount);
  }

  /** Rest by calendar date, of joint work the longer of both ends; undefined without the table of steps. */
  #pastRest(ends: readonly EndWeather[]): Float32Array | undefined {
    const { derating } = this;
    if (!derating) return undefined;
    const [first, ...others] = ends.map((end) => {
      let rest = this.#pastRests.get(end.key);
      if (!rest) {
        const { series } = this.#yearsOf(end.place!)!;
        rest = restOfYear(series, this.#hours(end), end.profile, this.policy, derating);
        this.#pastRests.set(end.key, rest);
      }
      return rest;
    });
    return others.reduce((a, b) => a.map((r, date) => Math.max(r, b[date]!)), first!);
  }

  #hours(end: EndWeather): PastHours {
    let hours = this.#pastHours.get(end.key);
    if (!hours) {
      const { series, prepared } = this.#yearsOf(end.place!)!;
      hours = pastHours(series, end.profile, this.policy, this.shift, prepared);
      this.#pastHours.set(end.key, hours);
    }
    return hours;
  }

  /** Monthly shares of the nearest places, for work at an end that lies outside every radius. */
  #climate(ends: readonly EndWeather[]): MonthlyWorkability | undefined {
    if (ends.every(hasPast)) return undefined;
    const { near, profile, key } = ends[0]!;
    const places = near.slice(0, REGIONAL_PLACES).map((n) => n.place);
    // The end's own key names one place where it has one, while its partner may have none.
    const climateKey = `${key} ${places.map((p) => p.code)}`;
    if (!this.#climates.has(climateKey)) {
      const tables = places.flatMap((place) => {
        const years = this.#yearsOf(place);
        if (!years) return [];
        const { clock, asked } = this.#shiftOfYears(years.series, profile.zone);
        const mask = hourMask(years.series, profile, this.policy, years.prepared, asked);
        return [monthlyWorkability(mask, clock, this.shift, place.code)];
      });
      this.#climates.set(
        climateKey,
        tables.length > 0 ? regionalWorkability(tables, "places outside the radius") : undefined,
      );
    }
    return this.#climates.get(climateKey);
  }

  /** The hours of the shift in past years, which most places have of the same days. */
  #shiftOfYears(series: WeatherSeries, zone: string): { clock: WallClock; asked: Uint8Array } {
    const key = `${zone} ${series.startsAtMillis} ${series.hours}`;
    let known = this.#shifts.get(key);
    if (!known) {
      const clock = clockOfMask(series, zone);
      known = { clock, asked: shiftHours(series, clock, this.shift) };
      this.#shifts.set(key, known);
    }
    return known;
  }

  #placesByDistance(site: Site): { place: WeatherAtPlace; km: number }[] {
    let near = this.#near.get(site.id);
    if (!near) {
      const { position } = site;
      near = this.#places
        .map((place) => ({ place, km: position ? distanceKm(position, place) : Number.POSITIVE_INFINITY }))
        .sort((a, b) => a.km - b.km || (a.place.code < b.place.code ? -1 : 1));
      this.#near.set(site.id, near);
    }
    return near;
  }

  #ready(forecast: WeatherSeries): PreparedSeries {
    let ready = this.#preparedForecasts.get(forecast);
    if (!ready) {
      ready = prepareSeries(forecast);
      this.#preparedForecasts.set(forecast, ready);
    }
    return ready;
  }

  #yearsOf(place: WeatherAtPlace): PlaceYears | undefined {
    if (!this.#years.has(place.code)) {
      const oldest = this.#years.keys().next();
      if (this.#years.size >= PLACES_HELD && !oldest.done) this.#years.delete(oldest.value);
      this.#years.set(place.code, decodedYears(place));
    }
    return this.#years.get(place.code);
  }

  #daylight(profile: SiteProfile): Uint32Array {
    const key = `${profile.latDeg} ${profile.lonDeg} ${profile.zone}`;
    let light = this.#light.get(key);
    if (!light) {
      const { policy, firstDay, dayCount } = this;
      light = daylightDays(profile, policy, firstDay, dayCount, this.#clock(profile.zone));
      this.#light.set(key, light);
    }
    return light;
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

const hasPast = (end: EndWeather): boolean => end.place !== undefined && end.place.history.length > 0;

function decodedYears({ history }: WeatherAtPlace): PlaceYears | undefined {
  if (history.length === 0) return undefined;
  const series = joinSeries(history.map(decodeSeries));
  return { series, prepared: prepareSeries(series) };
}
