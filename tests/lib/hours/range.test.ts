import { describe, expect, it } from "vitest";
import { normalQuantile, pertMeanMin, type ThreePoint } from "@/lib/hours";
import { Random } from "@/lib/random";
import { betaPertQuantile } from "../../../lib/hours/betaPert";
import { simulateRange } from "../../../lib/hours/range";

const three = (aMin: number, mMin: number, bMin: number): ThreePoint => ({ aMin, mMin, bMin });

describe("betaPertQuantile", () => {
  it("has the PERT mean wherever the mode lies", () => {
    for (const f of [0, 0.1, 0.25, 1 / 3, 0.5, 0.77, 1]) {
      let sum = 0;
      for (let k = 0; k < 20_000; k++) sum += betaPertQuantile(f, (k + 0.5) / 20_000);
      expect(Math.abs(sum / 20_000 - (0 + 4 * f + 1) / 6)).toBeLessThan(0.002);
    }
  });

  it("rises from the lowest to the highest value", () => {
    for (const f of [0, 0.3, 0.5, 1]) {
      expect(betaPertQuantile(f, 0)).toBe(0);
      expect(betaPertQuantile(f, 1)).toBe(1);
      for (let u = 0.01; u < 1; u += 0.01) {
        expect(betaPertQuantile(f, u)).toBeGreaterThanOrEqual(betaPertQuantile(f, u - 0.01));
      }
    }
  });

  it("is symmetric when the mode is in the middle", () => {
    for (const u of [0.05, 0.2, 0.4]) {
      expect(betaPertQuantile(0.5, u) + betaPertQuantile(0.5, 1 - u)).toBeCloseTo(1, 6);
    }
  });
});

describe("simulateRange", () => {
  it("agrees with the closed form on a serial chain (normal approximation)", () => {
    const tasks = Array.from({ length: 25 }, (_, i) => three(10 + i, 15 + i, 30 + i));
    const after = tasks.map((_, i) => (i > 0 ? [i - 1] : []));
    const range = simulateRange(tasks, after, new Random(5), 20_000);
    const mean = tasks.reduce((sum, t) => sum + pertMeanMin(t), 0);
    // Variance of the beta-PERT distribution: (mean - a)(b - mean) / 7.
    const variance = tasks.reduce((sum, t) => {
      const te = pertMeanMin(t);
      return sum + ((te - t.aMin) * (t.bMin - te)) / 7;
    }, 0);
    const closed = (p: number): number => mean + normalQuantile(p) * Math.sqrt(variance);
    expect(Math.abs(range.meanMin - mean)).toBeLessThan(1);
    expect(Math.abs(range.p10Min - closed(0.1))).toBeLessThan(1);
    expect(Math.abs(range.p50Min - closed(0.5))).toBeLessThan(1);
    expect(Math.abs(range.p80Min - closed(0.8))).toBeLessThan(1);
    expect(Math.abs(range.p90Min - closed(0.9))).toBeLessThan(1);
  });

  it("lies above the mean of either where two branches meet", () => {
    const tasks = [three(10, 20, 30), three(10, 20, 30), three(0, 0, 0)];
    const range = simulateRange(tasks, [[], [], [0, 1]], new Random(5), 5000);
    expect(range.meanMin).toBeGreaterThan(20.5);
  });

  it("is the value itself where nothing varies", () => {
    const range = simulateRange([three(7, 7, 7), three(5, 5, 5)], [[], [0]], new Random(1), 50);
    expect(range).toEqual({ p10Min: 12, p50Min: 12, p80Min: 12, p90Min: 12, meanMin: 12 });
  });

  it("is the same for the same seed", () => {
    const tasks = [three(10, 20, 40), three(5, 6, 9)];
    const run = (seed: number) => simulateRange(tasks, [[], [0]], new Random(seed));
    expect(run(1)).toEqual(run(1));
    expect(run(1)).not.toEqual(run(2));
  });
});
