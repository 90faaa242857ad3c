import { describe, expect, it } from "vitest";
import { DEFAULT_NORMS, estimateHours } from "@/lib/hours";
import { CREW_OF_FOUR, endWork, standbyWork } from "./work";

describe("estimateHours", () => {
  it("gives segments that add up to the make-span, and a range in order", () => {
    for (const work of [endWork(), standbyWork()]) {
      const e = estimateHours(work, DEFAULT_NORMS, CREW_OF_FOUR);
      expect(e.segments.reduce((sum, s) => sum + s.durationMin, 0)).toBe(e.durationMin);
      expect(e.durationMin).toBeGreaterThanOrEqual(e.lowerBoundMin);
      expect(e.p10Min).toBeLessThan(e.p50Min);
      expect(e.p50Min).toBeLessThan(e.p80Min);
      expect(e.p80Min).toBeLessThan(e.p90Min);
    }
  });

  it("gives the same figures for the same input", () => {
    const once = estimateHours(standbyWork(), DEFAULT_NORMS, CREW_OF_FOUR);
    expect(estimateHours(standbyWork(), DEFAULT_NORMS, CREW_OF_FOUR)).toEqual(once);
  });

  it("says what a crew lacks", () => {
    const e = estimateHours(endWork(), DEFAULT_NORMS, { people: [["climber"], ["ground"]] });
    expect(e.shortfall).toEqual([
      { skill: "climber", missing: 1 },
      { skill: "technician", missing: 1 },
      { skill: "rescue", missing: 1 },
    ]);
  });
});
