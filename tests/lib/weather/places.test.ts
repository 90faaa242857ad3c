import { describe, expect, it } from "vitest";
import { blendSeries, blendShares, joinSeries, nearestPlace, servingPlace } from "@/lib/weather";
import { MONDAY, seriesOf } from "./weather-fixtures";

const places = [
  { id: "A", latDeg: 50, lonDeg: 0 },
  { id: "B", latDeg: 50.1, lonDeg: 0 },
  { id: "C", latDeg: 51, lonDeg: 0 },
];
const site = { latDeg: 50.03, lonDeg: 0 };
const HOUR = 3_600_000;

describe("nearestPlace", () => {
  it("takes the nearest within the radius", () => {
    const found = nearestPlace(site, places, 40);
    expect(found?.place.id).toBe("A");
    expect(found?.distanceKm).toBeCloseTo(3.336, 2);
  });

  it("finds none when all are too far: the site has no weather", () => {
    expect(nearestPlace({ latDeg: 60, lonDeg: 0 }, places, 40)).toBeUndefined();
  });
});

describe("servingPlace", () => {
  const served = (...withHours: string[]) =>
    servingPlace(site, places, 40, (p) => withHours.includes(p.id))?.place.id;

  it("passes over a nearer place without hours as long as another in reach has some", () => {
    expect(served("A", "B")).toBe("A");
    expect(served("B")).toBe("B");
    expect(served("C")).toBe("A");
    expect(served()).toBe("A");
  });
});

describe("blendShares", () => {
  it("weighs by inverse square distance within the radius", () => {
    const shares = blendShares(site, places, 40);
    expect(shares.map((s) => s.place.id)).toEqual(["A", "B"]);
    expect(shares[0]!.share / shares[1]!.share).toBeCloseTo((7 / 3) ** 2, 3);
    expect(shares.reduce((sum, s) => sum + s.share, 0)).toBeCloseTo(1, 12);
  });
});

describe("blendSeries", () => {
  const wet = seriesOf(3, () => ({ wind: 8, temp: 10, rain: 2, thunder: 1 }));
  const dry = seriesOf(3, (h) => ({ wind: h === 2 ? Number.NaN : 4, temp: 6 }));

  it("averages by share, with temperatures brought to the site's elevation", () => {
    const blend = blendSeries(
      [
        { series: wet, share: 0.25, elevationM: 0 },
        { series: dry, share: 0.75, elevationM: 1000 },
      ],
      "S1",
      500,
      -6.5,
    );
    expect(blend.windMs[0]).toBeCloseTo(5, 5);
    expect(blend.rainMmH[0]).toBeCloseTo(0.5, 5);
    expect(blend.tempC[0]).toBeCloseTo(0.25 * (10 - 3.25) + 0.75 * (6 + 3.25), 5);
  });

  it("lets thunder at any of them count, and others carry a missing value", () => {
    const parts = [
      { series: wet, share: 0.25, elevationM: 0 },
      { series: dry, share: 0.75, elevationM: 0 },
    ];
    const blend = blendSeries(parts, "S1", 0, -6.5);
    expect(blend.thunder[0]).toBe(1);
    expect(blend.windMs[2]).toBe(8);
    expect(blend.source).toBe("blend of P1 25 %, P1 75 %");
  });

  it("keeps hours missing that all lack", () => {
    const gap = seriesOf(3, () => ({ rain: Number.NaN }));
    const blend = blendSeries([{ series: gap, share: 1, elevationM: 0 }], "S1", 0, -6.5);
    expect(Number.isNaN(blend.rainMmH[0])).toBe(true);
  });

  it("refuses parts of different kinds", () => {
    const history = { ...dry, kind: "history" as const };
    expect(() =>
      blendSeries(
        [
          { series: wet, share: 0.5, elevationM: 0 },
          { series: history, share: 0.5, elevationM: 0 },
        ],
        "S1",
        0,
        -6.5,
      ),
    ).toThrow(RangeError);
  });
});

describe("joinSeries", () => {
  it("lets the latest issue win hour by hour and older ones fill its gaps", () => {
    const older = { ...seriesOf(6, () => ({ wind: 1 })), issuedAtMillis: 1 };
    const newer = {
      ...seriesOf(3, (h) => ({ wind: h === 1 ? Number.NaN : 2 }), MONDAY + 2 * HOUR),
      issuedAtMillis: 2,
    };
    for (const blocks of [
      [older, newer],
      [newer, older],
    ]) {
      const joined = joinSeries(blocks);
      expect([...joined.windMs]).toEqual([1, 1, 2, 1, 2, 1]);
      expect(joined.issuedAtMillis).toBe(2);
    }
  });

  it("leaves hours that no block covers missing", () => {
    const joined = joinSeries([seriesOf(2), seriesOf(2, () => ({}), MONDAY + 3 * HOUR)]);
    expect([...joined.windMs]).toEqual([3, 3, Number.NaN, 3, 3]);
  });

  it("refuses blocks of different places", () => {
    expect(() => joinSeries([seriesOf(1), { ...seriesOf(1), placeId: "P2" }])).toThrow(RangeError);
  });
});
