import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { GROUPED_FROM, mapMarks } from "@/lib/map";
import { Random } from "@/lib/random";

const points = (count: number, seed = "marks") => {
  const random = new Random(seed);
  return Array.from({ length: count }, () => ({
    x: random.between(0.42, 0.43),
    y: random.between(0.35, 0.36),
  }));
};

describe("mapMarks", () => {
  it("draws fewer points than the limit one by one at any zoom", () => {
    for (const zoom of [2, 8, 12])
      expect(mapMarks(points(GROUPED_FROM - 1), zoom)).toHaveLength(GROUPED_FROM - 1);
  });
  it("puts every point into exactly one mark", () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 16 }), fc.integer({ min: 400, max: 700 }), (zoom, count) => {
        const members = mapMarks(points(count), zoom).flatMap((m) => [...m.members]);
        expect(members.sort((a, b) => a - b)).toEqual(Array.from({ length: count }, (_, i) => i));
      }),
      { numRuns: 25 },
    );
  });
  it("makes of 2,000 sites a number of marks that a screen has room for, and more the closer one comes", () => {
    const many = points(2000);
    const counts = [7, 8, 9, 10, 11, 12, 13].map((zoom) => mapMarks(many, zoom).length);
    expect(counts[0]).toBeLessThan(100);
    expect([...counts].sort((a, b) => a - b)).toEqual(counts);
    expect(counts.at(-1)).toBe(2000);
  });
  it("places a group at the mean of its members", () => {
    for (const { x, y, members } of mapMarks(points(500), 6)) {
      const all = points(500);
      expect(x).toBeCloseTo(members.reduce((s, i) => s + all[i]!.x, 0) / members.length, 12);
      expect(y).toBeCloseTo(members.reduce((s, i) => s + all[i]!.y, 0) / members.length, 12);
    }
  });
  it("groups alike within one level of zoom, so that moving closer by little changes nothing", () => {
    expect(mapMarks(points(900), 8.01)).toEqual(mapMarks(points(900), 8.99));
  });
});
