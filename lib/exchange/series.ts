/** Weather blocks -> the series that are stored, and what that changes. */
import type { WeatherSeries } from "@/lib/weather";
import { HOUR_MILLIS, WEATHER_FIELDS, type WeatherBlock } from "./weather";

/** Longest span of one forecast issue, hours: beyond 60 days it is no forecast but a wrong date. */
const FORECAST_MAX_HOURS = 60 * 24;

export interface SeriesInfo {
  kind: WeatherSeries["kind"];
  source: string;
  isMadeUp: boolean;
  /** 0 for history. */
  issuedAtMillis: number;
}

export interface WeatherPreview {
  placeCode: string;
  firstMillis: number;
  lastMillis: number;
  /** Hours by fate. A value that the file leaves blank keeps what stands and makes no change. */
  newHours: number;
  changedHours: number;
  sameHours: number;
  /** Hours between first and last that the file does not have. */
  missingHours: number;
}

/** What the block would change in the series that stand for the same place and kind. */
export function previewWeather(block: WeatherBlock, standing: readonly WeatherSeries[]): WeatherPreview {
  const { timeMillis } = block;
  const firstMillis = timeMillis[0]!;
  const lastMillis = timeMillis[timeMillis.length - 1]!;
  const counts = { new: 0, changed: 0, same: 0 };
  for (let i = 0; i < timeMillis.length; i++) counts[fateOfHour(block, i, standing)]++;
  return {
    placeCode: block.placeCode,
    firstMillis,
    lastMillis,
    newHours: counts.new,
    changedHours: counts.changed,
    sameHours: counts.same,
    missingHours: Math.round((lastMillis - firstMillis) / HOUR_MILLIS) + 1 - timeMillis.length,
  };
}

function fateOfHour(
  block: WeatherBlock,
  i: number,
  standing: readonly WeatherSeries[],
): "new" | "changed" | "same" {
  const at = block.timeMillis[i]!;
  const series = standing.find(
    (s) => at >= s.startsAtMillis && at < s.startsAtMillis + s.hours * HOUR_MILLIS,
  );
  if (!series) return "new";
  const h = (at - series.startsAtMillis) / HOUR_MILLIS;
  let stands = false;
  let differs = false;
  for (const field of WEATHER_FIELDS) {
    const old = series[field][h]!;
    const given = block[field][i]!;
    if (!Number.isNaN(old)) stands = true;
    if (!Number.isNaN(given) && given !== old) differs = true;
  }
  if (!stands) return differs ? "new" : "same";
  return differs ? "changed" : "same";
}

/**
 * The series to store. History becomes one series per calendar year (UTC) that starts on 1 January, so that storing a
 * month again replaces the same year; values of the block go over those that stand. A forecast or a member becomes one
 * series from its first to its last hour. Missing values are NaN.
 *
 * @param standing series of this place and kind that stand now; only history is merged with them
 * @throws RangeError when a forecast spans more than 60 days
 */
export function seriesToStore(
  block: WeatherBlock,
  info: SeriesInfo,
  standing: readonly WeatherSeries[] = [],
): WeatherSeries[] {
  const { timeMillis } = block;
  if (timeMillis.length === 0) return [];
  if (info.kind !== "history") {
    const hours = (timeMillis[timeMillis.length - 1]! - timeMillis[0]!) / HOUR_MILLIS + 1;
    if (hours > FORECAST_MAX_HOURS) {
      throw new RangeError(`a forecast spans ${hours} h, at most ${FORECAST_MAX_HOURS} h`);
    }
    const series = emptySeries(block.placeCode, info, timeMillis[0]!, hours);
    lay(block, 0, timeMillis.length, series);
    return [series];
  }
  const made: WeatherSeries[] = [];
  for (let from = 0; from < timeMillis.length; ) {
    const year = new Date(timeMillis[from]!).getUTCFullYear();
    const starts = Date.UTC(year, 0, 1);
    const ends = Date.UTC(year + 1, 0, 1);
    let to = from;
    while (to < timeMillis.length && timeMillis[to]! < ends) to++;
    const series = emptySeries(block.placeCode, info, starts, (ends - starts) / HOUR_MILLIS);
    for (const old of standing) layOld(old, series);
    lay(block, from, to, series);
    made.push(series);
    from = to;
  }
  return made;
}

/** The hours of a series as a block, for export; hours without any value are left out. */
export function blockOfSeries(placeCode: string, series: WeatherSeries): WeatherBlock {
  const kept: number[] = [];
  for (let h = 0; h < series.hours; h++) {
    if (WEATHER_FIELDS.some((f) => !Number.isNaN(series[f][h]!))) kept.push(h);
  }
  const pick = (field: Float32Array) => Float32Array.from(kept, (h) => field[h]!);
  return {
    placeCode,
    timeMillis: Float64Array.from(kept, (h) => series.startsAtMillis + h * HOUR_MILLIS),
    windMs: pick(series.windMs),
    gustMs: pick(series.gustMs),
    rainMmH: pick(series.rainMmH),
    tempC: pick(series.tempC),
    humidityPct: pick(series.humidityPct),
    thunder: pick(series.thunder),
  };
}

function emptySeries(
  placeId: string,
  info: SeriesInfo,
  startsAtMillis: number,
  hours: number,
): WeatherSeries {
  const unknown = () => new Float32Array(hours).fill(Number.NaN);
  return {
    placeId,
    ...info,
    startsAtMillis,
    hours,
    windMs: unknown(),
    gustMs: unknown(),
    rainMmH: unknown(),
    tempC: unknown(),
    humidityPct: unknown(),
    thunder: unknown(),
  };
}

function lay(block: WeatherBlock, from: number, to: number, series: WeatherSeries): void {
  for (const field of WEATHER_FIELDS) {
    for (let i = from; i < to; i++) {
      const value = block[field][i]!;
      if (!Number.isNaN(value))
        series[field][(block.timeMillis[i]! - series.startsAtMillis) / HOUR_MILLIS] = value;
    }
  }
}

function layOld(old: WeatherSeries, series: WeatherSeries): void {
  const shift = (old.startsAtMillis - series.startsAtMillis) / HOUR_MILLIS;
  const from = Math.max(0, -shift);
  const to = Math.min(old.hours, series.hours - shift);
  for (const field of WEATHER_FIELDS) {
    for (let h = from; h < to; h++) series[field][h + shift] = old[field][h]!;
  }
}
