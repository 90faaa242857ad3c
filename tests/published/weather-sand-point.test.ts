/**
 * Workable hours by month of a real windy coast, against a plain calculation that shares no code with lib.
 *
 * TMY3 station 703165 (NREL, US government work; columns as carried by pvlib-python). A typical year stitched from
 * months of several years: its dates are put into one year here. It has no gust and no thunder; its rain column is
 * mostly missing and holds depths up to 753 mm that no hour can have, so rain is left out. Limits on rain,
 * thunder and icing are left out of the compared policy, and gusts are derived.
 */
import { existsSync, readFileSync } from "node:fs";
import path from "node:path";
import * as SunCalc from "suncalc";
import { describe, expect, it } from "vitest";
import {
  buildSeries,
  clockOfMask,
  DEFAULT_WEATHER_POLICY,
  factorAt,
  hourMask,
  monthlyWorkability,
  type WeatherPolicy,
  type WeatherRow,
  WORK_CLASSES,
} from "@/lib/weather";

const FILE = path.resolve(
  import.meta.dirname,
  "../..",
  process.env.BENCH_DATA ?? "../shared/data",
  "weather-hourly/sand-point-tmy3.csv",
);
const LAT = 55.317;
const LON = -160.517;
const YEAR = 2001;
const HEIGHT_M = 30;
const HOUR = 3_600_000;
const ALOFT = WORK_CLASSES.indexOf("aloft");

interface Hour {
  /** Begin, UTC. */
  millis: number;
  windMs: number;
  tempC: number;
  humidityPct: number;
  rainMm: number;
}

function readHours(): Hour[] {
  const lines = readFileSync(FILE, "utf8").trim().split(/\r?\n/).slice(2);
  return lines.map((line) => {
    const [date, time, temp, humidity, , wind, rain] = line.split(",");
    const [month, day] = date!.split("/").map(Number);
    const endsAtHour = Number(time!.slice(0, 2)); // 01 to 24, the end of the hour, UTC-9
    const value = (text: string | undefined) => (Number(text) <= -9900 ? Number.NaN : Number(text));
    return {
      millis: Date.UTC(YEAR, month! - 1, day!, endsAtHour - 1 + 9),
      windMs: value(wind),
      tempC: value(temp),
      humidityPct: value(humidity),
      rainMm: value(rain),
    };
  });
}

const POLICY: WeatherPolicy = {
  ...DEFAULT_WEATHER_POLICY,
  limits: {
    ...DEFAULT_WEATHER_POLICY.limits,
    aloft: {
      ...DEFAULT_WEATHER_POLICY.limits.aloft,
      rainMaxMmH: undefined,
      stopsForThunder: false,
      stopsForIcing: false,
    },
  },
};
const SITE = {
  heightM: HEIGHT_M,
  terrain: "II",
  latDeg: LAT,
  lonDeg: LON,
  elevationM: 7,
  placeElevationM: 7,
  zone: "Etc/GMT+9",
} as const;

/** The plain calculation: wind 9.9, gust 13.0, -15 degC, wind chill -20 degC, civil daylight less 10 minutes. */
function isWorkable(hour: Hour): boolean {
  const meanMs = (hour.windMs * Math.log(HEIGHT_M / 0.05)) / Math.log(10 / 0.05);
  const gustMs = meanMs * Math.sqrt(1 + 7 / Math.log(HEIGHT_M / 0.05));
  if (meanMs > 9.9 || gustMs > 13 || hour.tempC < -15) return false;
  const k = (meanMs * 3.6) ** 0.16;
  const chill =
    meanMs * 3.6 > 4.8 && hour.tempC <= 10
      ? 13.12 + 0.6215 * hour.tempC - 11.37 * k + 0.3965 * hour.tempC * k
      : hour.tempC;
  if (chill < -20) return false;
  for (const days of [-1, 0, 1]) {
    const sun = SunCalc.getTimes(new Date(hour.millis + days * 24 * HOUR), LAT, LON);
    const dawn = sun.dawn!.getTime() + 10 * 60_000;
    const dusk = sun.dusk!.getTime() - 10 * 60_000;
    if (hour.millis >= dawn && hour.millis + HOUR <= dusk) return true;
  }
  return false;
}

const monthOf = (millis: number) => new Date(millis - 9 * HOUR).getUTCMonth();

describe("Sand Point, typical year", () => {
  if (!existsSync(FILE)) {
    it("was not run: no weather-hourly data (set BENCH_DATA)", () => {
      console.warn(`not run: ${path.basename(FILE)} is absent; set BENCH_DATA to the benchmark data`);
      expect(existsSync(FILE)).toBe(false);
    });
    return;
  }

  const hours = readHours();
  const rows: WeatherRow[] = hours.map((h) => ({
    time: h.millis,
    wind: h.windMs,
    temp: h.tempC,
    humidity: h.humidityPct,
  }));
  const source = {
    placeId: "703165",
    kind: "history",
    source: "TMY3 703165",
    isMadeUp: false,
    issuedAtMillis: 0,
    windUnit: "m/s",
    rainUnit: "mm/h",
    tempUnit: "degC",
    withoutThunder: "unknown",
    nowMillis: Date.UTC(2026, 0, 1),
  } as const;
  const built = buildSeries(rows, source);
  if (!built.ok) throw new Error(built.problems.map((p) => p.message).join("; "));
  const series = built.value;
  const mask = hourMask(series, SITE, POLICY);

  it("has 8760 hours without a gap in wind", () => {
    expect(series.hours).toBe(8760);
    expect(series.windMs.some((v) => Number.isNaN(v))).toBe(false);
  });

  it("has the workable hours aloft at 30 m that a plain calculation finds, month by month", () => {
    const ours = new Array<number>(12).fill(0);
    const plain = new Array<number>(12).fill(0);
    const differing: string[] = [];
    for (const [i, hour] of hours.entries()) {
      const isOpen = ((mask.workable[i]! >> ALOFT) & 1) === 1;
      if (isOpen) ours[monthOf(hour.millis)]!++;
      const expected = isWorkable(hour);
      if (expected) plain[monthOf(hour.millis)]!++;
      if (isOpen !== expected) differing.push(`${new Date(hour.millis).toISOString()}: ${isOpen}`);
    }
    expect(differing, "hours on which the two disagree").toEqual([]);
    expect(ours).toEqual(plain);
    expect(ours.every((n) => n > 0)).toBe(true);
  });

  it("agrees with the monthly workability table", () => {
    const table = monthlyWorkability(
      mask,
      clockOfMask(mask, SITE.zone),
      Array.from({ length: 7 }, () => ({ fromMin: 0, toMin: 1440 })),
      "TMY3",
    );
    for (let month = 0; month < 12; month++) {
      let open = 0;
      let light = 0;
      for (let h = 0; h < mask.hours; h++) {
        if (monthOf(series.startsAtMillis + h * HOUR) !== month) continue;
        const factor = factorAt(mask, ALOFT, h);
        if (factor !== "daylight") light++;
        if (factor === "none") open++;
      }
      expect(table.share[ALOFT * 12 + month]).toBeCloseTo(open / light, 12);
    }
  });

  it("has rain depths that the border refuses", () => {
    const withRain = rows.map((row, i) => ({ ...row, rain: hours[i]!.rainMm }));
    const result = buildSeries(withRain, source);
    const rules = result.ok ? [] : result.problems.map((p) => p.rule);
    expect(rules).toContain("rain-range");
  });

  it("opens nothing aloft under the default policy: rain and thunder are unknown all year, and a gap is never fine", () => {
    const strict = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
    expect(strict.workable.some((bits) => (bits >> ALOFT) & 1)).toBe(false);
    const named = new Set(Array.from({ length: strict.hours }, (_, h) => factorAt(strict, ALOFT, h)));
    expect([...named].sort()).toEqual(["daylight", "no data"]);
  });
});
