/** Weather blocks -> the series that are stored, and what that changes. */
import { ok, type Result, refused } from "@/lib/result";
import { buildSeries, joinSeries, type SeriesSource, type WeatherSeries } from "@/lib/weather";
import { HOUR_MILLIS, WEATHER_FIELDS } from "./hourReader";
import type { WeatherBlock } from "./weather";

/** Longest span of one forecast issue, hours: beyond 60 days it is no forecast but a wrong date. */
const FORECAST_MAX_HOURS = 60 * 24;

/** What the file does not say about a series. Units, hours and stamps were settled on reading. */
export type SeriesInfo = Pick<
  SeriesSource,
  "kind" | "source" | "isMadeUp" | "issuedAtMillis" | "withoutThunder" | "nowMillis" | "confirmed"
>;

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
 * series from its first to its last hour, with what stands of the same issue under it. Missing values are NaN.
 *
 * Refused by the rules of lib/weather: history that has not passed, spans over 20 years, and values that look like
 * another unit until a person confirms them (`info.confirmed`).
 *
 * @param standing series of this place and kind that stand now; of a forecast or a member those of the same issue
 */
export function seriesToStore(
  block: WeatherBlock,
  info: SeriesInfo,
  standing: readonly WeatherSeries[] = [],
): Result<WeatherSeries[]> {
  const built = buildSeries(hoursOf(block), {
    ...info,
    placeId: block.placeCode,
    windUnit: "m/s",
    rainUnit: "mm/h",
    tempUnit: "degC",
  });
  if (!built.ok) return built;
  if (info.kind === "history") return ok(yearsOf(built.value, standing));
  const series = joinSeries([...standing, built.value]);
  const { memberNo } = block;
  if (series.hours <= FORECAST_MAX_HOURS)
    return ok([memberNo === undefined ? series : { ...series, memberNo }]);
  return refused({
    path: "Hour starts (UTC)",
    rule: "forecast-too-long",
    value: series.hours,
    message: `The forecast of ${block.placeCode} spans ${series.hours} hours, at most ${FORECAST_MAX_HOURS} are expected.`,
    remedy: "Check the dates, or bring it in as history.",
  });
}

function hoursOf(block: WeatherBlock) {
  return Array.from(block.timeMillis, (time, i) => ({
    time,
    wind: block.windMs[i]!,
    gust: block.gustMs[i]!,
    rain: block.rainMmH[i]!,
    temp: block.tempC[i]!,
    humidity: block.humidityPct[i]!,
    thunder: Number.isNaN(block.thunder[i]!) ? null : block.thunder[i]!,
  }));
}

/** Whole calendar years: what stands, with the new values over it. Years without a new hour are left out. */
function yearsOf(series: WeatherSeries, standing: readonly WeatherSeries[]): WeatherSeries[] {
  const first = new Date(series.startsAtMillis).getUTCFullYear();
  const last = new Date(series.startsAtMillis + (series.hours - 1) * HOUR_MILLIS).getUTCFullYear();
  const years: WeatherSeries[] = [];
  for (let y = first; y <= last; y++) {
    const startsAtMillis = Date.UTC(y, 0, 1);
    const hours = (Date.UTC(y + 1, 0, 1) - startsAtMillis) / HOUR_MILLIS;
    const year = emptyYear(series, startsAtMillis, hours);
    if (!lay(series, year)) continue;
    const merged = emptyYear(series, startsAtMillis, hours);
    for (const old of standing) lay(old, merged);
    lay(series, merged);
    years.push(merged);
  }
  return years;
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
    ...(series.memberNo === undefined ? {} : { memberNo: series.memberNo }),
    timeMillis: Float64Array.from(kept, (h) => series.startsAtMillis + h * HOUR_MILLIS),
    windMs: pick(series.windMs),
    gustMs: pick(series.gustMs),
    rainMmH: pick(series.rainMmH),
    tempC: pick(series.tempC),
    humidityPct: pick(series.humidityPct),
    thunder: pick(series.thunder),
  };
}

function emptyYear(like: WeatherSeries, startsAtMillis: number, hours: number): WeatherSeries {
  const unknown = () => new Float32Array(hours).fill(Number.NaN);
  return {
    ...like,
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

/** Puts the known values of `from` over those of `onto`; false when none falls into it. */
function lay(from: WeatherSeries, onto: WeatherSeries): boolean {
  const shift = (from.startsAtMillis - onto.startsAtMillis) / HOUR_MILLIS;
  const start = Math.max(0, -shift);
  const end = Math.min(from.hours, onto.hours - shift);
  let found = false;
  for (const field of WEATHER_FIELDS) {
    for (let h = start; h < end; h++) {
      const value = from[field][h]!;
      if (Number.isNaN(value)) continue;
      onto[field][h + shift] = value;
      found = true;
    }
  }
  return found;
}
