/**
 * Counts of workable days in four years of real daily weather (vega-datasets 3.2.1, from NOAA records).
 *
 * The masks read hours; here each "hour" of the series is one day, so that a limit on the day's wind or rain can
 * be counted against the published numbers. The package's metadata states the wind as km/h; the script that
 * made the file divides NOAA's tenths of metres per second by ten, so it is read as m/s.
 */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import path from "node:path";
import { describe, expect, it } from "vitest";
import {
  buildSeries,
  type ClassLimits,
  DEFAULT_WEATHER_POLICY,
  hourMask,
  type WeatherPolicy,
  WORK_CLASSES,
  windowsOf,
} from "@/lib/weather";

const FOLDER = path.resolve(import.meta.dirname, "../../node_modules/vega-datasets/data");
const SEATTLE = readFileSync(path.join(FOLDER, "seattle-weather.csv"), "utf8");
const SOURCE = "seattle-weather.csv of vega-datasets 3.2.1, counted independently (R)";

interface Day {
  date: string;
  rainMm: number;
  minC: number;
  maxC: number;
  windMs: number;
}

function daysOf(csv: string, location?: string): Day[] {
  const [head, ...lines] = csv.trim().split(/\r?\n/);
  const columns = head!.split(",");
  const rows = lines.map((line) => Object.fromEntries(line.split(",").map((cell, i) => [columns[i]!, cell])));
  return rows
    .filter((row) => location === undefined || row.location === location)
    .map((row) => ({
      date: row.date!,
      rainMm: Number(row.precipitation),
      minC: Number(row.temp_min),
      maxC: Number(row.temp_max),
      windMs: Number(row.wind),
    }));
}

const HOUR = 3_600_000;
const SITE = {
  heightM: 10,
  terrain: "II",
  latDeg: 47.6,
  lonDeg: -122.3,
  elevationM: 0,
  placeElevationM: 0,
  zone: "UTC",
} as const;

/** The mask of the days for one set of limits; bit and index of "aloft" carry the answer. */
function dayMask(days: readonly Day[], limits: Partial<ClassLimits>) {
  const built = buildSeries(
    days.map((d, i) => ({ time: i * HOUR, wind: d.windMs, rain: d.rainMm, temp: d.minC, thunder: 0 })),
    {
      placeId: "Seattle",
      kind: "history",
      source: SOURCE,
      isMadeUp: false,
      issuedAtMillis: 0,
      windUnit: "m/s",
      rainUnit: "mm/h",
      tempUnit: "degC",
      withoutThunder: "none",
      nowMillis: Date.UTC(2026, 0, 1),
      confirmed: ["rain-unit"], // a day's sum in each "hour"
    },
  );
  if (!built.ok) throw new Error(built.problems.map((p) => p.message).join("; "));
  const policy: WeatherPolicy = {
    ...DEFAULT_WEATHER_POLICY,
    limits: {
      ...DEFAULT_WEATHER_POLICY.limits,
      aloft: {
        needsDaylight: false,
        stopsForThunder: false,
        stopsForIcing: false,
        source: "test",
        ...limits,
      },
    },
  };
  return hourMask(built.value, SITE, policy);
}

const ALOFT = WORK_CLASSES.indexOf("aloft");

function closedDays(days: readonly Day[], limits: Partial<ClassLimits>): { byMonth: number[]; all: number } {
  const mask = dayMask(days, limits);
  const byMonth = new Array<number>(12).fill(0);
  for (const [i, day] of days.entries()) {
    if (!((mask.workable[i]! >> ALOFT) & 1)) byMonth[Number(day.date.slice(5, 7)) - 1]!++;
  }
  return { byMonth, all: byMonth.reduce((a, b) => a + b, 0) };
}

const seattle = daysOf(SEATTLE);

describe("Seattle 2012 to 2015", () => {
  it("is the inspected file", () => {
    // the package states the hash as git does: over a head with the length, then the bytes
    const blob = createHash("sha1")
      .update(`blob ${Buffer.byteLength(SEATTLE)}\0`)
      .update(SEATTLE);
    expect(blob.digest("hex")).toBe("0f38b53bdc1c42c5e5d484f33b9d4d7b229e0e59");
    expect(seattle).toHaveLength(1461);
  });

  const rows = [
    {
      what: "wind > 5",
      limits: { windMaxMs: 5 },
      expected: [20, 27, 26, 13, 8, 2, 2, 3, 10, 13, 20, 30],
      all: 174,
    },
    {
      what: "wind > 6",
      limits: { windMaxMs: 6 },
      expected: [12, 15, 9, 4, 3, 1, 0, 0, 4, 5, 8, 12],
      all: 73,
    },
    {
      what: "wind >= 6 (over 5.9: the file has one decimal)",
      limits: { windMaxMs: 5.9 },
      expected: [12, 16, 9, 4, 3, 1, 1, 0, 5, 5, 11, 13],
      all: 80,
    },
    {
      what: "precipitation > 0",
      limits: { rainMaxMmH: 0 },
      expected: [66, 73, 73, 59, 34, 37, 11, 22, 35, 61, 71, 81],
      all: 623,
    },
    {
      what: "precipitation > 5",
      limits: { rainMaxMmH: 5 },
      expected: [29, 26, 33, 26, 15, 8, 3, 9, 11, 33, 31, 39],
      all: 263,
    },
  ];
  it.each(rows)("closes the days with $what", (row) => {
    expect(closedDays(seattle, row.limits), SOURCE).toEqual({ byMonth: row.expected, all: row.all });
  });

  it("leaves open the days with wind <= 5, precipitation <= 5 and temp_min >= 0", () => {
    const closed = closedDays(seattle, { windMaxMs: 5, rainMaxMmH: 5, tempMinC: 0 });
    const days = [124, 113, 124, 120, 124, 120, 124, 124, 120, 124, 120, 124];
    const open = [60, 62, 72, 87, 102, 110, 120, 114, 103, 82, 68, 59];
    expect(
      days.map((n, m) => n - closed.byMonth[m]!),
      SOURCE,
    ).toEqual(open);
    expect(seattle.length - closed.all, SOURCE).toBe(1039);
  });

  it("has its longest run of days with wind <= 5 and precipitation <= 5, 98 days, ending 2015-08-11", () => {
    const runs = windowsOf(dayMask(seattle, { windMaxMs: 5, rainMaxMmH: 5 })).aloft;
    const longest = runs.reduce((a, b) => (b.hours > a.hours ? b : a));
    expect(longest.hours, SOURCE).toBe(98);
    expect(seattle[longest.endsAtMillis / HOUR - 1]!.date, SOURCE).toBe("2015-08-11");
  });

  it("has the published sums and maxima", () => {
    const sum = (days: readonly Day[]) => days.reduce((s, d) => s + d.rainMm, 0);
    expect(sum(seattle)).toBeCloseTo(4426.0, 1);
    for (const [year, expected] of [
      ["2012", 1226.0],
      ["2013", 828.0],
      ["2014", 1232.8],
      ["2015", 1139.2],
    ] as const) {
      expect(Math.abs(sum(seattle.filter((d) => d.date.startsWith(year))) - expected)).toBeLessThan(0.05);
    }
    const meanWind = seattle.reduce((s, d) => s + d.windMs, 0) / seattle.length;
    expect(Math.abs(meanWind - 3.2411)).toBeLessThan(1e-4);
    const windiest = seattle.reduce((a, b) => (b.windMs > a.windMs ? b : a));
    expect([windiest.date, windiest.windMs]).toEqual(["2012-12-17", 9.5]);
    const wettest = seattle.reduce((a, b) => (b.rainMm > a.rainMm ? b : a));
    expect([wettest.date, wettest.rainMm]).toEqual(["2015-03-15", 55.9]);
  });
});

describe("New York 2012 to 2015", () => {
  const newYork = daysOf(readFileSync(path.join(FOLDER, "weather.csv"), "utf8"), "New York");
  it("closes 611 days with wind > 5 and 470 with precipitation > 0", () => {
    expect(newYork).toHaveLength(1461);
    expect(closedDays(newYork, { windMaxMs: 5 }).all, "weather.csv, counted independently (R)").toBe(611);
    expect(closedDays(newYork, { rainMaxMmH: 0 }).all, "weather.csv, counted independently (R)").toBe(470);
  });

  it("was windiest on the day of a hurricane, which settles the unit", () => {
    const windiest = newYork.reduce((a, b) => (b.windMs > a.windMs ? b : a));
    expect([windiest.date, windiest.windMs]).toEqual(["2012-10-29", 16.2]);
  });
});
