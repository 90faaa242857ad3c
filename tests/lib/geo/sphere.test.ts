import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bearingDeg, destination, distanceKm, MEAN_EARTH_RADIUS_KM } from "@/lib/geo";

const place = fc.record({
  latDeg: fc.double({ min: -85, max: 85, noNaN: true }),
  lonDeg: fc.double({ min: -180, max: 180, noNaN: true }),
});

describe("distanceKm", () => {
  it("is the same both ways and zero to itself", () => {
    fc.assert(
      fc.property(place, place, (a, b) => {
        expect(distanceKm(a, b)).toBeCloseTo(distanceKm(b, a), 9);
        expect(distanceKm(a, a)).toBe(0);
      }),
      { seed: 1 },
    );
  });

  it("is half the circumference to the antipode", () => {
    const half = Math.PI * MEAN_EARTH_RADIUS_KM;
    expect(distanceKm({ latDeg: 30, lonDeg: 20 }, { latDeg: -30, lonDeg: -160 })).toBeCloseTo(half, 6);
  });
});

describe("bearingDeg", () => {
  it.each([
    [{ latDeg: 1, lonDeg: 0 }, 0],
    [{ latDeg: 0, lonDeg: 1 }, 90],
    [{ latDeg: -1, lonDeg: 0 }, 180],
    [{ latDeg: 0, lonDeg: -1 }, 270],
  ])("points from the origin to %o at %d degrees", (to, expected) => {
    expect(bearingDeg({ latDeg: 0, lonDeg: 0 }, to)).toBeCloseTo(expected, 9);
  });
});

describe("destination", () => {
  it("lies at the asked distance and bearing", () => {
    fc.assert(
      fc.property(
        place,
        fc.double({ min: 0, max: 359.9, noNaN: true }),
        fc.double({ min: 0.1, max: 200, noNaN: true }),
        (from, bearing, km) => {
          const to = destination(from, bearing, km);
          expect(distanceKm(from, to)).toBeCloseTo(km, 6);
          const turn = Math.abs(((bearingDeg(from, to) - bearing + 540) % 360) - 180);
          expect(turn).toBeLessThan(1e-4);
        },
      ),
      { seed: 2 },
    );
  });

  it("keeps the longitude within half a turn across the date line", () => {
    const to = destination({ latDeg: 0, lonDeg: 179.9 }, 90, 50);
    expect(to.lonDeg).toBeLessThan(-179);
  });
});
