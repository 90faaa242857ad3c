import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { SiteProfile, WeatherPolicy, WeatherSeries, WorkClass } from "@/lib/weather";
import {
  DEFAULT_WEATHER_POLICY,
  daylightOnlyMask,
  factorAt,
  hourMask,
  jointMask,
  limitsAtSite,
  verdictAt,
  WORK_CLASSES,
} from "@/lib/weather";
import { conditionsAt } from "../../../lib/weather/verdict";
import { type HourValues, MONDAY, policyWith, SITE, seriesOf } from "./weather-fixtures";

/** Noon of the second day: light, with a day of weather behind it. */
const NOON = 36;
const bit = (c: WorkClass) => WORK_CLASSES.indexOf(c);

function at(
  values: HourValues,
  workClass: WorkClass,
  { site = SITE, policy = DEFAULT_WEATHER_POLICY as WeatherPolicy, hour = NOON } = {},
): string {
  const series = seriesOf(72, (h) => (h === NOON ? values : {}));
  return factorAt(hourMask(series, site, policy), bit(workClass), hour);
}

describe("limits", () => {
  it("allow a value at the limit and close above it", () => {
    const policy = policyWith({ aloft: { windMaxMs: 9.5, gustMaxMs: 12.5 } });
    expect(at({ rain: 0.2 }, "alignment")).toBe("none"); // 0.2 stored in 32 bits is a little over 0.2
    expect(at({ rain: 0.21 }, "alignment")).toBe("rain");
    for (const limit of [5.1, 5.9, 6.3, 7.7, 8.94, 9.9]) {
      const wind = policyWith({ aloft: { windMaxMs: limit } });
      expect(at({ wind: limit, gust: limit }, "aloft", { policy: wind })).toBe("none");
      expect(at({ wind: limit + 0.01, gust: limit }, "aloft", { policy: wind })).toBe("wind");
    }
    expect(at({ wind: 9.5, gust: 9.5 }, "aloft", { policy })).toBe("none");
    expect(at({ wind: 9.625, gust: 9.625 }, "aloft", { policy })).toBe("wind");
    expect(at({ wind: 5, gust: 12.5 }, "aloft", { policy })).toBe("none");
    expect(at({ wind: 5, gust: 12.625 }, "aloft", { policy })).toBe("gust");
    expect(at({ rain: 0.5 }, "aloft", { policy })).toBe("none");
    expect(at({ rain: 0.625 }, "aloft", { policy })).toBe("rain");
    expect(at({ temp: 5 }, "open connection")).toBe("none");
    expect(at({ temp: 4.875 }, "open connection")).toBe("temperature");
  });

  it("tell gust from mean wind", () => {
    expect(at({ wind: 6, gust: 14 }, "aloft")).toBe("gust");
    expect(at({ wind: 10, gust: 11 }, "aloft")).toBe("wind");
  });

  it("read the wind at the mount, not at 10 m", () => {
    const values = { wind: 8.5, gust: 9 };
    expect(at(values, "aloft")).toBe("none");
    // 8.5 m/s at 10 m is 8.5 x 10.4301 / 8 = 11.08 m/s at 50 m in category II
    expect(at(values, "aloft", { site: { ...SITE, heightM: 50 } })).toBe("wind");
    expect(at(values, "ground", { site: { ...SITE, heightM: 50 } })).toBe("none");
  });

  it("derive a missing gust from the mean by turbulence", () => {
    // category II at 10 m: 1.5235 x 8.6 = 13.1 m/s
    expect(at({ wind: 8.6, gust: Number.NaN }, "aloft")).toBe("gust");
    expect(at({ wind: 8.5, gust: Number.NaN }, "aloft")).toBe("none");
  });

  it("never read a gust under the mean wind", () => {
    const policy = policyWith({ aloft: { windMaxMs: undefined } });
    expect(at({ wind: 13.5, gust: 5 }, "aloft", { policy })).toBe("gust");
  });

  it("stop a large dish earlier than a small one", () => {
    const values = { wind: 8, gust: 10.8 };
    expect(at(values, "hoist", { site: { ...SITE, diameterM: 0.6 } })).toBe("none");
    expect(at(values, "hoist", { site: { ...SITE, diameterM: 1.8 } })).toBe("gust");
    expect(at(values, "aloft", { site: { ...SITE, diameterM: 1.8 } })).toBe("none");
  });

  it("close alignment for rain on the path above 10 GHz only", () => {
    expect(at({ rain: 0.3 }, "alignment", { site: { ...SITE, bandGhz: 18 } })).toBe("rain");
    expect(at({ rain: 0.3 }, "alignment", { site: { ...SITE, bandGhz: undefined } })).toBe("rain");
    expect(at({ rain: 0.3 }, "alignment", { site: { ...SITE, bandGhz: 7 } })).toBe("none");
    expect(at({ rain: 0.6 }, "alignment", { site: { ...SITE, bandGhz: 7 } })).toBe("rain");
  });

  it("correct the temperature to the site's elevation", () => {
    // 6.5 K/km: 500 m up, 8 degC at the place are 4.75 degC
    expect(at({ temp: 8 }, "open connection")).toBe("none");
    expect(at({ temp: 8 }, "open connection", { site: { ...SITE, elevationM: 500 } })).toBe("temperature");
  });

  it("close for wind chill and heat index", () => {
    // -10 degC at 8 m/s chills to -19.3, at 9.5 m/s to -20.1
    expect(at({ temp: -10, wind: 8, gust: 9 }, "aloft")).toBe("none");
    expect(at({ temp: -10, wind: 9.5, gust: 9.5 }, "aloft")).toBe("wind chill");
    expect(at({ temp: 33, humidity: 40 }, "aloft")).toBe("none");
    expect(at({ temp: 33, humidity: 80 }, "aloft")).toBe("heat index");
  });

  it("close climbing for icing, also for hours after the rain", () => {
    const series = seriesOf(72, (h) => ({ temp: -1, rain: h === 30 ? 0.1 : 0 }));
    const mask = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
    expect(factorAt(mask, bit("aloft"), 36)).toBe("icing"); // rain five whole hours ago
    expect(factorAt(mask, bit("aloft"), 37)).toBe("none");
    expect(at({ temp: -1, rain: 0.1 }, "ground")).toBe("none");
  });

  it("never close indoor work", () => {
    expect(at({ wind: 40, gust: 60, rain: 50, temp: -40, thunder: 1 }, "indoor")).toBe("none");
    expect(at({ wind: Number.NaN, rain: Number.NaN }, "indoor")).toBe("none");
  });
});

describe("dry time", () => {
  it("asks for whole hours without rain behind", () => {
    const series = seriesOf(72, (h) => ({ rain: h === 34 ? 1 : 0 }));
    const mask = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
    expect([34, 35, 36, 37].map((h) => factorAt(mask, bit("open connection"), h))).toEqual([
      "rain",
      "dry time",
      "dry time",
      "none",
    ]);
    expect([34, 35, 36].map((h) => factorAt(mask, bit("climb"), h))).toEqual(["rain", "dry time", "none"]);
  });
});

describe("thunder", () => {
  const factors = (thunderAt: readonly number[], thunderWaitH = 0.5) => {
    const series = seriesOf(72, (h) => ({ thunder: thunderAt.includes(h) ? 1 : 0 }));
    const mask = hourMask(series, SITE, policyWith({}, { thunderWaitH }));
    return [32, 33, 34, 35, 36, 37]
      .map((h) => (factorAt(mask, bit("aloft"), h) === "thunder" ? "T" : "-"))
      .join("");
  };

  it("closes the hour and the wait of 30 minutes after it", () => {
    expect(factors([33])).toBe("-TT---");
  });

  it("starts the wait anew after every thunder", () => {
    expect(factors([33, 34])).toBe("-TTT--");
    expect(factors([33, 35])).toBe("-TTTT-");
  });

  it("waits longer where the policy says so", () => {
    expect(factors([33], 2)).toBe("-TTT--");
    expect(factors([33], 0)).toBe("-T----");
  });
});

describe("gaps", () => {
  it.each(["wind", "rain", "temp", "thunder"] as const)("a missing %s closes work aloft", (name) => {
    expect(at({ [name]: Number.NaN }, "aloft")).toBe("no data");
  });

  it("hide whether it rained or thundered in the hours behind", () => {
    const series = seriesOf(72, (h) => ({
      rain: h === 34 ? Number.NaN : 0,
      thunder: h === 34 ? Number.NaN : 0,
    }));
    const mask = hourMask(series, SITE, DEFAULT_WEATHER_POLICY);
    expect(factorAt(mask, bit("open connection"), 36)).toBe("no data");
    expect(factorAt(mask, bit("open connection"), 37)).toBe("none");
    expect(factorAt(mask, bit("aloft"), 35)).toBe("no data");
    expect(factorAt(mask, bit("aloft"), 36)).toBe("none");
  });

  it("before the series begins count as gaps", () => {
    const mask = hourMask(
      seriesOf(24, () => ({}), MONDAY + 10 * 3_600_000),
      SITE,
      DEFAULT_WEATHER_POLICY,
    );
    expect([0, 1, 2].map((h) => factorAt(mask, bit("open connection"), h))).toEqual([
      "no data",
      "no data",
      "none",
    ]);
  });

  it("of humidity matter only in heat", () => {
    expect(at({ humidity: Number.NaN }, "aloft")).toBe("none");
    expect(at({ humidity: Number.NaN, temp: 36 }, "aloft")).toBe("no data");
  });
});

describe("daylight", () => {
  it("opens only hours that lie in it from end to end", () => {
    // 50 N 0 E, 3 June: civil dawn 03:11, dusk 20:45 UTC (suncalc); ten minutes off at both ends
    const mask = hourMask(seriesOf(48), SITE, DEFAULT_WEATHER_POLICY);
    const open = Array.from({ length: 24 }, (_, h) => h).filter(
      (h) => factorAt(mask, bit("aloft"), 24 + h) === "none",
    );
    expect(open).toEqual(Array.from({ length: 16 }, (_, i) => i + 4));
  });

  it("is named before the weather: no working hour is lost at night", () => {
    expect(at({}, "aloft", { hour: 48 })).toBe("daylight");
    const stormy = seriesOf(72, () => ({ wind: 30 }));
    expect(factorAt(hourMask(stormy, SITE, DEFAULT_WEATHER_POLICY), bit("aloft"), 48)).toBe("daylight");
  });

  it("alone closes the mask of perfect weather", () => {
    const clear = daylightOnlyMask(SITE, DEFAULT_WEATHER_POLICY, MONDAY, 72);
    const fine = hourMask(seriesOf(72), SITE, DEFAULT_WEATHER_POLICY);
    expect(clear.workable.slice(24)).toEqual(fine.workable.slice(24));
    expect(clear.factor.slice(24 * WORK_CLASSES.length)).toEqual(fine.factor.slice(24 * WORK_CLASSES.length));
  });
});

describe("jointMask", () => {
  it("opens hours in which both ends may work, and names what closes either", () => {
    const near = hourMask(
      seriesOf(72, (h) => ({ rain: h === 36 ? 1 : 0 })),
      SITE,
      DEFAULT_WEATHER_POLICY,
    );
    const far = hourMask(
      seriesOf(72, (h) => ({ wind: h === 17 ? 20 : 3 }), MONDAY + 20 * 3_600_000),
      SITE,
      DEFAULT_WEATHER_POLICY,
    );
    const joint = jointMask(near, far);
    expect(joint).toMatchObject({ startsAtMillis: MONDAY + 20 * 3_600_000, hours: 52 });
    const factor = (h: number) => factorAt(joint, bit("alignment"), h - 20);
    expect(factor(36)).toBe("rain");
    expect(factor(37)).toBe("wind");
    expect(factor(38)).toBe("none");
    expect((joint.workable[18]! >> bit("alignment")) & 1).toBe(1);
  });

  it("refuses masks whose hours do not meet", () => {
    const a = daylightOnlyMask(SITE, DEFAULT_WEATHER_POLICY, MONDAY, 24);
    expect(() => jointMask(a, { ...a, startsAtMillis: MONDAY + 60_000 })).toThrow(RangeError);
  });
});

/* ---- properties ---- */

const gap = (arbitrary: fc.Arbitrary<number>) => fc.option(arbitrary, { nil: Number.NaN, freq: 12 });
const anyHour = fc.record({
  wind: gap(fc.double({ min: 0, max: 16, noNaN: true })),
  gust: gap(fc.double({ min: 0, max: 24, noNaN: true })),
  rain: gap(fc.constantFrom(0, 0, 0, 0, 0.1, 0.2, 0.5, 2, 6)),
  temp: gap(fc.double({ min: -30, max: 45, noNaN: true })),
  humidity: gap(fc.double({ min: 5, max: 100, noNaN: true })),
  thunder: gap(fc.constantFrom(0, 0, 0, 0, 0, 1)),
});
const anySite: fc.Arbitrary<SiteProfile> = fc.record({
  heightM: fc.double({ min: 0, max: 120, noNaN: true }),
  terrain: fc.constantFrom("0", "I", "II", "III", "IV"),
  latDeg: fc.double({ min: -66, max: 66, noNaN: true }),
  lonDeg: fc.double({ min: -180, max: 180, noNaN: true }),
  elevationM: fc.integer({ min: 0, max: 2000 }),
  placeElevationM: fc.integer({ min: 0, max: 500 }),
  zone: fc.constant("UTC"),
  diameterM: fc.option(fc.constantFrom(0.3, 0.6, 1.2, 1.8, 3), { nil: undefined }),
  bandGhz: fc.option(fc.constantFrom(6, 10, 18, 38), { nil: undefined }),
});
const anySeries = fc
  .array(anyHour, { minLength: 24, maxLength: 72 })
  .map((hours): WeatherSeries => seriesOf(hours.length, (h) => hours[h]!));
const anyPolicy = fc.constantFrom<WeatherPolicy>(
  DEFAULT_WEATHER_POLICY,
  policyWith({}, { windProfile: "power", daylight: "sun up", thunderWaitH: 1.5 }),
  policyWith({ ground: { windMaxMs: undefined, gustMaxMs: undefined }, aloft: { tempMaxC: 35 } }),
);

describe("hourMask, for any weather", () => {
  it("agrees with the verdict in words, hour by hour and class by class", () => {
    fc.assert(
      fc.property(anySeries, anySite, anyPolicy, (series, site, policy) => {
        const mask = hourMask(series, site, policy);
        for (let h = 0; h < series.hours; h += 5) {
          for (const c of WORK_CLASSES) {
            const verdict = verdictAt(series, site, policy, c, h);
            expect(factorAt(mask, bit(c), h), `${c} ${h}: ${verdict.text}`).toBe(verdict.factor);
            expect((mask.workable[h]! >> bit(c)) & 1).toBe(verdict.workable ? 1 : 0);
          }
        }
      }),
      { seed: 11, numRuns: 60 },
    );
  });

  it("never allows an hour in which a figure is over its limit or missing", () => {
    fc.assert(
      fc.property(anySeries, anySite, anyPolicy, (series, site, policy) => {
        const mask = hourMask(series, site, policy);
        for (let h = 0; h < series.hours; h++) {
          for (const c of WORK_CLASSES) {
            if (!((mask.workable[h]! >> bit(c)) & 1)) continue;
            const limits = limitsAtSite(c, site, policy);
            const now = conditionsAt(series, site, policy, c, h);
            // 1e-6: limits are compared in the 32-bit precision of the series
            const atMost = (value: number, max: number | undefined) =>
              max === undefined || value <= max + 1e-6;
            expect(atMost(now.windMs, limits.windMaxMs)).toBe(true);
            expect(atMost(now.gustMs, limits.gustMaxMs)).toBe(true);
            expect(atMost(now.rainMmH, limits.rainMaxMmH)).toBe(true);
            expect(atMost(now.tempC, limits.tempMaxC)).toBe(true);
            expect(atMost(-now.tempC, limits.tempMinC && -limits.tempMinC)).toBe(true);
            if (!Number.isNaN(now.windChillC)) {
              expect(atMost(-now.windChillC, limits.windChillMinC && -limits.windChillMinC)).toBe(true);
            }
            if (!Number.isNaN(now.heatIndexC))
              expect(atMost(now.heatIndexC, limits.heatIndexMaxC)).toBe(true);
            if (limits.stopsForThunder) expect(now.thunder).toBe(0);
            if (limits.needsDaylight) expect(now.isLight).toBe(true);
          }
        }
      }),
      { seed: 12, numRuns: 40 },
    );
  });

  it("opens no hour more when a limit becomes stricter", () => {
    const strict = policyWith({
      aloft: { windMaxMs: 6, gustMaxMs: 8, rainMaxMmH: 0, tempMinC: 0, dryHoursBefore: 3 },
    });
    fc.assert(
      fc.property(anySeries, anySite, (series, site) => {
        const loose = hourMask(series, site, DEFAULT_WEATHER_POLICY);
        const tight = hourMask(series, site, strict);
        for (let h = 0; h < series.hours; h++) expect(tight.workable[h]! & ~loose.workable[h]!).toBe(0);
      }),
      { seed: 13, numRuns: 40 },
    );
  });
});
