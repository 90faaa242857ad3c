import { describe, expect, test } from "vitest";
import { DEFAULT_DERATING } from "@/lib/hours";
import { daysFrom, deratedStretch, restDays, visitWindows, type WeatherAtPlace } from "@/lib/programme";
import { calendarDate } from "@/lib/time";
import { DEFAULT_WEATHER_POLICY, encodeSeries, type ShiftWeek } from "@/lib/weather";
import { makeSite } from "../../helpers/hop";
import { SITE, seriesOf } from "../weather/weather-fixtures";

const MONDAY = calendarDate("2025-06-02");
const SHIFT: ShiftWeek = [...Array.from({ length: 5 }, () => ({ fromMin: 480, toMin: 960 })), null, null];

/** Tuesday is hot in the afternoon, Wednesday bitterly cold; the other days are mild. */
const forecast = seriesOf(7 * 24, (h) => {
  const [day, hour] = [Math.floor(h / 24), h % 24];
  if (day === 1 && hour >= 12) return { temp: 33, humidity: 50 };
  if (day === 2) return { temp: -6, wind: 8, gust: 9 };
  return {};
});

const days = restDays(forecast, SITE, DEFAULT_WEATHER_POLICY, SHIFT, daysFrom(MONDAY, 7), DEFAULT_DERATING);

describe("rest on the days of a forecast", () => {
  test("is the mean over the shift, with its cause and the figures behind it", () => {
    expect(days[0]).toMatchObject({ restMinPerH: 0, cause: undefined });
    // 33 degC at 50 %: heat index near 36 degC, 15 min in each of the shift's last four hours of eight.
    expect(days[1]).toMatchObject({ restMinPerH: 7.5, cause: "heat" });
    expect(days[1]!.hottestC).toBeGreaterThan(35);
    expect(days[2]).toMatchObject({ restMinPerH: 5, cause: "cold" });
    expect(days[2]!.coldestC).toBeLessThan(-10);
  });

  test("days off have none", () => {
    expect(days.slice(5)).toEqual([undefined, undefined]);
  });

  test("indoor work takes its time in any weather", () => {
    const half = [
      { workClass: "indoor" as const, durationMin: 60 },
      { workClass: "aloft" as const, durationMin: 60 },
    ];
    expect(deratedStretch(15, half)).toBeCloseTo(1 + (4 / 3 - 1) / 2, 12);
    expect(deratedStretch(15, [half[0]!])).toBe(1);
  });
});

test("the plan's windows stretch the forecast's days by it, and leave them alone without the table", () => {
  const site = makeSite({
    id: "S",
    code: "S",
    zone: "UTC",
    position: { latDeg: 50, lonDeg: 0 },
    elevationM: 0,
  });
  const wanted = [
    {
      visitId: "v",
      ends: [{ site, heightM: 10, diameterM: 0.6, bandGhz: 18 }],
      segments: [{ workClass: "aloft" as const, durationMin: 300, splittable: true }],
    },
  ];
  const places: WeatherAtPlace[] = [
    { code: "W", latDeg: 50, lonDeg: 0, elevationM: 0, forecast, history: [], historyStamp: "" },
  ];
  const made = (derating?: typeof DEFAULT_DERATING, at = places) =>
    visitWindows(wanted, at, DEFAULT_WEATHER_POLICY, SHIFT, MONDAY, 7, new Map(), undefined, derating)
      .windows[0]!.stretch;
  const stretch = made(DEFAULT_DERATING);
  expect([...stretch.slice(0, 3)]).toEqual([1, expect.closeTo(60 / 52.5, 5), expect.closeTo(60 / 55, 5)]);
  expect([...made().slice(0, 3)]).toEqual([1, 1, 1]);
  // A nearer place that nobody has brought hours for takes nothing away.
  const empty = { ...places[0]!, code: "V", forecast: undefined };
  const farther = { ...places[0]!, latDeg: 50.01 };
  expect(made(DEFAULT_DERATING, [empty, farther])).toEqual(stretch);
});

describe("rest beyond the forecast", () => {
  // Two years, mild but for July afternoons of 33 degC; nights count for nothing, they lie outside the shift.
  const from = Date.UTC(2023, 0, 1);
  const hours = (Date.UTC(2025, 0, 1) - from) / 3_600_000;
  const july = (h: number) => new Date(from + h * 3_600_000).getUTCMonth() === 6;
  const past = seriesOf(hours, (h) => (july(h) && h % 24 >= 12 ? { temp: 33, humidity: 50 } : {}), from);
  const place = {
    code: "W",
    latDeg: 50,
    lonDeg: 0,
    elevationM: 0,
    history: [encodeSeries(past)],
    historyStamp: "two years",
  };
  const site = makeSite({
    id: "S",
    code: "S",
    zone: "UTC",
    position: { latDeg: 50, lonDeg: 0 },
    elevationM: 0,
  });
  const stretchFrom = (first: string, derating?: typeof DEFAULT_DERATING) => {
    const visit = {
      visitId: "v",
      ends: [{ site, heightM: 10, diameterM: 0.6, bandGhz: 18 }],
      segments: [{ workClass: "aloft" as const, durationMin: 300, splittable: true }],
    };
    const day = calendarDate(first);
    return visitWindows(
      [visit],
      [place],
      DEFAULT_WEATHER_POLICY,
      SHIFT,
      day,
      1,
      new Map(),
      undefined,
      derating,
    ).windows[0]!.stretch[0]!;
  };

  test("is what past years had on the date, and none where they were mild", () => {
    // As on the forecast's hot day: 15 minutes in each of the last four of eight hours.
    expect(stretchFrom("2026-07-14", DEFAULT_DERATING) / stretchFrom("2026-07-14")).toBeCloseTo(60 / 52.5, 5);
    expect(stretchFrom("2026-03-17", DEFAULT_DERATING)).toBe(stretchFrom("2026-03-17"));
  });

  test("fades in over the days around the change, as past years are read around a date", () => {
    const factor = stretchFrom("2026-06-29", DEFAULT_DERATING) / stretchFrom("2026-06-29");
    expect(factor).toBeGreaterThan(1);
    expect(factor).toBeLessThan(60 / 52.5);
  });
});
