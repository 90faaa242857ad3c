import { describe, expect, test } from "vitest";
import { shrunkMean, variancesOf } from "@/lib/calibration";
import { priorWeight } from "@/lib/calibration/shrink";

describe("shrinkage", () => {
  test("nothing known leaves nothing; much known leaves the mean", () => {
    expect(shrunkMean(0.3, 0, 5)).toBe(0);
    expect(shrunkMean(0.3, 5, 5)).toBeCloseTo(0.15, 12);
    expect(shrunkMean(0.3, 5000, 5)).toBeCloseTo(0.3, 3);
    expect(shrunkMean(0.3, 4, 0)).toBe(0.3);
  });
  test("a count or a weight below 0 is a mistake", () => {
    expect(() => shrunkMean(0.3, -1, 5)).toThrow("n must be >= 0");
    expect(() => shrunkMean(0.3, 1, -5)).toThrow("k must be >= 0");
  });
});

describe("the prior's weight", () => {
  test("two groups, or hardly any values, tell nothing: the default stands", () => {
    expect(
      variancesOf([
        [1, 2, 3, 4, 5],
        [2, 3, 4, 5, 6],
      ]),
    ).toBeUndefined();
    expect(priorWeight([[1, 2], [2], [3]], 5)).toEqual({ k: 5, isFromData: false });
  });
  test("groups that differ less than noise would get the heaviest prior", () => {
    const groups = [
      [-1, 0, 1],
      [-1, 0, 1],
      [-1, 0, 1],
    ];
    expect(priorWeight(groups, 5)).toEqual({ k: 1000, isFromData: true });
  });
  test("it is the variance within over the variance between", () => {
    const groups = [2, 6, 4, 8].map((m) => [m - 2, m, m + 2]);
    expect(priorWeight(groups, 5)).toEqual({ k: 4 / (16 / 3), isFromData: true });
  });
});

test("the worked example of docs/methods/calibration.md", () => {
  const ratios = [1.2, 1.3, 1.1, 1.3].map(Math.log);
  const mean = ratios.reduce((a, b) => a + b, 0) / 4;
  expect(mean).toBeCloseTo(0.2006, 4);
  expect(Math.exp(shrunkMean(mean, 4, 4))).toBeCloseTo(1.1055, 4);
  expect(Math.exp(shrunkMean(mean, 4, 1))).toBeCloseTo(1.1741, 4);
  const logSd = 0.15 / Math.sqrt(8);
  const factor = Math.exp(shrunkMean(mean, 4, 4));
  expect(factor * Math.exp(-1.281552 * logSd)).toBeCloseTo(1.0329, 4);
  expect(factor * Math.exp(1.281552 * logSd)).toBeCloseTo(1.1832, 4);
});
