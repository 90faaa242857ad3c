/** The limits of all classes at one site, turned into sorted thresholds so that a fine hour costs few comparisons. */
import { chillReachC, heatReachC } from "./comfort";
import { icingMemoryHours, limitsAtSite, thunderWaitHours } from "./limits";
import type { ClassLimits, SiteProfile, WeatherPolicy, WorkClass } from "./types";
import { WORK_CLASSES } from "./types";
import { gustHeightFactors, windHeightFactor } from "./wind";

/** Sorted "at most" limits: a value above `limit[k]` closes the classes in `bits[k]`. Ends with an infinite limit. */
export interface Ladder {
  limit: Float64Array;
  bits: Uint8Array;
  /** All classes that ask. */
  asked: number;
}

/** Ground work happens in the wind near the ground, read at 10 m: careful for people at the foot. */
export const isAtMount = (c: WorkClass) => c !== "ground" && c !== "indoor";

export interface Thresholds {
  /** Factors from 10 m to mount height. */
  windFactor: number;
  gustOnGust: number;
  gustOnMean: number;
  /** The same at 10 m, where only a missing gust is derived. */
  groundGustOnMean: number;
  lapseK: number;
  windMount: Ladder;
  windGround: Ladder;
  gustMount: Ladder;
  gustGround: Ladder;
  rain: Ladder;
  tempMax: Ladder;
  /** Minima are ladders of negated values. */
  tempMin: Ladder;
  dry: Ladder;
  chillMount: Ladder;
  chillGround: Ladder;
  heat: Ladder;
  chillReachC: number;
  heatReachC: number;
  /** Classes that ask anything at all of the weather or the sun. */
  asked: number;
  daylight: number;
  thunder: number;
  thunderWaitH: number;
  icing: number;
  icingMemoryH: number;
}

export function thresholdsFor(site: SiteProfile, policy: WeatherPolicy): Thresholds {
  const limits = WORK_CLASSES.map((c) => limitsAtSite(c, site, policy));
  const atMount = (c: WorkClass) => isAtMount(c);
  const atGround = (c: WorkClass) => !isAtMount(c);
  const all = () => true;
  const ladder = (
    value: (l: ClassLimits) => number | undefined,
    where: (c: WorkClass) => boolean,
    sign = 1,
  ) => ladderOf(limits.map((l, i) => (where(WORK_CLASSES[i]!) ? signed(value(l), sign) : undefined)));
  const flag = (asks: (l: ClassLimits) => boolean) =>
    limits.reduce((bits, l, c) => (asks(l) ? bits | (1 << c) : bits), 0);

  const gust = gustHeightFactors(site.heightM, site.terrain, policy);
  const chillMount = ladder((l) => l.windChillMinC, atMount, -1);
  const chillGround = ladder((l) => l.windChillMinC, atGround, -1);
  const heat = ladder((l) => l.heatIndexMaxC, all);
  const warmestChill = Math.max(-chillMount.limit[0]!, -chillGround.limit[0]!);
  return {
    windFactor: windHeightFactor(site.heightM, site.terrain, policy),
    gustOnGust: gust.onGust,
    gustOnMean: gust.onMean,
    groundGustOnMean: gustHeightFactors(10, site.terrain, policy).onMean,
    lapseK: (policy.lapseRateKPerKm * (site.elevationM - site.placeElevationM)) / 1000,
    windMount: ladder((l) => l.windMaxMs, atMount),
    windGround: ladder((l) => l.windMaxMs, atGround),
    gustMount: ladder((l) => l.gustMaxMs, atMount),
    gustGround: ladder((l) => l.gustMaxMs, atGround),
    rain: ladder((l) => l.rainMaxMmH, all),
    tempMax: ladder((l) => l.tempMaxC, all),
    tempMin: ladder((l) => l.tempMinC, all, -1),
    dry: ladder((l) => l.dryHoursBefore, all, -1),
    chillMount,
    chillGround,
    heat,
    chillReachC: Number.isFinite(warmestChill) ? chillReachC(warmestChill) : Number.NEGATIVE_INFINITY,
    heatReachC: heat.asked ? heatReachC(heat.limit[0]!) : Number.POSITIVE_INFINITY,
    asked: flag(asksAnything),
    daylight: flag((l) => l.needsDaylight),
    thunder: flag((l) => l.stopsForThunder),
    thunderWaitH: thunderWaitHours(policy),
    icing: flag((l) => l.stopsForIcing),
    icingMemoryH: icingMemoryHours(policy),
  };
}

const asksAnything = ({ source: _, ...limits }: ClassLimits) =>
  Object.values(limits).some((limit) => limit !== undefined && limit !== false);

/**
 * A limit in the precision of the series: 0.2 mm/h stored as a 32-bit float is a little over 0.2, and a value at
 * its limit is allowed.
 */
export const asStored = Math.fround;

const signed = (value: number | undefined, sign: number) => (value === undefined ? undefined : sign * value);

function ladderOf(limitByClass: readonly (number | undefined)[]): Ladder {
  const rungs = limitByClass
    .flatMap((limit, c) => (limit === undefined ? [] : [{ limit: asStored(limit), bits: 1 << c }]))
    .sort((a, b) => a.limit - b.limit || a.bits - b.bits);
  return {
    limit: Float64Array.from([...rungs.map((r) => r.limit), Number.POSITIVE_INFINITY]),
    bits: Uint8Array.from([...rungs.map((r) => r.bits), 0]),
    asked: rungs.reduce((bits, r) => bits | r.bits, 0),
  };
}

/** Classes closed by a value. NaN closes none: the caller has dealt with gaps. */
export function closedBy(ladder: Ladder, value: number): number {
  let bits = 0;
  for (let k = 0; value > ladder.limit[k]!; k++) bits |= ladder.bits[k]!;
  return bits;
}
