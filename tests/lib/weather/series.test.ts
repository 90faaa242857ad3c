import { describe, expect, it } from "vitest";
import { buildSeries, type SeriesSource, type WeatherRow } from "@/lib/weather";

const NOW = Date.UTC(2026, 2, 2);
const SOURCE: SeriesSource = {
  placeId: "P1",
  kind: "history",
  source: "a file",
  isMadeUp: false,
  issuedAtMillis: 0,
  windUnit: "m/s",
  rainUnit: "mm/h",
  tempUnit: "degC",
  withoutThunder: "unknown",
  nowMillis: NOW,
};
const START = Date.UTC(2026, 1, 1);
const rowAt = (h: number, row: Partial<WeatherRow> = {}): WeatherRow => ({
  time: new Date(START + h * 3_600_000).toISOString(),
  wind: 4,
  gust: 6,
  rain: 0,
  temp: 8,
  humidity: 80,
  thunder: 0,
  ...row,
});
const rows = (hours: number, change: (h: number) => Partial<WeatherRow> = () => ({})) =>
  Array.from({ length: hours }, (_, h) => rowAt(h, change(h)));

function rulesOf(input: readonly WeatherRow[], source: Partial<SeriesSource> = {}): string[] {
  const result = buildSeries(input, { ...SOURCE, ...source });
  return result.ok ? [] : result.problems.map((p) => p.rule);
}

function seriesFrom(input: readonly WeatherRow[], source: Partial<SeriesSource> = {}) {
  const result = buildSeries(input, { ...SOURCE, ...source });
  if (!result.ok) throw new Error(result.problems.map((p) => p.message).join("; "));
  return result.value;
}

describe("buildSeries", () => {
  it("orders rows and leaves NaN where hours or values are missing", () => {
    const series = seriesFrom([rowAt(3), rowAt(0, { gust: null }), rowAt(1, { rain: undefined })]);
    expect(series).toMatchObject({ startsAtMillis: START, hours: 4, kind: "history" });
    expect([...series.windMs]).toEqual([4, 4, Number.NaN, 4]);
    expect([...series.gustMs]).toEqual([Number.NaN, 6, Number.NaN, 6]);
    expect([...series.rainMmH]).toEqual([0, Number.NaN, Number.NaN, 0]);
  });

  it("converts stated units", () => {
    const series = seriesFrom([rowAt(0, { wind: 36, gust: 54, temp: 50, rain: 0.1 })], {
      windUnit: "km/h",
      tempUnit: "degF",
      rainUnit: "in/h",
    });
    expect(series.windMs[0]).toBeCloseTo(10, 5);
    expect(series.gustMs[0]).toBeCloseTo(15, 5);
    expect(series.tempC[0]).toBeCloseTo(10, 5);
    expect(series.rainMmH[0]).toBeCloseTo(2.54, 5);
    expect(seriesFrom([rowAt(0, { wind: 10, gust: 20 })], { windUnit: "kn" }).windMs[0]).toBeCloseTo(
      5.144,
      3,
    );
  });

  it("asks about a gust under its mean wind, not about rounding", () => {
    const rows = [rowAt(0, { wind: 5, gust: 3 }), rowAt(1, { wind: 5, gust: 4.95 }), rowAt(2)];
    expect(rulesOf(rows)).toEqual(["gust-under-wind"]);
    expect(seriesFrom(rows, { confirmed: ["gust-under-wind"] }).gustMs[0]).toBe(3);
    expect(rulesOf(rows.slice(1))).toEqual([]);
  });

  it("reads hours stamped at their end, and times in a stated offset", () => {
    const stamped = seriesFrom([rowAt(1)], { isStampedAtEnd: true });
    expect(stamped.startsAtMillis).toBe(START);
    const local = seriesFrom([rowAt(0, { time: "2026-02-01 02:00" })], { utcOffsetMin: 120 });
    expect(local.startsAtMillis).toBe(START);
  });

  it("refuses times it cannot place", () => {
    expect(rulesOf([rowAt(0), rowAt(1, { time: "2026-02-01 02:00" })])).toEqual(["time"]);
    expect(rulesOf([rowAt(0), rowAt(1, { time: "yesterday" })])).toEqual(["time"]);
    expect(rulesOf([rowAt(0), rowAt(1, { time: "2026-02-01T01:30Z" })])).toEqual(["whole-hour"]);
    expect(rulesOf([])).toEqual(["empty"]);
  });

  it("refuses an hour that stands twice", () => {
    expect(rulesOf([rowAt(0), rowAt(0, { wind: 9 })])).toEqual(["duplicate-hour"]);
  });

  it("refuses history that has not passed, and takes it as a forecast", () => {
    const future = [rowAt(0), rowAt(0, { time: NOW })];
    expect(rulesOf(future)).toEqual(["future-history"]);
    expect(rulesOf(future, { kind: "forecast" })).toEqual([]);
  });

  it("refuses values out of range, all at once", () => {
    const bad = [rowAt(0, { wind: -1, rain: -0.1 }), rowAt(1, { temp: 99, humidity: 140, thunder: -1 })];
    expect(rulesOf(bad)).toEqual([
      "wind-range",
      "rain-range",
      "temp-range",
      "humidity-range",
      "thunder-range",
    ]);
  });

  it("lists a rule that many rows break 20 times and counts the rest", () => {
    const result = buildSeries(
      rows(50, () => ({ rain: -1 })),
      SOURCE,
    );
    const problems = result.ok ? [] : result.problems;
    expect(problems).toHaveLength(21);
    expect(problems.at(-1)?.message).toBe("30 more rows have the same problem.");
  });

  it("asks where units look wrong by a factor, and takes a confirmation", () => {
    const kmH = rows(72, (h) => ({ wind: 15 + (h % 5), gust: 25 }));
    expect(rulesOf(kmH)).toEqual(["wind-unit"]);
    expect(rulesOf(kmH, { confirmed: ["wind-unit"] })).toEqual([]);
    expect(rulesOf(rows(72, () => ({ gust: 22 })))).toEqual(["gust-unit"]);
    expect(rulesOf(rows(72, () => ({ gust: 2 })))).toEqual(["gust-unit"]);
    expect(rulesOf(rows(72, () => ({ temp: 55 })))).toEqual(["temp-unit"]);
    expect(rulesOf(rows(72, () => ({ humidity: 0.8 })))).toEqual(["humidity-unit"]);
    expect(rulesOf(rows(72, () => ({ rain: 12 })))).toEqual(["rain-unit"]);
  });

  it("does not judge units by a few hours", () => {
    expect(rulesOf(rows(24, () => ({ wind: 18, gust: 25 })))).toEqual([]);
  });

  it("takes a source without thunder as unknown unless a person decides", () => {
    const without = rows(3, () => ({ thunder: null }));
    expect(Number.isNaN(seriesFrom(without).thunder[0])).toBe(true);
    const decided = seriesFrom([without[0]!, without[2]!], { withoutThunder: "none" });
    expect([...decided.thunder]).toEqual([0, Number.NaN, 0]);
    expect(decided.source).toContain("no thunder column: taken as none");
  });

  it("refuses a span that only a wrong year can explain", () => {
    expect(rulesOf([rowAt(0), rowAt(0, { time: "1926-02-01T00:00Z" })])).toEqual(["span"]);
  });
});
