import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  DEFAULT_WEATHER_POLICY,
  gustAtHeight,
  hoistLimitMs,
  temperatureAtSite,
  windAtHeight,
} from "@/lib/weather";
import { chillReachC, heatIndexC, heatReachC, windChillC } from "../../../lib/weather/comfort";
import { discDragN } from "../../../lib/weather/drag";

const LOG = DEFAULT_WEATHER_POLICY;
const POWER = { windProfile: "power", powerExponent: 0.2 } as const;

describe("windAtHeight", () => {
  it("is the value itself at 10 m in every terrain, by both laws", () => {
    for (const terrain of ["0", "I", "II", "III", "IV"] as const) {
      expect(windAtHeight(7, 10, terrain, LOG)).toBeCloseTo(7, 12);
      expect(windAtHeight(7, 10, terrain, POWER)).toBeCloseTo(7, 12);
    }
  });

  it("follows the log law of the terrain, or the power law", () => {
    expect(windAtHeight(8, 50, "II", LOG)).toBeCloseTo(10.4301, 4);
    expect(windAtHeight(8, 50, "III", LOG)).toBeCloseTo(11.6718, 4);
    expect(windAtHeight(8, 50, "II", POWER)).toBeCloseTo(11.0378, 4);
  });

  it("does not fall further under zmin, and refuses a height under ground", () => {
    expect(windAtHeight(8, 0, "III", LOG)).toBe(windAtHeight(8, 5, "III", LOG));
    expect(() => windAtHeight(8, -1, "II", LOG)).toThrow("-1 m");
  });
});

describe("gustAtHeight", () => {
  it("grows more slowly with height than the mean", () => {
    const mean = windAtHeight(1, 50, "II", LOG);
    expect(gustAtHeight(8, 12, 50, "II", LOG) / 12).toBeLessThan(mean);
    // turbulence 0.1448 against 0.1887: 1.3038 x 1.4189 / 1.5235 = 1.2143
    expect(gustAtHeight(8, 12, 50, "II", LOG) / 12).toBeCloseTo(1.2143, 3);
  });

  it("comes from the mean when the series has none, and is never under it", () => {
    expect(gustAtHeight(8, Number.NaN, 10, "II", LOG)).toBeCloseTo(8 * 1.5235, 3);
    expect(gustAtHeight(8, 8.1, 50, "II", LOG)).toBe(windAtHeight(8, 50, "II", LOG));
  });
});

describe("hoistLimitMs", () => {
  it("is the wind whose drag equals the tag line force", () => {
    for (const diameterM of [0.3, 0.6, 1.2, 1.8]) {
      const limit = hoistLimitMs(diameterM, LOG);
      expect(discDragN(diameterM, limit)).toBeCloseTo(LOG.tagLineForceN, 9);
    }
  });

  it("halves when the diameter doubles", () => {
    expect(hoistLimitMs(0.6, LOG) / hoistLimitMs(1.2, LOG)).toBeCloseTo(2, 9);
    expect(hoistLimitMs(1.8, LOG)).toBeCloseTo(10.47, 2);
  });

  it("refuses a dish without a diameter", () => {
    expect(() => hoistLimitMs(0, LOG)).toThrow("0 m");
  });
});

describe("temperatureAtSite", () => {
  it("falls by the lapse rate upwards and rises downwards", () => {
    expect(temperatureAtSite(10, 600, 100, -6.5)).toBeCloseTo(6.75, 9);
    expect(temperatureAtSite(10, 100, 600, -6.5)).toBeCloseTo(13.25, 9);
  });
});

describe("reach of chill and heat", () => {
  const wind = fc.double({ min: 0, max: 100, noNaN: true });
  const humidity = fc.double({ min: 0, max: 100, noNaN: true });
  const below = fc.double({ min: 0, max: 40, noNaN: true });

  it("no wind chills to the limit above the reach", () => {
    fc.assert(
      fc.property(wind, below, fc.integer({ min: -40, max: 0 }), (windMs, above, limitC) => {
        expect(windChillC(chillReachC(limitC) + 1e-6 + above, windMs)).toBeGreaterThanOrEqual(limitC);
      }),
      { seed: 1 },
    );
  });

  it("no humidity heats to the limit under the reach", () => {
    fc.assert(
      fc.property(humidity, below, fc.integer({ min: 28, max: 45 }), (percent, under, limitC) => {
        expect(heatIndexC(heatReachC(limitC) - under, percent)).toBeLessThanOrEqual(limitC);
      }),
      { seed: 2, numRuns: 500 },
    );
  });
});
