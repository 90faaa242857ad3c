/** Does a series look as if its units were others than stated? Each question names what it saw. */
import { figure, phrase } from "@/lib/phrase";
import { type Problem, sentences } from "@/lib/result";
import type { WeatherSeries } from "./types";

const HOUR = 3_600_000;

/** Fewer known hours than this say nothing about a unit. */
const LEAST_HOURS = 48;

/**
 * Highest credible mean of hourly wind over two days or more, m/s. The windiest inhabited coasts average 9 to
 * 11 over a year (M); a mean of 4 m/s written in km/h gives 14.
 */
const MEAN_WIND_MAX_MS = 13;
const MEAN_WIND_MIN_MS = 0.2;
/** Gust over mean wind: 1.3 to 2.2 in open country to town (M). Twice that is another unit. */
const GUST_RATIO_MAX = 3;
/** Mean air temperature of the hottest inhabited places is about 35 degC (M). */
const MEAN_TEMP_MAX_C = 40;
const MEAN_TEMP_MIN_C = -50;
/** The wettest places on earth get 12 m a year, 1.4 mm/h (M). */
const MEAN_RAIN_MAX_MM_H = 3;

/** Questions as problems with a rule that a person can confirm. Empty when all looks well. */
export function plausibilityProblems(series: WeatherSeries): Problem[] {
  const problems: Problem[] = [];
  const ask = (path: string, rule: string, value: number, message: string) =>
    problems.push({
      path,
      rule,
      value,
      message,
      remedy: "State the unit that the source uses, or confirm that the values are right.",
    });

  const wind = statistics(series.windMs);
  if (wind.count >= LEAST_HOURS && wind.mean > MEAN_WIND_MAX_MS) {
    ask(
      "wind",
      "wind-unit",
      wind.mean,
      `The wind averages ${fixed(wind.mean)} m/s: is it km/h, knots or mph?`,
    );
  }
  if (wind.count >= LEAST_HOURS && wind.mean < MEAN_WIND_MIN_MS) {
    ask("wind", "wind-unit", wind.mean, `The wind averages ${fixed(wind.mean)} m/s: is the sensor blocked?`);
  }
  const ratio = medianGustRatio(series);
  if (ratio > GUST_RATIO_MAX) {
    ask(
      "gust",
      "gust-unit",
      ratio,
      `Gusts are ${fixed(ratio)} times the mean wind in most hours: are the two in different units?`,
    );
  }
  if (ratio < 1) {
    ask(
      "gust",
      "gust-unit",
      ratio,
      "Gusts are under the mean wind in most hours: are the columns exchanged?",
    );
  }
  const under = hoursUnderTheMean(series);
  if (under.count > 0 && !(ratio < 1)) {
    problems.push({
      path: "gust",
      rule: "gust-under-wind",
      value: under.count,
      ...sentences(
        phrase("A gust is under its mean wind, first at {{hour}}; hours of this kind: {{hours}}.", {
          hour: under.first,
          hours: figure(under.count),
        }),
        phrase("Correct these hours, or confirm that they are right: the mean wind then counts as the gust."),
      ),
    });
  }
  const temp = statistics(series.tempC);
  if (temp.count >= LEAST_HOURS && temp.mean > MEAN_TEMP_MAX_C) {
    ask("temp", "temp-unit", temp.mean, `The temperature averages ${fixed(temp.mean)} degC: is it degF?`);
  }
  if (temp.count >= LEAST_HOURS && temp.mean < MEAN_TEMP_MIN_C) {
    ask(
      "temp",
      "temp-unit",
      temp.mean,
      `The temperature averages ${fixed(temp.mean)} degC: which unit is it?`,
    );
  }
  const humidity = statistics(series.humidityPct);
  if (humidity.count >= LEAST_HOURS && humidity.max <= 1.05) {
    ask(
      "humidity",
      "humidity-unit",
      humidity.max,
      `Humidity is never over ${fixed(humidity.max)} %: is it a share of 1?`,
    );
  }
  const rain = statistics(series.rainMmH);
  if (rain.count >= LEAST_HOURS && rain.mean > MEAN_RAIN_MAX_MM_H) {
    ask(
      "rain",
      "rain-unit",
      rain.mean,
      `Rain averages ${fixed(rain.mean)} mm/h: is it a daily sum, or tenths of a millimetre?`,
    );
  }
  return problems;
}

const fixed = (x: number) => x.toFixed(1);

function statistics(values: Float32Array): { count: number; mean: number; max: number } {
  let count = 0;
  let sum = 0;
  let max = Number.NEGATIVE_INFINITY;
  for (const v of values) {
    if (Number.isNaN(v)) continue;
    count++;
    sum += v;
    if (v > max) max = v;
  }
  return { count, mean: count ? sum / count : Number.NaN, max };
}

/** A gust is the strongest of its hour: under the mean by more than rounding, one of the two is wrong. */
const GUST_ROUNDING_MS = 0.1;

function hoursUnderTheMean(series: WeatherSeries): { count: number; first: string } {
  let count = 0;
  let first = "";
  for (let h = 0; h < series.hours; h++) {
    if (!(series.gustMs[h]! < series.windMs[h]! - GUST_ROUNDING_MS)) continue;
    count++;
    first ||= `${new Date(series.startsAtMillis + h * HOUR).toISOString().slice(0, 16)}Z`;
  }
  return { count, first };
}

/** Median gust over mean wind in hours with at least 3 m/s; NaN when there are too few. */
function medianGustRatio(series: WeatherSeries): number {
  const ratios: number[] = [];
  for (let h = 0; h < series.hours; h++) {
    const wind = series.windMs[h]!;
    const gust = series.gustMs[h]!;
    if (wind >= 3 && !Number.isNaN(gust)) ratios.push(gust / wind);
  }
  if (ratios.length < LEAST_HOURS) return Number.NaN;
  ratios.sort((a, b) => a - b);
  return ratios[ratios.length >> 1]!;
}
