import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bestFitDecreasing, binsBound, firstFitDecreasing, packBins } from "@/lib/drums";
import { reachableSums } from "@/lib/drums/bounds";
import { tightest } from "@/lib/drums/tightest";
import { fewestBins } from "./exhaustive";

const small = fc.array(fc.integer({ min: 1, max: 40 }), { maxLength: 9 });

describe("bin packing", () => {
  it("bounds from below, packs to the optimum of small sets, and first-fit keeps its guarantee", () => {
    fc.assert(
      fc.property(small, fc.integer({ min: 40, max: 60 }), (items, capacity) => {
        const best = fewestBins(items, capacity);
        const { bins, lowerBound } = packBins(items, capacity);
        expect(binsBound(items, capacity)).toBeLessThanOrEqual(best);
        expect(lowerBound).toBeLessThanOrEqual(best);
        expect(bins.length).toBe(best);
        const first = firstFitDecreasing(items, capacity).length;
        expect(9 * first).toBeLessThanOrEqual(11 * best + 6);
        expect(bestFitDecreasing(items, capacity).length).toBeGreaterThanOrEqual(best);
      }),
      { numRuns: 200, seed: 5 },
    );
  });

  it("puts every item in one bin and no bin over its capacity", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 100 }), { maxLength: 60 }), (items) => {
        for (const bins of [
          packBins(items, 100, { effort: 20_000 }).bins,
          firstFitDecreasing(items, 100),
          bestFitDecreasing(items, 100),
        ]) {
          expect(bins.flat().sort((a, b) => a - b)).toEqual([...items.keys()]);
          for (const bin of bins) {
            expect(bin.reduce((sum, item) => sum + items[item]!, 0)).toBeLessThanOrEqual(100);
          }
        }
      }),
      { numRuns: 50, seed: 6 },
    );
  });

  it("has no bins for no items, and refuses sizes that do not fit", () => {
    expect(packBins([], 10)).toEqual({ bins: [], lowerBound: 0 });
    expect(() => packBins([11], 10)).toThrow(RangeError);
    expect(() => packBins([0], 10)).toThrow(RangeError);
    expect(() => packBins([1], 0)).toThrow(RangeError);
  });
});

describe("reachable sums and the tightest filling", () => {
  it("agree with trying every subset", () => {
    fc.assert(
      fc.property(small, fc.integer({ min: 0, max: 120 }), (items, room) => {
        let best = 0;
        for (let mask = 0; mask < 1 << items.length; mask++) {
          const sum = items.reduce((s, size, k) => s + ((mask >> k) & 1) * size, 0);
          if (sum <= room) best = Math.max(best, sum);
        }
        expect(reachableSums(items, 200)(room)).toBe(best);
        const sorted = [...items].sort((a, b) => b - a);
        const { chosen } = tightest(sorted, [...sorted.keys()], room, 10_000);
        expect(new Set(chosen).size).toBe(chosen.length);
        expect(chosen.reduce((sum, k) => sum + sorted[k]!, 0)).toBe(best);
      }),
      { numRuns: 200, seed: 7 },
    );
  });
});
