/** One hour in words: which figure stops it, or which comes closest to its limit. */
import { localOf } from "@/lib/time";
import { type PreparedSeries, prepareSeries } from "./behind";
import { heatIndexC, temperatureAtSite, windChillC } from "./comfort";
import { daylightRule, icingMemoryHours, limitsAtSite, thunderWaitHours } from "./limits";
import { FACTOR_ORDER } from "./masks";
import { daylightMask, sunTimes } from "./sun";
import { asStored, isAtMount, thresholdsFor } from "./thresholds";
import type {
  ClassLimits,
  HourVerdict,
  LimitingFactor,
  SiteProfile,
  WeatherPolicy,
  WeatherSeries,
  WorkClass,
} from "./types";
import { gustAtHeight, REFERENCE_HEIGHT_M, windAtHeight } from "./wind";

const HOUR = 3_600_000;

/** The figures of one hour at the place of work. NaN = not known. */
export interface HourConditions {
  windMs: number;
  gustMs: number;
  rainMmH: number;
  tempC: number;
  windChillC: number;
  heatIndexC: number;
  humidityPct: number;
  thunder: number;
  isLight: boolean;
}

/** Conditions of hour `h` of the series at the mount, or at 10 m for ground and indoor work. */
export function conditionsAt(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  workClass: WorkClass,
  h: number,
): HourConditions {
  const heightM = isAtMount(workClass) ? site.heightM : REFERENCE_HEIGHT_M;
  const wind10 = series.windMs[h]!;
  // ground work reads the 10 m value as it stands, whatever the terrain
  const windMs = isAtMount(workClass) ? windAtHeight(wind10, heightM, site.terrain, policy) : wind10;
  const gustMs = gustAtHeight(wind10, series.gustMs[h]!, heightM, site.terrain, policy);
  const tempC = temperatureAtSite(
    series.tempC[h]!,
    site.elevationM,
    site.placeElevationM,
    policy.lapseRateKPerKm,
  );
  const startsAt = series.startsAtMillis + h * HOUR;
  const light = daylightMask(startsAt, 1, site.latDeg, site.lonDeg, daylightRule(policy));
  return {
    windMs,
    gustMs,
    rainMmH: series.rainMmH[h]!,
    tempC,
    windChillC: windChillC(tempC, windMs),
    heatIndexC: heatIndexC(tempC, series.humidityPct[h]!),
    humidityPct: series.humidityPct[h]!,
    thunder: series.thunder[h]!,
    isLight: light[0] === 1,
  };
}

/** What hour `h` feels like aloft; NaN where the series has a gap. */
export function feltAt(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  h: number,
): { heatIndexC: number; windChillC: number } {
  const windMs = windAtHeight(series.windMs[h]!, site.heightM, site.terrain, policy);
  const tempC = temperatureAtSite(
    series.tempC[h]!,
    site.elevationM,
    site.placeElevationM,
    policy.lapseRateKPerKm,
  );
  return { heatIndexC: heatIndexC(tempC, series.humidityPct[h]!), windChillC: windChillC(tempC, windMs) };
}

/**
 * May this class be worked in hour `h`, and why not. Agrees with `hourMask`, which it repeats slowly and in words.
 * A workable hour names the figure that comes closest to its limit, e.g. "gust 11.8 of 13.0 m/s".
 */
export function verdictAt(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  workClass: WorkClass,
  h: number,
  prepared: PreparedSeries = prepareSeries(series),
): HourVerdict {
  if (!(h >= 0 && h < series.hours))
    return { workable: false, factor: "no data", text: "no data: outside the series" };
  const limits = limitsAtSite(workClass, site, policy);
  const now = conditionsAt(series, site, policy, workClass, h);
  const reasons = reasonsAgainst(series, site, policy, limits, now, prepared, h);
  for (const factor of FACTOR_ORDER) {
    const text = reasons[factor];
    if (text !== undefined) return { workable: false, factor, text };
  }
  return { workable: true, factor: "none", text: closest(limits, now) };
}

function reasonsAgainst(
  series: WeatherSeries,
  site: SiteProfile,
  policy: WeatherPolicy,
  limits: ClassLimits,
  now: HourConditions,
  prepared: PreparedSeries,
  h: number,
): Partial<Record<LimitingFactor, string>> {
  const reasons: Partial<Record<LimitingFactor, string>> = {};
  const unknown: string[] = [];
  const over = (factor: LimitingFactor, value: number, max: number | undefined, unit: string) => {
    if (max === undefined) return;
    if (Number.isNaN(value)) unknown.push(factor);
    else if (value > asStored(max)) reasons[factor] = `${factor} ${against(value, ">", max)} ${unit}`;
  };
  const under = (factor: LimitingFactor, value: number, min: number | undefined, unit: string) => {
    if (min === undefined) return;
    if (Number.isNaN(value)) unknown.push(factor);
    else if (value < asStored(min)) reasons[factor] = `${factor} ${against(value, "<", min)} ${unit}`;
  };

  if (limits.needsDaylight && !now.isLight) {
    reasons.daylight = daylightText(series.startsAtMillis + h * HOUR, site, policy);
  }
  over("wind", now.windMs, limits.windMaxMs, "m/s");
  over("gust", now.gustMs, limits.gustMaxMs, "m/s");
  over("rain", now.rainMmH, limits.rainMaxMmH, "mm/h");
  under("temperature", now.tempC, limits.tempMinC, "degC");
  over("temperature", now.tempC, limits.tempMaxC, "degC");
  // Wind and humidity are missed only where they could matter: the mask's own bounds, so that both agree.
  const { chillReachC, heatReachC } = thresholdsFor(site, policy);
  if (!(now.tempC > chillReachC)) under("wind chill", now.windChillC, limits.windChillMinC, "degC");
  if (!(now.tempC <= heatReachC)) over("heat index", now.heatIndexC, limits.heatIndexMaxC, "degC");

  const dryH = prepared.dry.hours[h]!;
  const dryUnknown = prepared.dry.isUnknown[h] === 1;
  if (limits.dryHoursBefore !== undefined && dryH < limits.dryHoursBefore) {
    if (dryUnknown) unknown.push("rain in the hours before");
    else reasons["dry time"] = `dry for ${dryH} of ${limits.dryHoursBefore} h`;
  }
  if (limits.stopsForThunder) {
    const wait = thunderWaitHours(policy);
    const calmH = prepared.calm.hours[h]!;
    if (Number.isNaN(now.thunder)) unknown.push("thunder");
    else if (now.thunder > 0) reasons.thunder = "thunder within reach";
    else if (calmH < wait) {
      if (prepared.calm.isUnknown[h] === 1) unknown.push("thunder in the hours before");
      else reasons.thunder = `thunder ${calmH + 1} h ago: wait ${policy.thunderWaitH} h after the last`;
    }
  }
  if (limits.stopsForIcing) {
    if (Number.isNaN(now.tempC)) unknown.push("temperature");
    else if (now.tempC <= 0) {
      if (now.rainMmH > 0) reasons.icing = `icing: wet at ${now.tempC.toFixed(1)} degC`;
      else if (Number.isNaN(now.rainMmH)) unknown.push("rain");
      else if (dryH < icingMemoryHours(policy)) {
        if (dryUnknown) unknown.push("rain in the hours before");
        else reasons.icing = `icing: wet ${dryH + 1} h ago, ${now.tempC.toFixed(1)} degC`;
      }
    }
  }
  if (unknown.length > 0) reasons["no data"] = `no data: ${[...new Set(unknown)].join(", ")}`;
  return reasons;
}

function daylightText(startsAtMillis: number, site: SiteProfile, policy: WeatherPolicy): string {
  const sun = sunTimes(localOf(startsAtMillis, site.zone).date, site.latDeg, site.lonDeg, site.zone);
  const marginMillis = daylightRule(policy).marginMin * 60_000;
  const from = policy.daylight === "sun up" ? sun.rise : sun.dawn;
  const to = policy.daylight === "sun up" ? sun.set : sun.dusk;
  if (from === undefined || to === undefined || to - from <= 2 * marginMillis) return "outside daylight";
  const clock = (millis: number) => {
    const minute = Math.floor(localOf(millis, site.zone).minuteOfDay);
    return `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;
  };
  // rounded inwards: 03:20:10 reads 03:21
  return `outside daylight, ${clock(from + marginMillis + 59_999)} to ${clock(to - marginMillis)}`;
}

/** "14.2 > 13.0", with as many decimals as it takes to see the difference. */
function against(value: number, sign: ">" | "<", limit: number): string {
  let decimals = 1;
  while (decimals < 6 && value.toFixed(decimals) === limit.toFixed(decimals)) decimals++;
  return `${value.toFixed(decimals)} ${sign} ${limit.toFixed(decimals)}`;
}

/** The figure that uses most of its limit. Temperatures are not shares: they count when within 2 K. */
function closest(limits: ClassLimits, now: HourConditions): string {
  const figures: { share: number; text: string }[] = [];
  const share = (name: string, value: number, max: number | undefined, unit: string) => {
    if (max === undefined || !(max > 0) || Number.isNaN(value)) return;
    figures.push({ share: value / max, text: `${name} ${value.toFixed(1)} of ${max.toFixed(1)} ${unit}` });
  };
  const near = (name: string, spareK: number, value: number, limit: number | undefined) => {
    if (limit === undefined || !(spareK <= 2)) return;
    figures.push({
      share: 1 - spareK / 4,
      text: `${name} ${value.toFixed(1)}, limit ${limit.toFixed(1)} degC`,
    });
  };
  share("wind", now.windMs, limits.windMaxMs, "m/s");
  share("gust", now.gustMs, limits.gustMaxMs, "m/s");
  share("rain", now.rainMmH, limits.rainMaxMmH, "mm/h");
  near("temperature", now.tempC - (limits.tempMinC ?? Number.NaN), now.tempC, limits.tempMinC);
  near("temperature", (limits.tempMaxC ?? Number.NaN) - now.tempC, now.tempC, limits.tempMaxC);
  near(
    "wind chill",
    now.windChillC - (limits.windChillMinC ?? Number.NaN),
    now.windChillC,
    limits.windChillMinC,
  );
  near(
    "heat index",
    (limits.heatIndexMaxC ?? Number.NaN) - now.heatIndexC,
    now.heatIndexC,
    limits.heatIndexMaxC,
  );
  figures.sort((a, b) => b.share - a.share);
  return figures[0]?.text ?? "no limit from the weather";
}
