/** What the forecast says of the hours that a plan uses: for the cells of the board. */
import type { Site } from "@/lib/site";
import { addDays, type CalendarDate, localOf, weekdayOf } from "@/lib/time";
import {
  factorAt,
  type HourMask,
  hourMask,
  type LimitingFactor,
  nearestPlace,
  type PreparedSeries,
  prepareSeries,
  type WeatherPolicy,
  WORK_CLASSES,
  type WorkClass,
} from "@/lib/weather";
import type { ForecastAtPlace } from "./types";

const HOUR = 3_600_000;

export interface EndOnTower {
  site: Site;
  heightM: number;
  diameterM: number;
  bandGhz: number;
}

/** Hours of a stretch of the wall clock in which the planning limits are met, and what takes the others. */
export interface HoursMet {
  metH: number;
  ofH: number;
  /** What closes most of the hours that are closed; "none" when all are open. */
  factor: LimitingFactor;
  /** One sign per hour from `fromHour` on. */
  hours: readonly { hour: number; isMet: boolean; factor: LimitingFactor }[];
}

/** What the forecast says of a visit's hours, as far as it reaches. */
export interface VisitHoursMet extends Pick<HoursMet, "metH" | "ofH" | "factor"> {
  /** The last of its days that counts here. */
  until: CalendarDate;
  /** All its days are counted. */
  isWhole: boolean;
}

/** The hours of one day that a visit may take, wall clock at the site. */
export interface VisitDay {
  on: CalendarDate;
  fromMin: number;
  toMin: number;
}

/** Where a visit stands in a plan. */
export interface PlacedTimes {
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
}

/**
 * The days of a visit with the hours that it may take: from its start to its end, between them within shift and opening.
 * @param fromOn  days before it are over and left out, unless the whole visit is
 */
export function visitDays(
  { startOn, startMin, endOn, endMin }: PlacedTimes,
  { shiftFromMin, shiftToMin, access }: { shiftFromMin: number; shiftToMin: number; access: Site["access"] },
  worksOn: (on: CalendarDate) => boolean,
  fromOn: CalendarDate,
): VisitDay[] {
  const opensMin = Math.max(shiftFromMin, access.fromMin);
  const closesMin = Math.min(shiftToMin, access.toMin);
  const days: VisitDay[] = [];
  for (let on = startOn; on <= endOn; on = addDays(on, 1)) {
    const isEdge = on === startOn || on === endOn;
    if (!isEdge && !(worksOn(on) && access.weekdays.includes(weekdayOf(on)))) continue;
    const fromMin =
      on === startOn ? startMin : Math.min(opensMin, on === endOn ? Math.max(0, endMin - 60) : opensMin);
    const toMin = on === endOn ? endMin : Math.max(closesMin, fromMin + 60);
    days.push({ on, fromMin, toMin });
  }
  return endOn < fromOn ? days : days.filter(({ on }) => on >= fromOn);
}

/** Reads the latest forecasts for link ends; each end's hours are worked once. */
export class ForecastReader {
  readonly #ready = new Map<string, PreparedSeries>();
  readonly #masks = new Map<string, HourMask | undefined>();
  readonly #hours = new Map<string, Map<string, number>>();

  /** Places that have a forecast. */
  readonly #forecast: readonly ForecastAtPlace[];

  constructor(
    weather: readonly ForecastAtPlace[],
    readonly policy: WeatherPolicy,
  ) {
    this.#forecast = weather.filter((w) => w.forecast !== undefined);
  }

  /**
   * Hours from `fromMin` to `toMin` (wall clock at the site) on `date` that suit `workClass`; an hour counts when
   * any of it lies in the stretch. Undefined where no forecast covers the whole stretch: climate, not forecast.
   */
  hoursMet(
    end: EndOnTower,
    workClass: WorkClass,
    date: CalendarDate,
    fromMin: number,
    toMin: number,
  ): HoursMet | undefined {
    const mask = this.#mask(end);
    if (!mask) return undefined;
    const classIndex = WORK_CLASSES.indexOf(workClass);
    const index = this.#hourIndex(mask, end.site.zone);
    const hours: { hour: number; isMet: boolean; factor: LimitingFactor }[] = [];
    for (let hour = Math.floor(fromMin / 60); hour * 60 < toMin; hour++) {
      const h = index.get(`${date} ${hour}`);
      if (h === undefined) return undefined;
      const isMet = ((mask.workable[h]! >> classIndex) & 1) === 1;
      hours.push({ hour, isMet, factor: isMet ? "none" : factorAt(mask, classIndex, h) });
    }
    return {
      metH: hours.filter((h) => h.isMet).length,
      ofH: hours.length,
      factor: mostFrequent(hours.filter((h) => !h.isMet).map((h) => h.factor)),
      hours,
    };
  }

  /** The same over the days of a visit, up to the first that no forecast covers; undefined where that is the first of all. */
  visitHoursMet(end: EndOnTower, workClass: WorkClass, days: readonly VisitDay[]): VisitHoursMet | undefined {
    const met: HoursMet[] = [];
    for (const { on, fromMin, toMin } of days) {
      const day = this.hoursMet(end, workClass, on, fromMin, toMin);
      if (!day) break;
      met.push(day);
    }
    const last = days[met.length - 1];
    if (!last) return undefined;
    return {
      metH: met.reduce((sum, m) => sum + m.metH, 0),
      ofH: met.reduce((sum, m) => sum + m.ofH, 0),
      factor: mostFrequent(met.flatMap((m) => m.hours.filter((h) => !h.isMet).map((h) => h.factor))),
      until: last.on,
      isWhole: met.length === days.length,
    };
  }

  #mask(end: EndOnTower): HourMask | undefined {
    const key = `${end.site.code} ${end.heightM} ${end.diameterM} ${end.bandGhz}`;
    if (!this.#masks.has(key)) this.#masks.set(key, this.#make(end));
    return this.#masks.get(key);
  }

  #make({ site, heightM, diameterM, bandGhz }: EndOnTower): HourMask | undefined {
    const { position } = site;
    if (!position) return undefined;
    const near = nearestPlace(position, this.#forecast, this.policy.placeRadiusKm)?.place;
    if (!near?.forecast) return undefined;
    let ready = this.#ready.get(near.code);
    if (!ready) {
      ready = prepareSeries(near.forecast);
      this.#ready.set(near.code, ready);
    }
    const profile = {
      heightM,
      terrain: site.terrain,
      latDeg: position.latDeg,
      lonDeg: position.lonDeg,
      elevationM: site.elevationM,
      placeElevationM: near.elevationM,
      zone: site.zone,
      diameterM,
      bandGhz,
    };
    return hourMask(near.forecast, profile, this.policy, ready);
  }

  /** Hour of the mask by date and wall-clock hour; of a repeated hour the first. */
  #hourIndex(mask: HourMask, zone: string): Map<string, number> {
    const key = `${zone} ${mask.startsAtMillis} ${mask.hours}`;
    let index = this.#hours.get(key);
    if (!index) {
      index = new Map();
      for (let h = 0; h < mask.hours; h++) {
        const { date, minuteOfDay } = localOf(mask.startsAtMillis + h * HOUR, zone);
        const at = `${date} ${Math.floor(minuteOfDay / 60)}`;
        if (!index.has(at)) index.set(at, h);
      }
      this.#hours.set(key, index);
    }
    return index;
  }
}

/** Ties go to the factor that came first. */
export function mostFrequent(factors: readonly LimitingFactor[]): LimitingFactor {
  const counts = new Map<LimitingFactor, number>();
  for (const f of factors) counts.set(f, (counts.get(f) ?? 0) + 1);
  let most: LimitingFactor = "none";
  for (const [f, n] of counts) if (n > (counts.get(most) ?? 0)) most = f;
  return most;
}
