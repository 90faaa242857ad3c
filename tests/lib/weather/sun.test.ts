import fc from "fast-check";
import * as SunCalc from "suncalc";
import { describe, expect, it } from "vitest";
import { calendarDate } from "@/lib/time";
import { daylightMask, sunTimes } from "@/lib/weather";
import { solarTable, sunAt, ZENITH_CIVIL, ZENITH_RISE_SET } from "../../../lib/weather/sun";

const HOUR = 3_600_000;
const CIVIL = { zenithDeg: ZENITH_CIVIL, marginMin: 0 };

describe("solarTable", () => {
  it("reads between midnights within 0.3 seconds of the formula", () => {
    const start = Date.UTC(2026, 0, 1);
    const table = solarTable(start, 366 * 24);
    let worstMin = 0;
    let worstDeg = 0;
    for (let h = 5; h < 366 * 24; h += 7) {
      const x = h / 24;
      const i = Math.floor(x) + 2;
      const between = (c: Float64Array) => c[i]! + (c[i + 1]! - c[i]!) * (x - Math.floor(x));
      const sun = sunAt(start + h * HOUR);
      worstMin = Math.max(worstMin, Math.abs(between(table.equationMin) - sun.equationMin));
      worstDeg = Math.max(worstDeg, Math.abs(between(table.declinationDeg) - sun.declinationDeg));
    }
    expect(worstMin * 60).toBeLessThan(0.3);
    expect(worstDeg).toBeLessThan(0.0015);
  });
});

describe("daylightMask", () => {
  it("opens hours that lie in daylight from end to end", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -60, max: 60, noNaN: true }),
        fc.double({ min: -180, max: 180, noNaN: true }),
        fc.integer({ min: 0, max: 3650 }),
        (latDeg, lonDeg, day) => {
          const start = Date.UTC(2020, 0, 1) + day * 24 * HOUR;
          const mask = daylightMask(start, 48, latDeg, lonDeg, CIVIL);
          const spans = [-1, 0, 1, 2].map((d) => {
            const t = SunCalc.getTimes(new Date(start + (d * 24 + 12 - lonDeg / 15) * HOUR), latDeg, lonDeg);
            return [t.dawn?.getTime() ?? Number.NaN, t.dusk?.getTime() ?? Number.NaN] as const;
          });
          for (let h = 0; h < 48; h++) {
            const from = start + h * HOUR;
            const spareMillis = Math.max(...spans.map(([a, b]) => Math.min(from - a, b - from - HOUR)));
            if (Math.abs(spareMillis) < 15_000 || Number.isNaN(spareMillis)) continue; // too close to call
            expect(mask[h], `hour ${h}`).toBe(spareMillis > 0 ? 1 : 0);
          }
        },
      ),
      { seed: 5, numRuns: 150 },
    );
  });

  it("is all light in a polar day and all dark in a deep polar night", () => {
    expect(daylightMask(Date.UTC(2026, 5, 18), 96, 78, 15, CIVIL).every((x) => x === 1)).toBe(true);
    expect(daylightMask(Date.UTC(2026, 11, 18), 96, 82, 15, CIVIL).every((x) => x === 0)).toBe(true);
  });

  it("has no gap at midnight where it never gets darker than civil twilight", () => {
    const start = Date.UTC(2014, 3, 30);
    expect(sunTimes(calendarDate("2014-04-30"), 69.5, 19).civilAllDay).toBe("light");
    expect(daylightMask(start, 48, 69.5, 19, CIVIL).every((x) => x === 1)).toBe(true);
  });

  it("takes the margin off both ends", () => {
    const start = Date.UTC(2026, 2, 20);
    const open = (marginMin: number) =>
      daylightMask(start, 24, 0, 0, { zenithDeg: ZENITH_RISE_SET, marginMin }).reduce((a, b) => a + b, 0);
    // sun up 06:04 to 18:11: hours 7 to 17, with an hour off 8 to 16
    expect([open(0), open(60)]).toEqual([11, 9]);
  });
});
