/** Which hours suit each work class at one site and height, and what stops the others. */
import { lightOver, type PreparedSeries, prepareSeries } from "./behind";
import { heatIndexC, windChillC } from "./comfort";
import { daylightRule } from "./limits";
import { daylightMask, solarTable } from "./sun";
import { closedBy, type Thresholds, thresholdsFor } from "./thresholds";
import type { HourMask, LimitingFactor, SiteProfile, WeatherPolicy, WeatherSeries } from "./types";
import { LIMITING_FACTORS, WORK_CLASSES } from "./types";

export const CLASS_COUNT = WORK_CLASSES.length;
export const ALL_CLASSES = (1 << CLASS_COUNT) - 1;

/**
 * The order in which factors are named when several close an hour: what no weather can change, then what is
 * not known, then what is most dangerous. The same order holds in `verdictAt`.
 */
export const FACTOR_ORDER: readonly LimitingFactor[] = [
  "daylight",
  "no data",
  "thunder",
  "icing",
  "wind",
  "gust",
  "rain",
  "dry time",
  "temperature",
  "wind chill",
  "heat index",
];
const CODES = Uint8Array.from(FACTOR_ORDER, (f) => LIMITING_FACTORS.indexOf(f));

/**
 * Workable hours of every class at a site.
 *
 * At a limit is allowed, above it (below it for minima) is not. An hour is workable when the whole of it is: a
 * half-hour wait after thunder closes the next hour. A gap closes every class that asks for the missing
 * value ("no data"); also where a gap hides whether it rained or thundered in the hours behind. Two values may
 * be missing without closing the hour: a gust is derived from the mean, and humidity matters only where it
 * could bring the heat index over its limit.
 *
 * @param prepared `prepareSeries(series)`, shared by the sites of one place
 * @param asked 1 for the hours that will be read; the others stay without a workable class and without a factor
 */
export function hourMask(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  prepared: PreparedSeries = prepareSeries(series),
  asked?: Uint8Array,
): HourMask {
  const t = thresholdsFor(site, policy);
  const { startsAtMillis, hours } = series;
  const light = lightOver(series, prepared, site.latDeg, site.lonDeg, daylightRule(policy));
  const workable = new Uint8Array(hours);
  const factor = new Uint8Array(hours * CLASS_COUNT);
  for (let h = 0; h < hours; h++) {
    if (!asked || asked[h]) closeHour(workable, factor, h, series, prepared, t, light[h]!);
  }
  return { startsAtMillis, hours, workable, factor };
}

/**
 * Workable hours alone, for past years: nobody asks what closed one hour of six years.
 * @param asked 1 for the hours that will be read; the others stay 0
 * @returns bits by WORK_CLASSES, one byte an hour of the series
 */
export function workableHours(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  prepared: PreparedSeries,
  asked: Uint8Array,
): Uint8Array {
  const t = thresholdsFor(site, policy);
  const light = lightOver(series, prepared, site.latDeg, site.lonDeg, daylightRule(policy));
  const workable = new Uint8Array(series.hours);
  for (let h = 0; h < series.hours; h++) {
    if (asked[h]) closeHour(workable, undefined, h, series, prepared, t, light[h]!);
  }
  return workable;
}

/** The hot loop's body: 17 million calls for a year of 2,000 sites, hence long-handed. */
function closeHour(
  workable: Uint8Array,
  factor: Uint8Array | undefined,
  h: number,
  series: WeatherSeries,
  prepared: PreparedSeries,
  t: Thresholds,
  isLight: number,
): void {
  const dark = isLight ? 0 : t.daylight;
  if (dark === t.asked) {
    // night closes every class that asks for anything: the weather adds nothing
    workable[h] = ALL_CLASSES & ~dark;
    if (factor && dark) name(factor, h, dark, dark, 0);
    return;
  }
  let gap = 0;

  const wind = series.windMs[h]!;
  let windy = 0;
  let gusty = 0;
  let mountMs = Number.NaN;
  if (Number.isNaN(wind)) {
    gap |= t.windMount.asked | t.windGround.asked | t.gustMount.asked | t.gustGround.asked;
  } else {
    mountMs = wind * t.windFactor;
    const gust = series.gustMs[h]!;
    const hasGust = !Number.isNaN(gust);
    const mountGustMs = hasGust ? Math.max(gust * t.gustOnGust, mountMs) : wind * t.gustOnMean;
    const groundGustMs = hasGust ? Math.max(gust, wind) : wind * t.groundGustOnMean;
    windy = closedBy(t.windMount, mountMs) | closedBy(t.windGround, wind);
    gusty = closedBy(t.gustMount, mountGustMs) | closedBy(t.gustGround, groundGustMs);
  }

  const rain = series.rainMmH[h]!;
  let wet = 0;
  if (Number.isNaN(rain)) gap |= t.rain.asked;
  else wet = closedBy(t.rain, rain);
  const dryH = prepared.dry.hours[h]!;
  let drying = closedBy(t.dry, -dryH);
  if (drying && prepared.dry.isUnknown[h]) {
    gap |= drying;
    drying = 0;
  }

  const thunder = series.thunder[h]!;
  let stormy = 0;
  if (Number.isNaN(thunder)) gap |= t.thunder;
  else if (thunder > 0) stormy = t.thunder;
  else if (prepared.calm.hours[h]! < t.thunderWaitH) {
    if (prepared.calm.isUnknown[h]) gap |= t.thunder;
    else stormy = t.thunder;
  }

  const temp = series.tempC[h]! + t.lapseK;
  let iced = 0;
  let cold = 0;
  let chilled = 0;
  let hot = 0;
  if (Number.isNaN(temp)) {
    gap |=
      t.tempMin.asked | t.tempMax.asked | t.chillMount.asked | t.chillGround.asked | t.heat.asked | t.icing;
  } else {
    cold = closedBy(t.tempMin, -temp) | closedBy(t.tempMax, temp);
    if (temp <= 0 && t.icing) {
      if (rain > 0) iced = t.icing;
      else if (Number.isNaN(rain)) gap |= t.icing;
      else if (dryH < t.icingMemoryH) {
        if (prepared.dry.isUnknown[h]) gap |= t.icing;
        else iced = t.icing;
      }
    }
    if (temp <= t.chillReachC) {
      if (Number.isNaN(wind)) gap |= t.chillMount.asked | t.chillGround.asked;
      else {
        chilled =
          closedBy(t.chillMount, -windChillC(temp, mountMs)) |
          closedBy(t.chillGround, -windChillC(temp, wind));
      }
    }
    if (temp > t.heatReachC) {
      const humidity = series.humidityPct[h]!;
      if (Number.isNaN(humidity)) gap |= t.heat.asked;
      else hot = closedBy(t.heat, heatIndexC(temp, humidity));
    }
  }

  const closed = dark | gap | stormy | iced | windy | gusty | wet | drying | cold | chilled | hot;
  workable[h] = ALL_CLASSES & ~closed;
  if (!factor || closed === 0) return;
  let open = closed;
  open = name(factor, h, open, dark, 0);
  open = name(factor, h, open, gap, 1);
  open = name(factor, h, open, stormy, 2);
  open = name(factor, h, open, iced, 3);
  open = name(factor, h, open, windy, 4);
  open = name(factor, h, open, gusty, 5);
  open = name(factor, h, open, wet, 6);
  open = name(factor, h, open, drying, 7);
  open = name(factor, h, open, cold, 8);
  open = name(factor, h, open, chilled, 9);
  name(factor, h, open, hot, 10);
}

/** Writes the factor at `order` for the classes in `bits` that have none yet; returns those still without. */
function name(factor: Uint8Array, h: number, open: number, bits: number, order: number): number {
  let b = open & bits;
  while (b !== 0) {
    const c = 31 - Math.clz32(b);
    factor[h * CLASS_COUNT + c] = CODES[order]!;
    b &= ~(1 << c);
  }
  return open & ~bits;
}

/** The mask of perfect weather: only daylight closes hours. What a hindcast is compared with. */
export function daylightOnlyMask(
  site: SiteProfile,
  policy: WeatherPolicy,
  startsAtMillis: number,
  hours: number,
  sun = solarTable(startsAtMillis, hours),
): HourMask {
  const rule = daylightRule(policy);
  const light = daylightMask(startsAtMillis, hours, site.latDeg, site.lonDeg, rule, sun);
  return maskOfLight(policy, startsAtMillis, hours, light);
}

/** `daylightOnlyMask` from daylight that is known. */
export function maskOfLight(
  policy: WeatherPolicy,
  startsAtMillis: number,
  hours: number,
  light: Uint8Array,
): HourMask {
  const needs = WORK_CLASSES.reduce(
    (bits, c, i) => (policy.limits[c].needsDaylight ? bits | (1 << i) : bits),
    0,
  );
  const mask: HourMask = {
    startsAtMillis,
    hours,
    workable: new Uint8Array(hours).fill(ALL_CLASSES),
    factor: new Uint8Array(hours * CLASS_COUNT),
  };
  for (let h = 0; h < hours; h++) {
    if (light[h]) continue;
    mask.workable[h] = ALL_CLASSES & ~needs;
    name(mask.factor, h, needs, needs, 0);
  }
  return mask;
}

/**
 * Hours that suit two masks at once: both ends of a hop for alignment. The first end's factor is named where
 * both are closed. The result covers the hours that both cover.
 */
export function jointMask(a: HourMask, b: HourMask): HourMask {
  const startsAtMillis = Math.max(a.startsAtMillis, b.startsAtMillis);
  const endsAt = Math.min(a.startsAtMillis + a.hours * 3_600_000, b.startsAtMillis + b.hours * 3_600_000);
  const hours = Math.max(0, Math.round((endsAt - startsAtMillis) / 3_600_000));
  const ia = (startsAtMillis - a.startsAtMillis) / 3_600_000;
  const ib = (startsAtMillis - b.startsAtMillis) / 3_600_000;
  if (!Number.isInteger(ia) || !Number.isInteger(ib))
    throw new RangeError("the two masks do not share hours");
  const joint: HourMask = {
    startsAtMillis,
    hours,
    workable: new Uint8Array(hours),
    factor: new Uint8Array(hours * CLASS_COUNT),
  };
  for (let h = 0; h < hours; h++) {
    joint.workable[h] = a.workable[ia + h]! & b.workable[ib + h]!;
    for (let c = 0; c < CLASS_COUNT; c++) {
      joint.factor[h * CLASS_COUNT + c] =
        a.factor[(ia + h) * CLASS_COUNT + c]! || b.factor[(ib + h) * CLASS_COUNT + c]!;
    }
  }
  return joint;
}

/** What stops class `classIndex` in hour `h`. */
export function factorAt(mask: HourMask, classIndex: number, h: number): LimitingFactor {
  return LIMITING_FACTORS[mask.factor[h * CLASS_COUNT + classIndex]!]!;
}
