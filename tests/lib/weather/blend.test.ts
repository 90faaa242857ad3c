import { describe, expect, it } from "vitest";
import { calendarDate, localOf } from "@/lib/time";
import {
  blendedFinish,
  clockOfMask,
  DEFAULT_WEATHER_POLICY,
  daylightOnlyMask,
  dayMasks,
  finishTables,
  hourMask,
  type MonthlyWorkability,
  planWindow,
  prepareHistory,
  type ShiftWeek,
  type SpellSegment,
  stretchOfYear,
  stretchOnDays,
  WORK_CLASSES,
} from "@/lib/weather";
import { type HourValues, MONDAY, SITE, seriesOf } from "./weather-fixtures";

const WEEK: ShiftWeek = [...Array.from({ length: 5 }, () => ({ fromMin: 480, toMin: 960 })), null, null];
const DAY = 86_400_000;
const aloft = (durationMin: number, splittable = true): SpellSegment => ({
  workClass: "aloft",
  durationMin,
  splittable,
});

/** Past summers from 15 May for 100 days, each with its own weather. */
function pastSummers(weather: (year: number, h: number) => HourValues) {
  const start = Date.UTC(2020, 4, 15);
  const hours = Math.round((Date.UTC(2024, 7, 23) - start) / 3_600_000);
  const series = seriesOf(hours, (h) => weather(new Date(start + h * 3_600_000).getUTCFullYear(), h), start);
  return prepareHistory(series, SITE, DEFAULT_WEATHER_POLICY, WEEK, WORK_CLASSES);
}

const calendar = (() => {
  const clear = daylightOnlyMask(SITE, DEFAULT_WEATHER_POLICY, MONDAY, 24 * 120);
  return finishTables(clear, WEEK, clockOfMask(clear, "UTC"));
})();

/** Forecast of five days from Monday 2 June 2025, tables by the same week. */
function forecastOf(weather: (h: number) => HourValues) {
  const series = seriesOf(5 * 24, weather);
  const mask = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
  return { mask, tables: finishTables(mask, WEEK, clockOfMask(mask, "UTC")) };
}

describe("blendedFinish", () => {
  const fine = pastSummers(() => ({}));

  it("follows the forecast as far as it goes", () => {
    const { tables } = forecastOf(() => ({}));
    const end = blendedFinish(tables, fine, calendar, [aloft(600)], MONDAY);
    expect(end).toMatchObject({ basis: "forecast", p50Millis: MONDAY + DAY + 600 * 60_000, runs: 0 });
  });

  it("continues in past years with what the forecast left, on the plan's own calendar", () => {
    const { tables } = forecastOf((h) => (h >= 24 ? { wind: 20, gust: 25 } : {})); // Monday fine, then storm
    const end = blendedFinish(tables, fine, calendar, [aloft(600)], MONDAY);
    // 480 minutes on Monday; 120 left after the forecast ends on Friday night: Monday 9 June 08:00 to 10:00
    expect(end?.basis).toBe("hindcast");
    expect(localOf(end!.p50Millis, "UTC")).toEqual({ date: "2025-06-09", minuteOfDay: 600 });
    expect(end).toMatchObject({ runs: 35, unfinished: 0 });
    expect(end?.p80Millis).toBe(end?.p50Millis);
  });

  it("gives a later P80 when some years were stormy", () => {
    const stormy = pastSummers((year) => (year >= 2023 ? { wind: 20, gust: 25 } : {}));
    const { tables } = forecastOf(() => ({ wind: 20, gust: 25 }));
    const end = blendedFinish(tables, stormy, calendar, [aloft(120)], MONDAY)!;
    expect(localOf(end.p50Millis, "UTC").date).toBe("2025-06-09");
    expect(end.p80Millis).toBe(Number.POSITIVE_INFINITY);
    expect(end.unfinished).toBeGreaterThan(0);
  });

  it("begins unbroken work anew after the forecast", () => {
    const { tables } = forecastOf((h) => (h % 24 >= 12 ? { wind: 20, gust: 25 } : {}));
    const end = blendedFinish(tables, fine, calendar, [aloft(300, false)], MONDAY)!;
    expect(localOf(end.p50Millis, "UTC")).toEqual({ date: "2025-06-09", minuteOfDay: 480 + 300 });
  });

  it("is undefined when no past year covers the rest", () => {
    const winter = prepareHistory(
      seriesOf(24 * 20, () => ({}), Date.UTC(2024, 0, 5)),
      SITE,
      DEFAULT_WEATHER_POLICY,
      WEEK,
      WORK_CLASSES,
    );
    const { tables } = forecastOf(() => ({ wind: 20, gust: 25 }));
    expect(blendedFinish(tables, winter, calendar, [aloft(60)], MONDAY)).toBeUndefined();
  });
});

describe("planWindow", () => {
  const firstDay = calendarDate("2025-06-02");
  const segments = [aloft(600)];
  const { mask } = forecastOf((h) => (Math.floor(h / 24) === 1 ? { wind: 20, gust: 25 } : {}));
  const climate: MonthlyWorkability = {
    share: new Float64Array(84).fill(0.5),
    hours: new Float64Array(84).fill(100),
    source: "region",
  };

  it("follows forecast hours, then daylight with the stretch of past years", () => {
    const history = pastSummers((_, h) => (h % 48 < 24 ? { wind: 20, gust: 25 } : {}));
    const known = { forecast: mask, history: stretchOnDays(stretchOfYear(history, segments), firstDay, 14) };
    const window = planWindow(SITE, DEFAULT_WEATHER_POLICY, segments, firstDay, 14, known);
    expect(window).toMatchObject({ forecastDays: 5, basis: "history" });
    const near = dayMasks(mask, "UTC", firstDay, 5);
    const clear = dayMasks(
      daylightOnlyMask(SITE, DEFAULT_WEATHER_POLICY, MONDAY - DAY, 24 * 20),
      "UTC",
      firstDay,
      14,
    );
    for (let c = 0; c < WORK_CLASSES.length; c++) {
      expect([...window.masks.slice(c * 14, c * 14 + 5)]).toEqual([...near.slice(c * 5, c * 5 + 5)]);
      expect([...window.masks.slice(c * 14 + 5, c * 14 + 14)]).toEqual([
        ...clear.slice(c * 14 + 5, c * 14 + 14),
      ]);
    }
    expect([...window.stretch.slice(0, 5)]).toEqual([1, 1, 1, 1, 1]);
    expect(window.stretch.slice(5).every((s) => s > 1)).toBe(true);
  });

  it("falls back to climate, then says that nothing is known", () => {
    const at = (known: Parameters<typeof planWindow>[5]) =>
      planWindow(SITE, DEFAULT_WEATHER_POLICY, segments, firstDay, 7, known);
    expect(at({ climate })).toMatchObject({ basis: "climate", forecastDays: 0 });
    expect([...at({ climate }).stretch]).toEqual(new Array(7).fill(2));
    expect(at({})).toMatchObject({ basis: "none" });
  });

  it("does not count a day that the forecast covers in part, nor one that begins after it", () => {
    const half = hourMask(seriesOf(36), SITE, DEFAULT_WEATHER_POLICY);
    const days = (forecast: typeof half) =>
      planWindow(SITE, DEFAULT_WEATHER_POLICY, segments, firstDay, 7, { forecast }).forecastDays;
    expect(days(half)).toBe(1);
    expect(
      days(
        hourMask(
          seriesOf(48, () => ({}), MONDAY + 6 * 3_600_000),
          SITE,
          DEFAULT_WEATHER_POLICY,
        ),
      ),
    ).toBe(2);
    expect(
      days(
        hourMask(
          seriesOf(48, () => ({}), MONDAY + 2 * DAY),
          SITE,
          DEFAULT_WEATHER_POLICY,
        ),
      ),
    ).toBe(0);
  });
});
