import { describe, expect, it } from "vitest";
import { Random } from "@/lib/random";
import {
  bandedProfile,
  bandedSegments,
  DEFAULT_WEATHER_POLICY,
  historyKey,
  hourMask,
  type ShiftWeek,
  segmentsKey,
} from "@/lib/weather";
import { SITE, seriesOf } from "./weather-fixtures";

const WEEK: ShiftWeek = [{ fromMin: 480, toMin: 960 }, null, null, null, null, null, null];
const PLACE = { latDeg: 50.1, lonDeg: 0.1 };
const key = (site: typeof SITE) => historyKey("P1", bandedProfile(site, PLACE), DEFAULT_WEATHER_POLICY, WEEK);

describe("bandedProfile and historyKey", () => {
  it("share a key within a band and not beyond", () => {
    const at = (heightM: number) => key({ ...SITE, heightM });
    expect(at(31)).toBe(at(40));
    expect(at(30)).not.toBe(at(31));
    expect(key({ ...SITE, elevationM: 40 })).toBe(key(SITE));
    expect(key({ ...SITE, elevationM: 160 })).not.toBe(key(SITE));
    expect(key({ ...SITE, bandGhz: 18 })).toBe(key({ ...SITE, bandGhz: undefined }));
    expect(key({ ...SITE, bandGhz: 7 })).not.toBe(key({ ...SITE, bandGhz: 18 }));
    expect(key({ ...SITE, latDeg: 50.05 })).toBe(key(SITE));
  });

  it("never open an hour for wind or gust that the site itself keeps closed", () => {
    const random = new Random("bands");
    const series = seriesOf(72, () => ({ wind: random.between(4, 12), gust: random.between(6, 16) }));
    for (const heightM of [3, 17, 33, 71, 130]) {
      const site = { ...SITE, heightM, diameterM: 1.3 };
      const own = hourMask(series, site, DEFAULT_WEATHER_POLICY);
      const shared = hourMask(
        series,
        { ...bandedProfile(site, PLACE), latDeg: site.latDeg, lonDeg: site.lonDeg },
        DEFAULT_WEATHER_POLICY,
      );
      for (let h = 0; h < 72; h++) expect(shared.workable[h]! & ~own.workable[h]!).toBe(0);
    }
  });
});

describe("bandedSegments and segmentsKey", () => {
  it("round durations up so that near-equal sequences share a key", () => {
    const of = (durationMin: number) =>
      segmentsKey(bandedSegments([{ workClass: "aloft", durationMin, splittable: true }]));
    expect(of(241)).toBe(of(270));
    expect(of(240)).not.toBe(of(241));
  });
});
