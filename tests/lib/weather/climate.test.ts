import { describe, expect, it } from "vitest";
import { calendarDate } from "@/lib/time";
import {
  clockOfMask,
  DEFAULT_WEATHER_POLICY,
  hourMask,
  monthlyWorkability,
  prepareSeries,
  regionalWorkability,
  type ShiftWeek,
  type SpellSegment,
  shiftHours,
  stretchFromClimate,
  WORK_CLASSES,
} from "@/lib/weather";
import { SITE, seriesOf } from "./weather-fixtures";

const DAYS_8_TO_16: ShiftWeek = Array.from({ length: 7 }, () => ({ fromMin: 480, toMin: 960 }));
const ALOFT = WORK_CLASSES.indexOf("aloft");

/** June and July 2025: June windy from noon on, July with gaps on half of its days. */
function table(shift = DAYS_8_TO_16) {
  const series = seriesOf(
    61 * 24,
    (h) => {
      const day = Math.floor(h / 24);
      if (day < 30) return { wind: h % 24 >= 12 ? 12 : 3, gust: 14 };
      return day % 2 === 0 ? { wind: Number.NaN } : { gust: 4 };
    },
    Date.UTC(2025, 5, 1),
  );
  for (let h = 0; h < 30 * 24; h++) if (h % 24 < 12) series.gustMs[h] = 4;
  const mask = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
  return monthlyWorkability(mask, clockOfMask(mask, "UTC"), shift, "made up");
}

describe("monthlyWorkability", () => {
  it("is the share of daylight shift hours that suit a class", () => {
    expect(table().share[ALOFT * 12 + 5]).toBeCloseTo(0.5, 12);
    expect(table().hours[ALOFT * 12 + 5]).toBe(240);
  });

  it("leaves hours without data out of both sides", () => {
    expect(table().share[ALOFT * 12 + 6]).toBe(1);
    expect(table().hours[ALOFT * 12 + 6]).toBeLessThan(130);
  });

  it("reads the hours of the shift alone, also where the clock changes", () => {
    const zone = "Europe/Berlin";
    const series = seriesOf(90 * 24, (h) => ({ wind: h % 17, gust: (h % 17) + 3 }), Date.UTC(2025, 1, 1));
    const shift: ShiftWeek = [...DAYS_8_TO_16.slice(0, 5), { fromMin: 90, toMin: 405 }, null];
    const clock = clockOfMask(series, zone);
    const asked = shiftHours(series, clock, shift);
    const site = { ...SITE, zone };
    const whole = hourMask(series, site, DEFAULT_WEATHER_POLICY);
    const part = hourMask(series, site, DEFAULT_WEATHER_POLICY, prepareSeries(series), asked);
    expect(part.factor.some((f, i) => f !== whole.factor[i])).toBe(true);
    const tables = [whole, part].map((mask) => monthlyWorkability(mask, clock, shift, "x"));
    expect(tables[1]).toEqual(tables[0]);
    expect(tables[0]!.hours[ALOFT * 12 + 2]).toBeGreaterThan(100);
  });

  it("is unknown in a month that the series does not touch", () => {
    expect(Number.isNaN(table().share[ALOFT * 12])).toBe(true);
  });
});

describe("regionalWorkability", () => {
  it("weighs tables by their hours", () => {
    const a = table();
    const b = table([{ fromMin: 480, toMin: 720 }, null, null, null, null, null, null]);
    const region = regionalWorkability([a, b], "region");
    const i = ALOFT * 12 + 5;
    const hours = a.hours[i]! + b.hours[i]!;
    expect(region.hours[i]).toBe(hours);
    expect(region.share[i]).toBeCloseTo((0.5 * a.hours[i]! + 1 * b.hours[i]!) / hours, 12);
  });
});

describe("stretchFromClimate", () => {
  const segments: SpellSegment[] = [
    { workClass: "aloft", durationMin: 300, splittable: true },
    { workClass: "indoor", durationMin: 100, splittable: true },
  ];

  it("divides each class's time by its share", () => {
    const stretch = stretchFromClimate(table(), segments, calendarDate("2026-06-29"), 3);
    expect([...stretch]).toEqual([1.75, 1.75, 1]); // (300 / 0.5 + 100) / 400, then July
  });

  it("is unknown where a share is not known", () => {
    const stretch = stretchFromClimate(table(), segments, calendarDate("2026-01-01"), 1);
    expect(Number.isNaN(stretch[0])).toBe(true);
  });

  it("stays finite in a month without a workable hour", () => {
    const none = { ...table(), share: new Float64Array(84) };
    expect(stretchFromClimate(none, segments, calendarDate("2026-06-01"), 1)[0]).toBe(20);
  });
});
