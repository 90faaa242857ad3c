import { describe, expect, it } from "vitest";
import { DEFAULT_WEATHER_POLICY, findWindows, hourMask, jointMask, windowsOf } from "@/lib/weather";
import { MONDAY, SITE, seriesOf } from "./weather-fixtures";

const HOUR = 3_600_000;
const series = seriesOf(72, (h) => ({ gust: h === 36 ? 14 : 4, wind: 3 }));

describe("findWindows", () => {
  const { byClass } = findWindows(series, SITE, DEFAULT_WEATHER_POLICY);

  it("lists stretches of workable hours with what ends them", () => {
    // Tuesday 3 June is light from hour 28 to 44
    const tuesday = byClass.aloft.filter(
      (w) => w.startsAtMillis >= MONDAY + 24 * HOUR && w.endsAtMillis <= MONDAY + 48 * HOUR,
    );
    expect(tuesday).toEqual([
      {
        workClass: "aloft",
        startsAtMillis: MONDAY + 28 * HOUR,
        endsAtMillis: MONDAY + 36 * HOUR,
        hours: 8,
        endedBy: "gust",
      },
      {
        workClass: "aloft",
        startsAtMillis: MONDAY + 37 * HOUR,
        endsAtMillis: MONDAY + 44 * HOUR,
        hours: 7,
        endedBy: "daylight",
      },
    ]);
  });

  it("leaves indoor work one window to the end of the series", () => {
    expect(byClass.indoor).toEqual([
      {
        workClass: "indoor",
        startsAtMillis: MONDAY,
        endsAtMillis: MONDAY + 72 * HOUR,
        hours: 72,
        endedBy: "none",
      },
    ]);
  });

  it("leaves out stretches shorter than asked", () => {
    const long = findWindows(series, SITE, DEFAULT_WEATHER_POLICY, 8).byClass.aloft;
    expect(long.every((w) => w.hours >= 8)).toBe(true);
    expect(long.length).toBeLessThan(byClass.aloft.length);
  });

  it("counts every workable hour once", () => {
    const mask = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
    for (const windows of Object.values(byClass)) {
      const hours = windows.reduce((sum, w) => sum + w.hours, 0);
      const c = ["climb", "hoist", "aloft", "open connection", "ground", "indoor", "alignment"].indexOf(
        windows[0]!.workClass,
      );
      expect(hours).toBe(mask.workable.reduce((sum, bits) => sum + ((bits >> c) & 1), 0));
    }
  });

  it("finds the windows of both ends of a hop in their joint mask", () => {
    const near = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
    const far = hourMask(
      seriesOf(72, (h) => ({ rain: h === 40 ? 3 : 0 })),
      { ...SITE, lonDeg: 0.2 },
      DEFAULT_WEATHER_POLICY,
    );
    const windows = windowsOf(jointMask(near, far)).alignment.filter(
      (w) => w.startsAtMillis >= MONDAY + 24 * HOUR && w.endsAtMillis <= MONDAY + 48 * HOUR,
    );
    expect(windows.map((w) => [w.hours, w.endedBy])).toEqual([
      [8, "gust"],
      [3, "rain"],
      [3, "daylight"],
    ]);
  });
});
