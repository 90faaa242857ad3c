/**
 * From a site, its work and a forecast to what the weather pages show. Pure: the pages hand in data and dates.
 * The limits and figures are lib/weather's; here hours are only counted by day and shift.
 */

import { withSpeedsBeside } from "@/app/_ui/format";
import { sayKept } from "@/app/_ui/language/kept";
import type { Words } from "@/app/_ui/language/words";
import type { DaySummary } from "@/app/_ui/WeatherDays";
import type { SiteWork } from "@/db/queries/weatherViews";
import { english, figure, type Phrase, phrase } from "@/lib/phrase";
import type { SiteAccess } from "@/lib/site";
import { type CalendarDate, instantAt, localOf, weekdayOf } from "@/lib/time";
import {
  daylightOnlyMask,
  factorAt,
  type HourMask,
  hourMask,
  type LimitingFactor,
  type PreparedSeries,
  prepareSeries,
  type ShiftWeek,
  type SiteProfile,
  servingPlace,
  VERDICT_TEXTS,
  verdictAt,
  type WeatherPolicy,
  type WeatherSeries,
  WORK_CLASSES,
  type WorkClass,
} from "@/lib/weather";

const HOUR = 3_600_000;

export interface Place {
  code: string;
  name: string;
  latDeg: number;
  lonDeg: number;
  elevationM: number;
}

/** The place whose weather a site reads, or undefined: no coordinate, or no place within the radius. */
export function placeOf<P extends Place & { hasHours: boolean }>(
  site: SiteWork["site"],
  places: readonly P[],
  policy: WeatherPolicy,
): { place: P; distanceKm: number } | undefined {
  return site.position && servingPlace(site.position, places, policy.placeRadiusKm, (p) => p.hasHours);
}

/** Why a site has no weather, in words. */
export function noWeather(site: SiteWork["site"], policy: WeatherPolicy): Phrase {
  if (!site.position) return phrase("the site has no coordinate");
  return phrase("no weather place within {{radius}} km", { radius: figure(policy.placeRadiusKm) });
}

export const noWeatherWords = (site: SiteWork["site"], policy: WeatherPolicy): string =>
  english(noWeather(site, policy));

/** What the weather needs to know; where the site has no end yet, work at the top of the structure is assumed. */
export function profileOf(work: Omit<SiteWork, "endCount">, place: Place): SiteProfile {
  const { site } = work;
  return {
    heightM: work.heightM ?? site.structureHeightM,
    terrain: site.terrain,
    latDeg: site.position?.latDeg ?? place.latDeg,
    lonDeg: site.position?.lonDeg ?? place.lonDeg,
    elevationM: site.elevationM,
    placeElevationM: place.elevationM,
    zone: site.zone,
    diameterM: work.diameterM ?? undefined,
    bandGhz: work.bandGhz ?? undefined,
  };
}

/** The crews' working week where the site's owner lets them in. */
export function shiftAtSite(shift: ShiftWeek, access: SiteAccess): ShiftWeek {
  return shift.map((day, i) => {
    if (!day || !access.weekdays.includes((i + 1) as SiteAccess["weekdays"][number])) return null;
    const fromMin = Math.max(day.fromMin, access.fromMin);
    const toMin = Math.min(day.toMin, access.toMin);
    return toMin > fromMin ? { fromMin, toMin } : null;
  });
}

/** Hours in which both ends are open: an alignment needs the two at once. */
export function bothOpen(a: ShiftWeek, b: ShiftWeek): ShiftWeek {
  return a.map((day, i) => {
    const other = b[i];
    if (!day || !other) return null;
    const fromMin = Math.max(day.fromMin, other.fromMin);
    const toMin = Math.min(day.toMin, other.toMin);
    return toMin > fromMin ? { fromMin, toMin } : null;
  });
}

interface LocalHour {
  date: CalendarDate;
  minute: number;
}

/** Keeps what the sites of one place share, for the length of one request. */
export class ForecastReader {
  readonly #prepared = new Map<WeatherSeries, PreparedSeries>();
  readonly #local = new Map<string, LocalHour[]>();

  constructor(readonly policy: WeatherPolicy) {}

  prepared(series: WeatherSeries): PreparedSeries {
    let ready = this.#prepared.get(series);
    if (!ready) {
      ready = prepareSeries(series);
      this.#prepared.set(series, ready);
    }
    return ready;
  }

  mask(series: WeatherSeries, profile: SiteProfile): HourMask {
    return hourMask(series, profile, this.policy, this.prepared(series));
  }

  /** What the site's clock shows at the begin of each hour. */
  local(series: Pick<WeatherSeries, "startsAtMillis" | "hours">, zone: string): LocalHour[] {
    const key = `${zone} ${series.startsAtMillis} ${series.hours}`;
    let hours = this.#local.get(key);
    if (!hours) {
      hours = Array.from({ length: series.hours }, (_, h) => {
        const { date, minuteOfDay } = localOf(series.startsAtMillis + h * HOUR, zone);
        return { date, minute: Math.round(minuteOfDay) };
      });
      this.#local.set(key, hours);
    }
    return hours;
  }

  /**
   * Hours of the shift in which a class's limits are met, day by day, with the figure that takes most of the rest.
   * null = nobody works that day or the site is closed. A day that the forecast does not cover to the shift's end
   * counts its missing hours as not known.
   */
  days(
    series: WeatherSeries,
    profile: SiteProfile,
    workClass: WorkClass,
    days: readonly CalendarDate[],
    shift: ShiftWeek,
    mask = this.mask(series, profile),
  ): (DaySummary | null)[] {
    const local = this.local(series, profile.zone);
    const c = WORK_CLASSES.indexOf(workClass);
    const byDay = new Map<CalendarDate, number[]>();
    for (const [h, { date }] of local.entries()) {
      const list = byDay.get(date);
      if (list) list.push(h);
      else byDay.set(date, [h]);
    }
    return days.map((day) => {
      const open = shift[weekdayOf(day) - 1];
      if (!open) return null;
      const inShift = (byDay.get(day) ?? []).flatMap((h) => {
        const from = local[h]!.minute;
        const min = Math.min(from + 60, open.toMin) - Math.max(from, open.fromMin);
        return min > 0 ? [{ h, min }] : [];
      });
      const ofMin = open.toMin - open.fromMin;
      let metMin = 0;
      const lost = new Map<LimitingFactor, { min: number; hours: number[] }>();
      for (const { h, min } of inShift) {
        const factor = factorAt(mask, c, h);
        if (factor === "none") {
          metMin += min;
          continue;
        }
        const entry = lost.get(factor) ?? { min: 0, hours: [] };
        entry.min += min;
        entry.hours.push(h);
        lost.set(factor, entry);
      }
      const knownMin = inShift.reduce((sum, { min }) => sum + min, 0);
      const missingMin = ofMin - knownMin;
      const worst = worstOf(lost, missingMin);
      const say = (h: number | undefined) =>
        h === undefined
          ? ""
          : verdictAt(series, profile, this.policy, workClass, h, this.prepared(series)).text;
      const hours = worst === undefined ? inShift.map((i) => i.h) : (lost.get(worst)?.hours ?? []);
      const text =
        worst === "no data" && hours.length === 0 ? BEYOND_FORECAST : say(fiercest(series, worst, hours));
      return { metH: metMin / 60, ofH: ofMin / 60, factor: worst ?? "none", text };
    });
  }
}

/** The text of a day in the reader's language. */
export const dayTextWords = (text: string, words: Words): string =>
  withSpeedsBeside(sayKept(text, DAY_TEXTS, words), words.locale);

/** Does the forecast say nothing at all of this day? */
export function isBeyond(day: DaySummary | null): boolean {
  return day !== null && day.factor === "no data" && day.metH === 0 && day.text === BEYOND_FORECAST;
}

const BEYOND_FORECAST = "the forecast does not reach this day's end";

/** What the text of a day may say. */
export const DAY_TEXTS: readonly string[] = [
  BEYOND_FORECAST,
  "no past years for this month",
  "{{n}} % of this month's daylight hours in past years",
  ...VERDICT_TEXTS,
];

/**
 * Hours to expect on a day that no forecast reaches: the share of the month's daylight hours that met the limits in
 * past years, of this day's daylight inside the shift. An expectation, not a promise: marked as climate.
 */
export function expectedDay(
  profile: SiteProfile,
  policy: WeatherPolicy,
  workClass: WorkClass,
  day: CalendarDate,
  shift: ShiftWeek,
  share: number,
): DaySummary | null {
  const open = shift[weekdayOf(day) - 1];
  if (!open) return null;
  const ofH = (open.toMin - open.fromMin) / 60;
  if (Number.isNaN(share)) return { metH: 0, ofH, factor: "no data", text: "no past years for this month" };
  const midnight = instantAt(day, 0, profile.zone);
  const light = daylightOnlyMask(profile, policy, midnight, 24);
  const bit = 1 << WORK_CLASSES.indexOf(workClass);
  let lightMin = 0;
  for (let h = 0; h < 24; h++) {
    if ((light.workable[h]! & bit) === 0) continue;
    lightMin += Math.max(0, Math.min((h + 1) * 60, open.toMin) - Math.max(h * 60, open.fromMin));
  }
  return {
    metH: (share * lightMin) / 60,
    ofH,
    factor: "none",
    text: `${Math.round(100 * share)} % of this month's daylight hours in past years`,
    isClimate: true,
  };
}

/** What takes most of the day; daylight only when nothing else does, since every winter day loses some to it. */
function worstOf(
  lost: ReadonlyMap<LimitingFactor, { min: number }>,
  missingMin: number,
): LimitingFactor | undefined {
  let worst: LimitingFactor | undefined = missingMin > 0 ? "no data" : undefined;
  let most = missingMin;
  for (const [factor, { min }] of lost) {
    if (factor !== "daylight" && min > most) {
      worst = factor;
      most = min;
    }
  }
  return worst ?? (lost.has("daylight") ? "daylight" : undefined);
}

/** Of these hours the one whose figure is furthest: strongest gust, most rain, else the first. */
function fiercest(
  series: WeatherSeries,
  factor: LimitingFactor | undefined,
  hours: readonly number[],
): number | undefined {
  const values = factor === "rain" ? series.rainMmH : factor === "wind" ? series.windMs : series.gustMs;
  if (factor !== undefined && factor !== "rain" && factor !== "wind" && factor !== "gust") return hours[0];
  let best = hours[0];
  for (const h of hours) if ((values[h] ?? 0) > (values[best!] ?? 0)) best = h;
  return best;
}
