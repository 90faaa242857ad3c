import { describe, expect, it } from "vitest";
import { Random } from "@/lib/random";
import { addDays, calendarDate, daysBetween, fromDayNumber, instantAt, localOf } from "@/lib/time";
import {
  DEFAULT_WEATHER_POLICY,
  daylightOnlyMask,
  hindcast,
  hourMask,
  joinSeries,
  jointHistory,
  jointMask,
  prepareHistory,
  type ShiftWeek,
  type SiteProfile,
  type SpellSegment,
  stretchOfYear,
  stretchOnDays,
  type WorkClass,
} from "@/lib/weather";
import { makeWeather } from "@/seed/weather";
import { percentile, sameDayIn } from "../../../lib/weather/hindcast";
import { minutesInShift, walk } from "./minute-walk";
import { seriesOf } from "./weather-fixtures";

const ZONE = "Atlantic/Azores";
const WEEK: ShiftWeek = [...Array.from({ length: 5 }, () => ({ fromMin: 450, toMin: 1020 })), null, null];
const END: SpellSegment[] = [
  { workClass: "ground", durationMin: 60, splittable: true },
  { workClass: "climb", durationMin: 30, splittable: false },
  { workClass: "hoist", durationMin: 60, splittable: false },
  { workClass: "aloft", durationMin: 240, splittable: true },
  { workClass: "open connection", durationMin: 90, splittable: false, spell: "connect" },
  { workClass: "open connection", durationMin: 60, splittable: false, spell: "connect" },
  { workClass: "indoor", durationMin: 45, splittable: true },
];
const CLASSES = [...new Set(END.map((s) => s.workClass))] as WorkClass[];
const SITE: SiteProfile = {
  heightM: 45,
  terrain: "II",
  latDeg: 46.6,
  lonDeg: -27.4,
  elevationM: 120,
  placeElevationM: 60,
  zone: ZONE,
  diameterM: 1.2,
  bandGhz: 18,
};

const made = makeWeather(
  new Random("hindcast"),
  [{ id: "P1", name: "P1", latDeg: 46.6, lonDeg: -27.4, elevationM: 60 }],
  { firstHistoryYear: 2022, years: 3, forecastDays: 0, nowMillis: Date.UTC(2026, 0, 10) },
);
const series = joinSeries(made);
const history = prepareHistory(series, SITE, DEFAULT_WEATHER_POLICY, WEEK, CLASSES);

describe("hindcast", () => {
  const date = calendarDate("2026-11-24");
  const result = hindcast(history, END, date);

  it("agrees with walking every minute of every past year", () => {
    const mask = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
    const clear = daylightOnlyMask(SITE, DEFAULT_WEATHER_POLICY, series.startsAtMillis, series.hours);
    const inShift = minutesInShift(mask, WEEK, ZONE);
    const worked = (from: number, to: number) => inShift.slice(from, to).reduce((a, b) => a + b, 0);
    const expected = [];
    for (const year of [2022, 2023, 2024]) {
      for (let d = -3; d <= 3; d++) {
        const startsOn = addDays(calendarDate(`${year}-11-24`), d);
        const from = (instantAt(startsOn, 0, ZONE) - series.startsAtMillis) / 60_000;
        const finish = walk(mask, inShift, END, from)!;
        const clearFinish = walk(clear, inShift, END, from)!;
        const finishedOn = localOf(series.startsAtMillis + (finish - 1) * 60_000, ZONE).date;
        expected.push({
          startsOn,
          shiftMin: worked(from, finish),
          clearMin: worked(from, clearFinish),
          days: daysBetween(startsOn, finishedOn) + 1,
        });
      }
    }
    expect(result.runs).toEqual(expected);
    expect(result.p50Min).toBe([...expected.map((r) => r.shiftMin)].sort((a, b) => a - b)[10]);
    expect(result.p80Min).toBe([...expected.map((r) => r.shiftMin)].sort((a, b) => a - b)[16]);
    expect(result.stretch).toBeCloseTo(result.p50Min / result.clearMin, 12);
  });

  it("says by what the hours were lost, and they add up", () => {
    const work = END.reduce((sum, s) => sum + s.durationMin, 0) / 60;
    const meanShiftH = result.runs.reduce((sum, r) => sum + r.shiftMin, 0) / 60 / result.runs.length;
    const lostH = Object.values(result.lostHours).reduce((a, b) => a + b, 0) + result.shortSpellHours;
    expect(work + lostH).toBeCloseTo(meanShiftH, 9);
    expect(result.lostHours.wind).toBeGreaterThan(0);
    expect(result.lostHours["no data"]).toBe(0);
  });

  it("takes longer in winter than in summer", () => {
    const summer = hindcast(history, END, calendarDate("2026-07-14"));
    expect(summer.p50Min).toBeLessThan(result.p50Min);
  });

  it("leaves out begins that the history does not cover, and reports unfinished ones", () => {
    const late = hindcast(history, END, calendarDate("2026-12-30"));
    expect(late.runs.every((r) => r.startsOn < "2025-01-01")).toBe(true);
    const storm = prepareHistory(
      { ...seriesOf(24 * 90, () => ({ wind: 25, gust: 30 }), Date.UTC(2024, 5, 1)), kind: "history" },
      SITE,
      DEFAULT_WEATHER_POLICY,
      WEEK,
      CLASSES,
    );
    const never = hindcast(storm, END, calendarDate("2026-06-10"), { neighbourDays: 0 });
    expect(never).toMatchObject({ unfinished: 1, p50Min: Number.POSITIVE_INFINITY });
  });

  it("treats a gap as not workable and reports it", () => {
    const gappy = seriesOf(
      24 * 90,
      (h) => (h >= 240 && h < 480 ? { wind: Number.NaN } : {}),
      Date.UTC(2024, 5, 1),
    );
    const known = prepareHistory(gappy, SITE, DEFAULT_WEATHER_POLICY, WEEK, CLASSES);
    expect(known.gapHoursByYear.get(2024)).toBe(240);
    const run = hindcast(known, END, calendarDate("2026-06-12"), { neighbourDays: 0 });
    expect(run.lostHours["no data"]).toBeGreaterThan(0);
  });
});

describe("jointHistory", () => {
  it("is the hindcast of hours in which both ends may work", () => {
    const alignment: SpellSegment[] = [{ workClass: "alignment", durationMin: 120, splittable: false }];
    const other = { ...SITE, heightM: 70, latDeg: 46.7 };
    const of = (site: SiteProfile) =>
      prepareHistory(series, site, DEFAULT_WEATHER_POLICY, WEEK, ["alignment"]);
    const both = hindcast(jointHistory(of(SITE), of(other)), alignment, calendarDate("2026-01-20"));
    const mask = jointMask(
      hourMask(series, SITE, DEFAULT_WEATHER_POLICY),
      hourMask(series, other, DEFAULT_WEATHER_POLICY),
    );
    const inShift = minutesInShift(mask, WEEK, ZONE);
    for (const run of both.runs) {
      const from = (instantAt(run.startsOn, 0, ZONE) - series.startsAtMillis) / 60_000;
      const finish = walk(mask, inShift, alignment, from)!;
      expect(run.shiftMin).toBe(inShift.slice(from, finish).reduce((a, b) => a + b, 0));
    }
    expect(both.runs).toHaveLength(21);
    const alone = hindcast(of(SITE), alignment, calendarDate("2026-01-20"));
    expect(both.p80Min).toBeGreaterThanOrEqual(alone.p80Min);
  });

  it("refuses histories of different hours", () => {
    const short = prepareHistory(seriesOf(48), SITE, DEFAULT_WEATHER_POLICY, WEEK, CLASSES);
    expect(() => jointHistory(history, short)).toThrow(RangeError);
  });
});

describe("past years by day of a plan", () => {
  it("is the hindcast of every day", () => {
    const firstDay = calendarDate("2026-02-20");
    const byDay = stretchOnDays(stretchOfYear(history, END), firstDay, 20);
    for (let d = 0; d < 20; d += 3) {
      const one = hindcast(history, END, addDays(firstDay, d));
      expect(byDay.runs[d]).toBe(one.runs.length);
      expect(byDay.stretch[d]).toBeCloseTo(one.stretch, 5);
      const workH = END.reduce((sum, s) => sum + s.durationMin, 0) / 60;
      expect(byDay.riskMinPerH[d]).toBeCloseTo((one.p80Min - one.p50Min) / workH, 3);
    }
  });

  it("knows nothing where no history reaches", () => {
    const summer = prepareHistory(
      seriesOf(24 * 30, () => ({}), Date.UTC(2024, 5, 1)),
      SITE,
      DEFAULT_WEATHER_POLICY,
      WEEK,
      CLASSES,
    );
    const byDay = stretchOnDays(stretchOfYear(summer, END), calendarDate("2026-01-10"), 2);
    expect([...byDay.runs]).toEqual([0, 0]);
    expect(Number.isNaN(byDay.stretch[0])).toBe(true);
  });
});

describe("sameDayIn", () => {
  it("runs 29 February from 28 February in years that have none", () => {
    const leapDay = calendarDate("2028-02-29");
    expect(fromDayNumber(sameDayIn(leapDay, 2025))).toBe("2025-02-28");
    expect(fromDayNumber(sameDayIn(leapDay, 2024))).toBe("2024-02-29");
    expect(fromDayNumber(sameDayIn(calendarDate("2026-12-31"), 2021))).toBe("2021-12-31");
  });
});

describe("percentile", () => {
  it("is the nearest rank", () => {
    expect(percentile([5, 1, 3, 2, 4], 0.5)).toBe(3);
    expect(percentile([5, 1, 3, 2, 4], 0.8)).toBe(4);
    expect(percentile([1, 2, 3, 4], 0.5)).toBe(2);
    expect(percentile([7], 0.8)).toBe(7);
    expect(Number.isNaN(percentile([], 0.5))).toBe(true);
  });
});
