import { describe, expect, it } from "vitest";
import { type EndOnTower, ForecastReader, mostFrequent, visitDays } from "@/lib/programme";
import type { CalendarDate } from "@/lib/time";
import { DEFAULT_WEATHER_POLICY } from "@/lib/weather";
import { seriesOf } from "../weather/weather-fixtures";

const DAY = "2025-06-02" as CalendarDate;

const end: EndOnTower = {
  site: {
    id: "S1",
    code: "S1",
    name: "Hill",
    region: "R",
    position: { latDeg: 50, lonDeg: 0 },
    elevationM: 0,
    zone: "UTC",
    structure: "lattice",
    structureHeightM: 40,
    terrain: "II",
    access: { weekdays: [1, 2, 3, 4, 5], fromMin: 420, toMin: 1080, noticeDays: 0, allowsTwoCrews: true },
  },
  heightM: 10,
  diameterM: 0.6,
  bandGhz: 18,
};

const reader = (wind: (hour: number) => number) =>
  new ForecastReader(
    [
      {
        code: "W1",
        latDeg: 50,
        lonDeg: 0,
        elevationM: 0,
        forecast: seriesOf(24, (h) => ({ wind: wind(h), gust: wind(h) + 1 })),
      },
    ],
    DEFAULT_WEATHER_POLICY,
  );

describe("hours of a visit in the forecast", () => {
  it("counts the hours within limits and names what takes the others", () => {
    const hours = reader((h) => (h >= 12 ? 30 : 3)).hoursMet(end, "aloft", DAY, 8 * 60, 16 * 60);
    expect(hours).toMatchObject({ metH: 4, ofH: 8 });
    expect(["wind", "gust"]).toContain(hours?.factor);
    expect(hours?.hours.map((h) => h.isMet)).toEqual([true, true, true, true, false, false, false, false]);
  });

  it("is all met, with no factor, on a fine day; part hours count as hours", () => {
    const hours = reader(() => 3).hoursMet(end, "aloft", DAY, 8 * 60 + 30, 10 * 60 + 10);
    expect(hours).toMatchObject({ metH: 3, ofH: 3, factor: "none" });
  });

  it("is undefined beyond the forecast, without a coordinate and outside every place's radius", () => {
    const calm = reader(() => 3);
    expect(calm.hoursMet(end, "aloft", "2025-06-03" as CalendarDate, 480, 960)).toBeUndefined();
    const lost = { ...end, site: { ...end.site, code: "S2", position: undefined } };
    expect(calm.hoursMet(lost, "aloft", DAY, 480, 960)).toBeUndefined();
    const far = { ...end, site: { ...end.site, code: "S3", position: { latDeg: 60, lonDeg: 30 } } };
    expect(calm.hoursMet(far, "aloft", DAY, 480, 960)).toBeUndefined();
  });

  it("names the most frequent factor, the first of equals", () => {
    expect(mostFrequent([])).toBe("none");
    expect(mostFrequent(["rain", "gust", "gust"])).toBe("gust");
    expect(mostFrequent(["rain", "gust"])).toBe("rain");
  });
});

describe("a visit of several days", () => {
  const FRIDAY = "2025-06-06" as CalendarDate;
  const MONDAY = "2025-06-09" as CalendarDate;
  const times = { startOn: FRIDAY, startMin: 13 * 60 + 20, endOn: MONDAY, endMin: 15 * 60 + 36 };
  const shift = { shiftFromMin: 480, shiftToMin: 1020, access: end.site.access };
  const onWeekdays = (on: CalendarDate) => on === FRIDAY || on === MONDAY;
  const friday = { on: FRIDAY, fromMin: 800, toMin: 1020 };
  const monday = { on: MONDAY, fromMin: 480, toMin: 936 };

  it("takes the hours of the shift on each of its days, and of one under way only those to come", () => {
    expect(visitDays(times, shift, onWeekdays, FRIDAY)).toEqual([friday, monday]);
    expect(visitDays(times, shift, onWeekdays, MONDAY)).toEqual([monday]);
    // Over without a report: its own hours, as they were.
    expect(visitDays(times, shift, onWeekdays, "2025-06-10" as CalendarDate)).toEqual([friday, monday]);
    // A crew that works on the weekend finds the site shut (weekdays 1 to 5).
    expect(visitDays(times, shift, () => true, FRIDAY)).toEqual([friday, monday]);
    const sameDay = { ...times, endOn: FRIDAY, endMin: 900 };
    expect(visitDays(sameDay, shift, onWeekdays, FRIDAY)).toEqual([{ on: FRIDAY, fromMin: 800, toMin: 900 }]);
  });

  it("counts over all days that the forecast reaches, and says where it ends", () => {
    const days = [
      { on: DAY, fromMin: 780, toMin: 1020 },
      { on: "2025-06-03" as CalendarDate, fromMin: 480, toMin: 900 },
    ];
    const stormy = reader((h) => (h >= 15 ? 30 : 3));
    expect(stormy.visitHoursMet(end, "aloft", days)).toMatchObject({
      metH: 2,
      ofH: 4,
      until: DAY,
      isWhole: false,
    });
    expect(stormy.visitHoursMet(end, "aloft", days.slice(1))).toBeUndefined();
    const two = [days[0]!, { on: DAY, fromMin: 480, toMin: 600 }];
    const all = stormy.visitHoursMet(end, "aloft", two);
    expect(all).toMatchObject({ metH: 4, ofH: 6, isWhole: true });
    expect(["wind", "gust"]).toContain(all?.factor);
  });
});
