import { expect, test } from "vitest";
import { normalQuantile } from "@/lib/hours";
import { workFactor } from "@/lib/risk/range";

const range = { p10: 0.9, p50: 1.02, p80: 1.2, p90: 1.35 };

test("draws meet the four quantiles that are given", () => {
  for (const [p, want] of [
    [0.1, 0.9],
    [0.5, 1.02],
    [0.8, 1.2],
    [0.9, 1.35],
  ] as const)
    expect(workFactor(range, normalQuantile(p))).toBeCloseTo(want, 6);
});

test("more chance is never less time, and the tails end at three standard deviations", () => {
  for (let z = -4; z < 4; z += 0.05)
    expect(workFactor(range, z + 0.05)).toBeGreaterThanOrEqual(workFactor(range, z));
  expect(workFactor(range, 5)).toBe(workFactor(range, 3));
  expect(workFactor({ p10: 0, p50: 1, p80: 1, p90: 1 }, -3)).toBe(0.05);
});
