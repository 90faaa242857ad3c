/**
 * Limits of each work class as delivered. Planning limits only: local codes, the site owner's rules, the
 * maker's instructions and the crew on site come first. A value at its limit is allowed, above it is not.
 * Marks: V read in a stored copy of public text, M from memory, C our own choice.
 */
import { FLAT_DISC_DRAG, hoistLimitMs, SEA_LEVEL_DENSITY_KG_M3 } from "./drag";
import { type DaylightRule, ZENITH_CIVIL, ZENITH_RISE_SET } from "./sun";
import type { ClassLimits, SiteProfile, WeatherPolicy, WorkClass } from "./types";
import { WORK_CLASSES } from "./types";

const STRONG_WIND =
  "mean 9.9 m/s: a 10-minute mean of 10 m/s counts as strong wind in Japan, Ordinance on Industrial Safety and Health art. 522 (M)";
const GUST_13 =
  "gust 13.0 m/s: under 30 mph = 13.4 m/s, 'high wind' for handling material, US 29 CFR 1910.269 note (M)";
const HEAT = "heat index 39.4 degC = 103 degF, begin of the NWS 'danger' band (M)";
const CHILL = "wind chill -20 degC: our choice, well short of frostbite in 30 minutes at -28 (M)";
const THUNDER = "thunder stops work until 30 minutes after the last thunder (V, 30-30 rule)";

export const DEFAULT_WEATHER_POLICY: WeatherPolicy = {
  version: 1,
  limits: {
    climb: {
      windMaxMs: 9.9,
      gustMaxMs: 13.0,
      rainMaxMmH: 0.2,
      dryHoursBefore: 1,
      tempMinC: -15,
      windChillMinC: -20,
      heatIndexMaxC: 39.4,
      needsDaylight: true,
      stopsForThunder: true,
      stopsForIcing: true,
      source: `${STRONG_WIND}; ${GUST_13}; rain 0.2 mm/h and one dry hour before: wet steel closes climbing (common practice, M); -15 degC: common practice (M); ${CHILL}; ${HEAT}; ${THUNDER}`,
    },
    hoist: {
      windMaxMs: 8.94,
      gustMaxMs: 11.0,
      rainMaxMmH: 0.5,
      tempMinC: -15,
      windChillMinC: -20,
      heatIndexMaxC: 39.4,
      needsDaylight: true,
      stopsForThunder: true,
      stopsForIcing: true,
      source: `mean 8.94 m/s = 20 mph: above it a qualified person decides on hoisting people, US 29 CFR 1926.1431(k)(8)(i) (V), taken for loads by analogy (C); gust 11.0 m/s: Beaufort 6 begins at 10.8 (common practice, M), less for a large dish by its drag; rain 0.5 mm/h: common practice (M); -15 degC: common practice (M); ${CHILL}; ${HEAT}; ${THUNDER}`,
    },
    aloft: {
      windMaxMs: 9.9,
      gustMaxMs: 13.0,
      rainMaxMmH: 0.5,
      tempMinC: -15,
      windChillMinC: -20,
      heatIndexMaxC: 39.4,
      needsDaylight: true,
      stopsForThunder: true,
      stopsForIcing: true,
      source: `${STRONG_WIND}; ${GUST_13}; rain 0.5 mm/h: common practice (M); -15 degC: common practice (M); ${CHILL}; ${HEAT}; ${THUNDER}`,
    },
    "open connection": {
      windMaxMs: 9.9,
      gustMaxMs: 13.0,
      rainMaxMmH: 0,
      dryHoursBefore: 2,
      tempMinC: 5,
      windChillMinC: -20,
      heatIndexMaxC: 39.4,
      needsDaylight: true,
      stopsForThunder: true,
      stopsForIcing: true,
      source: `${STRONG_WIND}; ${GUST_13}; no rain, two dry hours before, 5 degC for the tape: common practice (M), the tape's maker states its own; ${HEAT}; ${THUNDER}`,
    },
    ground: {
      windMaxMs: 13.4,
      gustMaxMs: 17.9,
      rainMaxMmH: 4,
      tempMinC: -20,
      windChillMinC: -27,
      heatIndexMaxC: 39.4,
      needsDaylight: true,
      stopsForThunder: true,
      stopsForIcing: false,
      source: `mean 13.4 m/s = 30 mph handling material, gust 17.9 m/s = 40 mph 'high wind', US 29 CFR 1910.269 note (M); rain 4 mm/h: common practice (M); -20 degC: common practice (M); wind chill -27 degC: frostbite within 30 minutes begins at -28 (M); ${HEAT}; ${THUNDER}`,
    },
    indoor: {
      needsDaylight: false,
      stopsForThunder: false,
      stopsForIcing: false,
      source: "under a roof: no limit from the weather (C)",
    },
    alignment: {
      windMaxMs: 9.9,
      gustMaxMs: 13.0,
      rainMaxMmH: 0.2,
      rainAboveGhz: 10,
      rainMaxBelowMmH: 0.5,
      tempMinC: -15,
      windChillMinC: -20,
      heatIndexMaxC: 39.4,
      needsDaylight: true,
      stopsForThunder: true,
      stopsForIcing: true,
      source: `${STRONG_WIND}; ${GUST_13}; above 10 GHz rain on the path falsifies the level: 0.2 mm/h (common practice, M); below, 0.5 mm/h for the people aloft; -15 degC: common practice (M); ${CHILL}; ${HEAT}; ${THUNDER}`,
    },
  },
  thunderWaitH: 0.5,
  tagLineForceN: 200, // two people, about 100 N each held for minutes: common practice (M)
  dragCoefficient: FLAT_DISC_DRAG,
  airDensityKgM3: SEA_LEVEL_DENSITY_KG_M3,
  windProfile: "log",
  powerExponent: 0.2, // IEC 61400-1 normal wind profile on land, V (secondary)
  lapseRateKPerKm: -6.5, // ISO 2533 standard atmosphere (M)
  placeRadiusKm: 40,
  icingMemoryH: 6,
  daylight: "civil",
  daylightMarginMin: 10,
};

/** Limits of one class at one site: the dish's drag and the carrier frequency worked in. */
export function limitsAtSite(workClass: WorkClass, site: SiteProfile, policy: WeatherPolicy): ClassLimits {
  const limits = policy.limits[workClass];
  if (workClass === "hoist" && site.diameterM !== undefined) {
    const byDrag = hoistLimitMs(site.diameterM, policy);
    return { ...limits, gustMaxMs: Math.min(limits.gustMaxMs ?? Number.POSITIVE_INFINITY, byDrag) };
  }
  const isBelowBand =
    limits.rainAboveGhz !== undefined && site.bandGhz !== undefined && site.bandGhz <= limits.rainAboveGhz;
  return isBelowBand ? { ...limits, rainMaxMmH: limits.rainMaxBelowMmH } : limits;
}

export function daylightRule(policy: WeatherPolicy): DaylightRule {
  return {
    zenithDeg: policy.daylight === "sun up" ? ZENITH_RISE_SET : ZENITH_CIVIL,
    marginMin: policy.daylightMarginMin ?? 10,
  };
}

/** Hours for which wet steel counts as iced at or under 0 degC. */
export const icingMemoryHours = (policy: WeatherPolicy): number => policy.icingMemoryH ?? 6;

/** Whole hours after an hour with thunder that stay closed: half an hour of waiting closes the next hour. */
export function thunderWaitHours(policy: WeatherPolicy): number {
  return Math.ceil(policy.thunderWaitH);
}

/** One figure that differs between two policies. `isLooser` needs a named administrator and a reason. */
export interface PolicyChange {
  workClass: WorkClass | "all";
  field: string;
  before: unknown;
  after: unknown;
  isLooser: boolean;
}

const MAXIMA = [
  "windMaxMs",
  "gustMaxMs",
  "rainMaxMmH",
  "rainMaxBelowMmH",
  "tempMaxC",
  "heatIndexMaxC",
  "rainAboveGhz",
] as const;
const MINIMA = ["tempMinC", "windChillMinC", "dryHoursBefore"] as const;
const FLAGS = ["needsDaylight", "stopsForThunder", "stopsForIcing"] as const;

/**
 * What changed between two policies, and whether it lets more hours through. Changes whose direction depends
 * on the site (profile, exponent, density, lapse rate, radius, drag) count as looser: someone must look.
 */
export function policyChanges(before: WeatherPolicy, after: WeatherPolicy): PolicyChange[] {
  const changes: PolicyChange[] = [];
  const note = (workClass: WorkClass | "all", field: string, b: unknown, a: unknown, isLooser: boolean) => {
    if (b !== a) changes.push({ workClass, field, before: b, after: a, isLooser });
  };
  for (const c of WORK_CLASSES) {
    const b = before.limits[c];
    const a = after.limits[c];
    for (const f of MAXIMA) {
      // a threshold frequency of undefined means that the rain limit always holds
      const none = f === "rainAboveGhz" ? 0 : Number.POSITIVE_INFINITY;
      note(c, f, b[f], a[f], (a[f] ?? none) > (b[f] ?? none));
    }
    for (const f of MINIMA) {
      const none = Number.NEGATIVE_INFINITY;
      note(c, f, b[f], a[f], (a[f] ?? none) < (b[f] ?? none));
    }
    for (const f of FLAGS) note(c, f, b[f], a[f], b[f] && !a[f]);
  }
  const waits = [
    ["thunderWaitH", before.thunderWaitH, after.thunderWaitH],
    ["icingMemoryH", icingMemoryHours(before), icingMemoryHours(after)],
    ["daylightMarginMin", daylightRule(before).marginMin, daylightRule(after).marginMin],
  ] as const;
  for (const [field, b, a] of waits) note("all", field, b, a, a < b);
  note(
    "all",
    "tagLineForceN",
    before.tagLineForceN,
    after.tagLineForceN,
    after.tagLineForceN > before.tagLineForceN,
  );
  const light = (p: WeatherPolicy) => p.daylight ?? "civil";
  note("all", "daylight", light(before), light(after), light(after) === "civil");
  const either = [
    "dragCoefficient",
    "airDensityKgM3",
    "windProfile",
    "powerExponent",
    "lapseRateKPerKm",
    "placeRadiusKm",
  ] as const;
  for (const f of either) note("all", f, before[f], after[f], true);
  return changes;
}
