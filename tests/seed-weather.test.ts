/** The made-up weather: repeatable, plausible, with good and bad days. */
import { describe, expect, it } from "vitest";
import { Random } from "@/lib/random";
import {
  clockOfMask,
  DEFAULT_WEATHER_POLICY,
  hourMask,
  joinSeries,
  monthlyWorkability,
  type WeatherPlace,
  type WeatherSeries,
  WORK_CLASSES,
} from "@/lib/weather";
import { makeWeather, type WeatherOptions } from "@/seed/weather";
import { plausibilityProblems } from "../lib/weather/plausibility";

const PLACES: WeatherPlace[] = Array.from({ length: 6 }, (_, i) => ({
  id: `W${i + 1}`,
  name: `Place ${i + 1}`,
  latDeg: 46.4 + 0.1 * i,
  lonDeg: -27.7 + 0.12 * i,
  elevationM: 40 + 30 * i,
}));
const OPTIONS: WeatherOptions = {
  firstHistoryYear: 2021,
  years: 5,
  forecastDays: 10,
  nowMillis: Date.UTC(2026, 2, 2, 5, 40),
};
const HOUR = 3_600_000;
const made = makeWeather(new Random("test"), PLACES, OPTIONS);
const historyOf = (id: string) => joinSeries(made.filter((s) => s.placeId === id && s.kind === "history"));

const mean = (values: Float32Array) => values.reduce((a, b) => a + b, 0) / values.length;

function correlation(a: Float32Array, b: Float32Array): number {
  const ma = mean(a);
  const mb = mean(b);
  let ab = 0;
  let aa = 0;
  let bb = 0;
  for (let i = 0; i < a.length; i++) {
    ab += (a[i]! - ma) * (b[i]! - mb);
    aa += (a[i]! - ma) ** 2;
    bb += (b[i]! - mb) ** 2;
  }
  return ab / Math.sqrt(aa * bb);
}

describe("makeWeather", () => {
  it("gives one block a place and year, and a forecast from this hour on, all marked as made up", () => {
    expect(made).toHaveLength(6 * 6);
    const forecast = made.filter((s) => s.placeId === "W1" && s.kind === "forecast");
    expect(forecast).toHaveLength(1);
    expect(forecast[0]).toMatchObject({
      startsAtMillis: Date.UTC(2026, 2, 2, 5),
      issuedAtMillis: Date.UTC(2026, 2, 2, 5),
      hours: 240,
    });
    expect(made.every((s) => s.isMadeUp && s.source.includes("made up"))).toBe(true);
  });

  it("stops history at the forecast's issue and lets the two meet", () => {
    const now = Date.UTC(2025, 5, 1, 0, 30);
    const cut = makeWeather(new Random("test"), PLACES.slice(0, 1), { ...OPTIONS, nowMillis: now });
    const last = cut.filter((s) => s.kind === "history").at(-1)!;
    expect(last.startsAtMillis + last.hours * HOUR).toBe(Date.UTC(2025, 5, 1));
    expect(cut.at(-1)!.startsAtMillis).toBe(Date.UTC(2025, 5, 1));
  });

  it("repeats itself for the same seed and not for another", () => {
    const options = { ...OPTIONS, years: 1, forecastDays: 1, nowMillis: Date.UTC(2022, 0, 1) };
    const one = (seed: string) => makeWeather(new Random(seed), PLACES.slice(0, 2), options);
    expect(one("a")).toEqual(one("a"));
    expect(one("a")[0]!.windMs).not.toEqual(one("b")[0]!.windMs);
  });

  it("has no gaps, no gust under the mean and nothing out of range", () => {
    for (const series of made) {
      expect(plausibilityProblems(series)).toEqual([]);
      const isOdd = (h: number) =>
        !(series.windMs[h]! >= 0 && series.gustMs[h]! >= series.windMs[h]!) ||
        !(series.rainMmH[h]! >= 0 && series.humidityPct[h]! >= 35 && series.humidityPct[h]! <= 100) ||
        !(series.thunder[h] === 0 || series.rainMmH[h]! > 0) ||
        !(series.tempC[h]! > -20 && series.tempC[h]! < 40);
      const odd = Array.from({ length: series.hours }, (_, h) => h).filter(isOdd);
      expect(odd, `odd hours at ${series.placeId}`).toEqual([]);
    }
  });

  it("blows about 6 m/s over the years, stormier in winter, with spells that last", () => {
    const all = PLACES.map((p) => mean(historyOf(p.id).windMs));
    const average = all.reduce((a, b) => a + b, 0) / all.length;
    expect(average).toBeGreaterThan(5.2);
    expect(average).toBeLessThan(7);
    const series = historyOf("W1");
    const inMonths = (months: readonly number[]) =>
      mean(
        series.windMs.filter((_, h) =>
          months.includes(new Date(series.startsAtMillis + h * HOUR).getUTCMonth()),
        ),
      );
    expect(inMonths([11, 0, 1])).toBeGreaterThan(1.2 * inMonths([5, 6, 7]));
    const ahead = (hours: number) => correlation(series.windMs.slice(0, -hours), series.windMs.slice(hours));
    expect(ahead(1)).toBeGreaterThan(0.85);
    expect(ahead(24)).toBeLessThan(0.55);
  });

  it("is alike at neighbouring places, less so at distant ones", () => {
    const wind = (id: string) => historyOf(id).windMs;
    expect(correlation(wind("W1"), wind("W2"))).toBeGreaterThan(0.6);
    expect(correlation(wind("W1"), wind("W2"))).toBeGreaterThan(correlation(wind("W1"), wind("W6")) - 0.02);
  });

  it("is wet for 6 to 16 % of the hours, with dry and wet spells, and thunders now and then", () => {
    const series = historyOf("W1");
    const wet = [...series.rainMmH].filter((r) => r > 0).length / series.hours;
    expect(wet).toBeGreaterThan(0.06);
    expect(wet).toBeLessThan(0.16);
    let starts = 0;
    for (let h = 1; h < series.hours; h++)
      if (series.rainMmH[h]! > 0 && series.rainMmH[h - 1] === 0) starts++;
    expect((wet * series.hours) / starts).toBeGreaterThan(2);
    const thunder = series.thunder.reduce((a, b) => a + b, 0) / OPTIONS.years;
    expect(thunder).toBeGreaterThan(3);
    expect(thunder).toBeLessThan(80);
  });

  it("leaves roughly 40 to 75 % of the daylight hours for work aloft, by season and height", () => {
    const week = Array.from({ length: 7 }, () => ({ fromMin: 420, toMin: 1080 }));
    const shares: number[] = [];
    for (const heightM of [30, 50, 80]) {
      const site = {
        heightM,
        terrain: "II",
        latDeg: 46.6,
        lonDeg: -27.4,
        elevationM: 100,
        placeElevationM: 100,
        zone: "Atlantic/Azores",
      } as const;
      const mask = hourMask(historyOf("W3") as WeatherSeries, site, DEFAULT_WEATHER_POLICY);
      const table = monthlyWorkability(mask, clockOfMask(mask, site.zone), week, "made up");
      const aloft = WORK_CLASSES.indexOf("aloft") * 12;
      shares.push(...[0, 3, 6, 9].map((month) => table.share[aloft + month]!));
      expect(table.share[aloft]).toBeLessThan(table.share[aloft + 6]!);
    }
    expect(Math.min(...shares)).toBeGreaterThan(0.33);
    expect(Math.max(...shares)).toBeLessThan(0.85);
  });

  it("gets colder when asked", () => {
    const options = { ...OPTIONS, years: 1, forecastDays: 0 };
    const warm = makeWeather(new Random("test"), PLACES.slice(0, 1), options)[0]!;
    const cold = makeWeather(new Random("test"), PLACES.slice(0, 1), { ...options, coldness: 8 })[0]!;
    expect(mean(warm.tempC) - mean(cold.tempC)).toBeCloseTo(8, 1);
  });
});
