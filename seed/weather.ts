/**
 * Made-up weather of a windy ocean island, for demonstration and tests: never a record of any real place.
 *
 * One regional storm process with a Weibull marginal drives the wind of all places, with gradients across the
 * region and a small process of each place's own; fronts are wet spells of a Markov chain that cross the
 * region from west to east; showers, thunder, temperature and humidity follow the season and the hour.
 */
import type { Random } from "@/lib/random";
import type { WeatherPlace, WeatherSeries } from "@/lib/weather";

const HOUR = 3_600_000;
const DAY_H = 24;

/** Said in the reader's language, unlike the source that a person types beside a file. */
export const DEMO_WEATHER_SOURCE = "made up for demonstration";

export interface WeatherOptions {
  firstHistoryYear: number;
  years: number;
  forecastDays: number;
  /** Issue time of the forecast. History stops before it. */
  nowMillis: number;
  /** Degrees taken off every temperature. Default 0. */
  coldness?: number;
  /** Mean wind over the year at 10 m in open country, m/s. Default 6. */
  meanWindMs?: number;
}

/** History (one block a place and calendar year, UTC) and one forecast block for each place. */
export function makeWeather(
  random: Random,
  places: readonly WeatherPlace[],
  options: WeatherOptions,
): WeatherSeries[] {
  const startsAt = Date.UTC(options.firstHistoryYear, 0, 1);
  const now = Math.floor(options.nowMillis / HOUR) * HOUR;
  const historyEnd = Math.min(Date.UTC(options.firstHistoryYear + options.years, 0, 1), now);
  const endsAt = now + options.forecastDays * DAY_H * HOUR;
  if (endsAt <= startsAt) throw new RangeError("the forecast ends before the history begins");
  const hours = (endsAt - startsAt) / HOUR;
  const centre = centreOf(places);
  const region = makeRegion(random.fork("region"), startsAt, hours, centre.latDeg);
  const out: WeatherSeries[] = [];
  for (const place of places) {
    const all = placeWeather(random.fork(`place ${place.id}`), region, place, centre, options);
    for (let y = 0; y < options.years; y++) {
      const from = Date.UTC(options.firstHistoryYear + y, 0, 1);
      const to = Math.min(Date.UTC(options.firstHistoryYear + y + 1, 0, 1), historyEnd);
      if (to > from) out.push(cut(all, place.id, "history", 0, from, to));
    }
    if (options.forecastDays > 0) out.push(cut(all, place.id, "forecast", now, now, endsAt));
  }
  return out;
}

/**
 * Made-up members around a forecast: each strays from it by persistent noise that grows with the lead time, and its
 * rain comes some hours early or late.
 */
export function makeMembers(random: Random, forecast: WeatherSeries, count: number): WeatherSeries[] {
  const { hours } = forecast;
  return Array.from({ length: count }, (_, i) => {
    const dice = random.fork(`member ${i + 1}`);
    const wind = persistent(dice.fork("wind"), hours, 12);
    const warm = persistent(dice.fork("warm"), hours, 24);
    const late = dice.fork("late").normal();
    const grown = (h: number) => Math.min(1, h / (7 * DAY_H));
    const values = (of: (h: number) => number) => Float32Array.from({ length: hours }, (_v, h) => of(h));
    const gain = values((h) => Math.exp(0.4 * grown(h) * wind[h]!));
    const shifted = (h: number) => Math.max(0, Math.min(hours - 1, h - Math.round(10 * grown(h) * late)));
    return {
      ...forecast,
      kind: "member" as const,
      memberNo: i + 1,
      windMs: values((h) => round(forecast.windMs[h]! * gain[h]!, 10)),
      gustMs: values((h) => round(forecast.gustMs[h]! * gain[h]!, 10)),
      rainMmH: values((h) => forecast.rainMmH[shifted(h)]!),
      tempC: values((h) => round(forecast.tempC[h]! + 2 * grown(h) * warm[h]!, 10)),
      humidityPct: values((h) => forecast.humidityPct[shifted(h)]!),
      thunder: values((h) => forecast.thunder[shifted(h)]!),
    };
  });
}

interface Region {
  startsAtMillis: number;
  hours: number;
  /** Standard normal, slow: storms and calms. */
  storm: Float32Array;
  /** Standard normal: differences across the region, west-east and south-north. */
  eastward: Float32Array;
  northward: Float32Array;
  /** Standard normal, days long: warm and cold spells. */
  warmth: Float32Array;
  /** 1 in hours of a front. */
  front: Uint8Array;
  /** 0 in midwinter, 1 in midsummer. */
  summer: Float32Array;
}

/** Hours before the start that the places' lags may read. */
const LEAD_H = 48;

function makeRegion(random: Random, startsAtMillis: number, hours: number, latDeg: number): Region {
  const n = hours + 2 * LEAD_H;
  const region: Region = {
    startsAtMillis,
    hours,
    storm: persistent(random.fork("storm"), n, 30),
    eastward: persistent(random.fork("eastward"), n, 18),
    northward: persistent(random.fork("northward"), n, 18),
    warmth: persistent(random.fork("warmth"), n, 60),
    front: new Uint8Array(n),
    summer: new Float32Array(n),
  };
  const spells = random.fork("fronts");
  let wet = 0;
  for (let i = 0; i < n; i++) {
    const day = (startsAtMillis / HOUR + i - LEAD_H) / DAY_H;
    const phase = Math.cos((2 * Math.PI * ((day % 365.2425) - 15)) / 365.2425); // 1 in mid January
    const summer = latDeg >= 0 ? (1 - phase) / 2 : (1 + phase) / 2;
    region.summer[i] = summer;
    // Fronts come about every 30 dry hours in winter and 60 in summer, oftener in stormy air, and last 7 or 5.
    const begins = Math.exp(0.7 * region.storm[i]! - 0.25) / (30 + 30 * summer);
    const ends = 1 / (7 - 2 * summer);
    wet = wet ? (spells.next() < ends ? 0 : 1) : spells.next() < begins ? 1 : 0;
    region.front[i] = wet;
  }
  return region;
}

/** First-order autoregressive standard normal series; `memoryH` is its e-folding time. */
function persistent(random: Random, n: number, memoryH: number): Float32Array {
  const keep = Math.exp(-1 / memoryH);
  const renew = Math.sqrt(1 - keep * keep);
  const values = new Float32Array(n);
  let v = random.normal();
  for (let i = 0; i < n; i++) {
    values[i] = v;
    v = keep * v + renew * random.normal();
  }
  return values;
}

type Columns = Pick<
  WeatherSeries,
  "startsAtMillis" | "windMs" | "gustMs" | "rainMmH" | "tempC" | "humidityPct" | "thunder"
>;

function placeWeather(
  random: Random,
  region: Region,
  place: WeatherPlace,
  centre: { latDeg: number; lonDeg: number },
  options: WeatherOptions,
): Columns {
  const { hours } = region;
  const eastKm = (place.lonDeg - centre.lonDeg) * 111.2 * Math.cos((place.latDeg * Math.PI) / 180);
  const northKm = (place.latDeg - centre.latDeg) * 111.2;
  const lagH = Math.max(-LEAD_H, Math.min(LEAD_H, Math.round(eastKm / 45))); // fronts cross at 45 km/h
  const exposure = random.fork("exposure").between(0.9, 1.12);
  const own = persistent(random.fork("own"), hours, 5);
  const flow = persistent(random.fork("rain"), hours, 3);
  const damp = persistent(random.fork("damp"), hours, 12);
  const dice = random.fork("dice");
  const columns: Columns = {
    startsAtMillis: region.startsAtMillis,
    windMs: new Float32Array(hours),
    gustMs: new Float32Array(hours),
    rainMmH: new Float32Array(hours),
    tempC: new Float32Array(hours),
    humidityPct: new Float32Array(hours),
    thunder: new Float32Array(hours),
  };
  const across = 1 / 150; // gradients count fully 150 km from the centre
  const spread = Math.hypot(0.88, 0.42, 0.35 * eastKm * across, 0.35 * northKm * across);
  const solarShiftH = place.lonDeg / 15;
  let showerH = 0;
  let thunderH = 0;
  for (let h = 0; h < hours; h++) {
    const i = h + LEAD_H - lagH;
    const summer = region.summer[h + LEAD_H]!;
    const front = region.front[Math.max(0, Math.min(region.front.length - 1, i))]!;
    const storm = region.storm[Math.max(0, Math.min(region.storm.length - 1, i))]!;
    const gradient =
      0.35 * across * (eastKm * region.eastward[h + LEAD_H]! + northKm * region.northward[h + LEAD_H]!);
    const clock = (((region.startsAtMillis / HOUR + h + solarShiftH) % 24) + 24) % 24;
    const afternoon = Math.cos((2 * Math.PI * (clock - 15)) / 24); // 1 at 15 h

    const u = dice.next();
    if (showerH > 0) showerH--;
    else if (u < 0.004 + 0.02 * summer * Math.max(0, afternoon)) showerH = 1 + dice.below(2);
    const isWet = (front === 1 && flow[h]! > -1.1) || showerH > 0;
    const rain = isWet ? Math.exp(0.85 * flow[h]! - 0.5 + 0.5 * (showerH > 0 ? 1 : 0)) : 0;

    const t = dice.next();
    if (thunderH > 0) thunderH--;
    else if (isWet && t < (rain > 1.5 ? 0.01 + 0.09 * summer : 0.002)) thunderH = 1 + dice.below(2);
    const isThunder = isWet && thunderH > 0;

    const z = (0.88 * storm + 0.42 * own[h]! + gradient) / spread + (front ? 0.35 : -0.04);
    const mean =
      (options.meanWindMs ?? 6) * exposure * (1.2 - 0.38 * summer) * (1 + (0.05 + 0.08 * summer) * afternoon);
    const wind = weibull(z, mean);
    const peak = 1.32 + 0.1 * Math.abs(dice.normal()) + (isThunder ? 0.4 : 0) + (front ? 0.05 : 0);

    const temp =
      32 -
      0.38 * Math.abs(place.latDeg) -
      (options.coldness ?? 0) -
      0.0065 * place.elevationM +
      5 * (2 * summer - 1) +
      (1.2 + 1.8 * summer) * afternoon * (isWet ? 0.4 : 1) +
      2.2 * region.warmth[h + LEAD_H]!;
    const humidity = 77 - 7 * afternoon + 6 * damp[h]! + (isWet ? 12 : 0);

    columns.windMs[h] = round(wind, 10);
    columns.gustMs[h] = round(wind * peak, 10);
    columns.rainMmH[h] = isWet ? Math.max(0.1, round(rain, 10)) : 0;
    columns.tempC[h] = round(temp, 10);
    columns.humidityPct[h] = Math.round(Math.max(35, Math.min(100, humidity)));
    columns.thunder[h] = isThunder ? 1 : 0;
  }
  return columns;
}

/** Value of a Weibull distribution of shape 2 and the given mean at the rank of a standard normal value. */
function weibull(z: number, mean: number): number {
  const above = Math.max(1e-9, 1 - normalRank(z));
  return (mean / 0.886227) * Math.sqrt(-Math.log(above)); // mean = scale x gamma(1.5)
}

/** Standard normal distribution function (Abramowitz and Stegun 26.2.17, error under 1e-7). */
function normalRank(z: number): number {
  const t = 1 / (1 + 0.2316419 * Math.abs(z));
  const tail =
    0.3989422804 *
    Math.exp((-z * z) / 2) *
    t *
    (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  return z >= 0 ? 1 - tail : tail;
}

const round = (x: number, parts: number) => Math.round(x * parts) / parts;

function cut(
  all: Columns,
  placeId: string,
  kind: "history" | "forecast",
  issuedAtMillis: number,
  from: number,
  to: number,
): WeatherSeries {
  const a = (from - all.startsAtMillis) / HOUR;
  const b = (to - all.startsAtMillis) / HOUR;
  return {
    placeId,
    kind,
    source: DEMO_WEATHER_SOURCE,
    isMadeUp: true,
    issuedAtMillis,
    startsAtMillis: from,
    hours: b - a,
    windMs: all.windMs.slice(a, b),
    gustMs: all.gustMs.slice(a, b),
    rainMmH: all.rainMmH.slice(a, b),
    tempC: all.tempC.slice(a, b),
    humidityPct: all.humidityPct.slice(a, b),
    thunder: all.thunder.slice(a, b),
  };
}

function centreOf(places: readonly WeatherPlace[]): { latDeg: number; lonDeg: number } {
  const n = Math.max(1, places.length);
  return {
    latDeg: places.reduce((sum, p) => sum + p.latDeg, 0) / n,
    lonDeg: places.reduce((sum, p) => sum + p.lonDeg, 0) / n,
  };
}
