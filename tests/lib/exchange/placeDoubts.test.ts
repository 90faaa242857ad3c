import { describe, expect, it } from "vitest";
import { firstHoursDoubts, type PlaceStand, type PreviewRow, placeDoubts } from "@/lib/exchange";
import { english } from "@/lib/phrase";

const place = (code: string, latDeg: number, has: Partial<PlaceStand> = {}): PlaceStand => ({
  code,
  latDeg,
  lonDeg: 8,
  hasForecast: false,
  hasPast: false,
  ...has,
});
const FULL = { hasForecast: true, hasPast: true };
const sites = [47.0, 47.05, 47.1, 49].map((latDeg) => ({ latDeg, lonDeg: 8 }));
const row = (of: PlaceStand, more: Partial<PreviewRow<"weather places">> = {}) =>
  ({
    rowNumber: 2,
    key: of.code,
    fate: "new",
    value: { code: of.code, name: of.code, latDeg: of.latDeg, lonDeg: 8, elevationM: 0 },
    changes: [],
    problems: [],
    ...more,
  }) as PreviewRow<"weather places">;

describe("places without hours", () => {
  const old = place("OLD", 47.2, FULL);
  const fresh = place("NEW", 47);
  const given = { before: [old], after: [old, fresh], sites, radiusKm: 40 };

  it("are said to be nearest to so many sites and to serve none", () => {
    const said = placeDoubts([row(fresh)], given).map(english);
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/Row 2, NEW: sites nearest to it: 2\. It has no hours/);
  });

  it("are nothing to say when no site is near, when they stand as they were, or when hours come with them", () => {
    expect(placeDoubts([row(fresh)], { ...given, sites: [] })).toEqual([]);
    expect(placeDoubts([row(fresh, { fate: "same" })], given)).toEqual([]);
    const filled = place("NEW", 47, FULL);
    expect(placeDoubts([row(filled)], { ...given, after: [old, filled] })).toEqual([]);
  });
});

describe("the first hours of a place", () => {
  const old = place("OLD", 47.2, FULL);
  const given = { before: [old, place("NEW", 47)], sites, radiusKm: 40 };
  const said = (has: Partial<PlaceStand>, before = given.before) =>
    firstHoursDoubts(["NEW", "OLD"], { ...given, before, after: [old, place("NEW", 47, has)] }).map(english);

  it("name the sites that change over and what the place lacks", () => {
    expect(said({ hasForecast: true })).toEqual([
      expect.stringMatching(
        /^NEW: .*from then on: 2, of which 2 read another place now\. It has no past years/,
      ),
    ]);
    expect(said({ hasPast: true })[0]).toMatch(/It has no forecast/);
    expect(said(FULL)[0]).toMatch(/another place now\.$/);
  });

  it("are nothing to say of a place that has hours already", () => {
    expect(said(FULL, [old, place("NEW", 47, { hasPast: true })])).toEqual([]);
  });
});
