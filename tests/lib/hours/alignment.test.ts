import { describe, expect, it } from "vitest";
import { alignRange, composeAlignment, DEFAULT_NORMS, estimateAlignment, type HopWork } from "@/lib/hours";
import { CREW_OF_FOUR } from "./work";

const end = { structure: "lattice" as const, maxMountHeightM: 40, largestDiameterM: 0.6 };
const hop = (changes: Partial<HopWork> = {}): HopWork => ({
  hopId: "H1",
  scheme: "1+0",
  near: end,
  far: end,
  ...changes,
});

describe("alignRange", () => {
  const model = DEFAULT_NORMS.alignment;
  it("is 1 to 2 h up to 0.6 m, 2 to 4 h from 1.2 m, straight between", () => {
    expect(alignRange(0.3, "1+0", model)).toEqual(alignRange(0.6, "1+0", model));
    expect(alignRange(0.6, "1+0", model)).toMatchObject({ aMin: 60, bMin: 120 });
    expect(alignRange(1.2, "1+0", model)).toMatchObject({ aMin: 120, bMin: 240 });
    expect(alignRange(2.4, "1+0", model)).toEqual(alignRange(1.2, "1+0", model));
    expect(alignRange(0.9, "1+0", model).aMin).toBeCloseTo(90, 9);
  });

  it("is doubled for space diversity and for no other scheme", () => {
    expect(alignRange(0.6, "1+1 space diversity", model).mMin).toBe(2 * alignRange(0.6, "1+0", model).mMin);
    expect(alignRange(0.6, "2+0 dual-polar", model)).toEqual(alignRange(0.6, "1+0", model));
  });

  it("refuses an antenna of negative size", () => {
    expect(() => alignRange(-0.1, "1+0", model)).toThrow(RangeError);
  });
});

describe("the alignment visit", () => {
  it("happens at both ends, and follows the larger antenna and the longer climb of the two", () => {
    const even = composeAlignment(hop(), DEFAULT_NORMS);
    const uneven = composeAlignment(
      hop({ far: { ...end, maxMountHeightM: 80, largestDiameterM: 1.2 } }),
      DEFAULT_NORMS,
    );
    const turned = composeAlignment(
      hop({ near: { ...end, maxMountHeightM: 80, largestDiameterM: 1.2 } }),
      DEFAULT_NORMS,
    );
    expect(uneven).toEqual(turned);
    expect(even.filter((t) => t.where !== "both ends").every((t) => t.id.startsWith("rest-"))).toBe(true);
    const minutes = (list: typeof even, id: string): number => list.find((t) => t.id === id)!.duration.mMin;
    expect(minutes(uneven, "climb-1")).toBeGreaterThan(minutes(even, "climb-1"));
    expect(minutes(uneven, "align~1") + minutes(uneven, "align~2")).toBeGreaterThan(minutes(even, "align"));
  });

  it("is estimated with its needs, its range and its work classes", () => {
    const e = estimateAlignment(hop(), DEFAULT_NORMS, CREW_OF_FOUR);
    expect(e.endId).toBe("H1");
    expect(e.proved).toBe(true);
    expect(e.needs).toEqual({ climbers: 2, rescuers: 1, riggers: 0, technicians: 1, people: 2 });
    expect(e.segments.map((s) => s.workClass)).toContain("alignment");
    expect(e.segments.reduce((sum, s) => sum + s.durationMin, 0)).toBe(e.durationMin);
    expect(e.p10Min).toBeLessThan(e.p90Min);
  });
});
