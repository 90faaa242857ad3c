/** The worked example of docs/methods/weather.md, number by number. */
import { describe, expect, it } from "vitest";
import {
  clockOfMask,
  DEFAULT_WEATHER_POLICY,
  daylightOnlyMask,
  earliestFinish,
  finishTables,
  hourMask,
  type ShiftWeek,
  type SiteProfile,
  type SpellSegment,
  verdictAt,
} from "@/lib/weather";
import { advance, newProgress, type WorkPart } from "../../../lib/weather/finish";
import { addLostTime, noLostTime } from "../../../lib/weather/lost-time";
import { conditionsAt } from "../../../lib/weather/verdict";
import { MONDAY, seriesOf } from "./weather-fixtures";

const SITE: SiteProfile = {
  heightM: 40,
  terrain: "II",
  latDeg: 50,
  lonDeg: 0,
  elevationM: 460,
  placeElevationM: 60,
  zone: "UTC",
  diameterM: 1.2,
  bandGhz: 18,
};
const SHIFT: ShiftWeek = Array.from({ length: 7 }, () => ({ fromMin: 480, toMin: 1020 }));
const SEGMENTS: SpellSegment[] = [
  { workClass: "climb", durationMin: 30, splittable: false },
  { workClass: "hoist", durationMin: 60, splittable: false },
  { workClass: "aloft", durationMin: 180, splittable: true },
  { workClass: "open connection", durationMin: 120, splittable: false },
];
/** Tuesday 3 June 2025 and the day after; the Monday before gives the hours behind. */
const TUESDAY = 24;
const series = seriesOf(72, (h) =>
  h >= TUESDAY + 11 && h < TUESDAY + 14
    ? { wind: 8.5, gust: 12, temp: 14 }
    : { wind: 6.5, gust: 9, temp: 14 },
);
const policy = DEFAULT_WEATHER_POLICY;
const mask = hourMask(series, SITE, policy);
const clock = clockOfMask(mask, "UTC");
const tables = finishTables(mask, SHIFT, clock);

describe("worked example", () => {
  it("brings wind, gust and temperature to the mount", () => {
    const calm = conditionsAt(series, SITE, policy, "aloft", TUESDAY + 9);
    expect(calm.windMs).toBeCloseTo(8.2, 2);
    expect(calm.gustMs).toBeCloseTo(10.66, 2);
    expect(calm.tempC).toBeCloseTo(11.4, 5);
    const windy = conditionsAt(series, SITE, policy, "aloft", TUESDAY + 11);
    expect(windy.windMs).toBeCloseTo(10.72, 2);
    expect(windy.gustMs).toBeCloseTo(14.22, 2);
  });

  it("gives the verdicts", () => {
    const text = (c: "hoist" | "aloft", h: number) => verdictAt(series, SITE, policy, c, TUESDAY + h).text;
    expect(text("hoist", 9)).toBe("gust 10.7 of 11.0 m/s");
    expect(text("aloft", 9)).toBe("wind 8.2 of 9.9 m/s");
    expect(text("aloft", 11)).toBe("wind 10.7 > 9.9 m/s");
  });

  it("finishes on Wednesday at 10:00", () => {
    expect(earliestFinish(tables, SEGMENTS, TUESDAY * 60)).toEqual({
      startMin: (TUESDAY + 8) * 60,
      finishMin: (48 + 10) * 60,
    });
  });

  it("takes 660 shift minutes: 390 of work, 180 lost to wind, 90 too short a spell", () => {
    const clear = finishTables(daylightOnlyMask(SITE, policy, MONDAY, 72), SHIFT, clock);
    expect(earliestFinish(clear, SEGMENTS, TUESDAY * 60)?.finishMin).toBe((TUESDAY + 14.5) * 60);
    const parts: WorkPart[] = [];
    advance(tables, SEGMENTS, TUESDAY * 60, newProgress(), parts);
    const lost = noLostTime();
    addLostTime(mask, tables, SEGMENTS, parts, lost);
    expect(lost.lostMin.wind).toBe(180);
    expect(lost.shortSpellMin).toBe(90);
    expect(Object.values(lost.lostMin).reduce((a, b) => a + b, 0)).toBe(180);
  });
});
