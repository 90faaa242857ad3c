import { describe, expect, it } from "vitest";
import { DEFAULT_WEATHER_POLICY, limitsAtSite, policyChanges, WORK_CLASSES } from "@/lib/weather";
import { policyWith, SITE } from "./weather-fixtures";

describe("default policy", () => {
  it("names a source for the limits of every class", () => {
    for (const c of WORK_CLASSES) {
      expect(DEFAULT_WEATHER_POLICY.limits[c].source, c).toMatch(/\((V|M|C)\)|\((V|M|C),|common practice/);
    }
  });

  it("stops all work aloft by 10 m/s mean wind, hoisting by 20 mph", () => {
    for (const c of ["climb", "aloft", "open connection", "alignment"] as const) {
      expect(DEFAULT_WEATHER_POLICY.limits[c].windMaxMs).toBeLessThan(10);
    }
    expect(DEFAULT_WEATHER_POLICY.limits.hoist.windMaxMs).toBe(8.94);
  });
});

describe("limitsAtSite", () => {
  it("takes the smaller of class limit and drag for hoisting", () => {
    const gust = (diameterM?: number) =>
      limitsAtSite("hoist", { ...SITE, diameterM }, DEFAULT_WEATHER_POLICY).gustMaxMs;
    expect(gust()).toBe(11);
    expect(gust(1.2)).toBe(11);
    expect(gust(1.8)).toBeCloseTo(10.47, 2);
    expect(gust(3)).toBeCloseTo(6.28, 2);
  });

  it("lifts the path's rain limit at and under its frequency", () => {
    const rain = (bandGhz?: number) =>
      limitsAtSite("alignment", { ...SITE, bandGhz }, DEFAULT_WEATHER_POLICY).rainMaxMmH;
    expect([rain(7), rain(10), rain(10.5), rain(undefined)]).toEqual([0.5, 0.5, 0.2, 0.2]);
  });
});

describe("policyChanges", () => {
  const base = DEFAULT_WEATHER_POLICY;

  it("is empty for the same policy", () => {
    expect(policyChanges(base, structuredClone(base))).toEqual([]);
  });

  it("tells stricter from looser", () => {
    const looser = (after: typeof base) => policyChanges(base, after).map((c) => [c.field, c.isLooser]);
    expect(looser(policyWith({ aloft: { windMaxMs: 8 } }))).toEqual([["windMaxMs", false]]);
    expect(looser(policyWith({ aloft: { windMaxMs: 12 } }))).toEqual([["windMaxMs", true]]);
    expect(looser(policyWith({ aloft: { windMaxMs: undefined } }))).toEqual([["windMaxMs", true]]);
    expect(looser(policyWith({ climb: { tempMinC: -10 } }))).toEqual([["tempMinC", false]]);
    expect(looser(policyWith({ climb: { dryHoursBefore: 0 } }))).toEqual([["dryHoursBefore", true]]);
    expect(looser(policyWith({ ground: { needsDaylight: false } }))).toEqual([["needsDaylight", true]]);
    expect(looser(policyWith({ indoor: { stopsForThunder: true } }))).toEqual([["stopsForThunder", false]]);
    expect(looser(policyWith({ alignment: { rainAboveGhz: 13 } }))).toEqual([["rainAboveGhz", true]]);
    expect(looser(policyWith({ alignment: { rainAboveGhz: undefined } }))).toEqual([["rainAboveGhz", false]]);
    expect(looser(policyWith({}, { thunderWaitH: 1 }))).toEqual([["thunderWaitH", false]]);
    expect(looser(policyWith({}, { daylightMarginMin: 0 }))).toEqual([["daylightMarginMin", true]]);
    expect(looser(policyWith({}, { daylight: "sun up" }))).toEqual([["daylight", false]]);
  });

  it("treats a figure left out as its default", () => {
    expect(policyChanges(base, policyWith({}, { icingMemoryH: undefined }))).toEqual([]);
  });

  it("asks for a look where the direction depends on the site", () => {
    expect(policyChanges(base, policyWith({}, { windProfile: "power" }))[0]?.isLooser).toBe(true);
  });
});
