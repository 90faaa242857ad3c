/** Shrinkage and variance components against figures from outside. */
import { describe, expect, it } from "vitest";
import { shrunkMean, variancesOf } from "@/lib/calibration";

describe("normal-normal posterior", () => {
  const SOURCE =
    "Johnson, Ott and Dogucu, Bayes Rules!, chapter 5: prior N(6.5, 0.4^2), s = 0.5, 25 values of mean 5.735";
  const priorMean = 6.5;
  const n = 25;
  const within = 0.5 ** 2;
  const between = 0.4 ** 2;
  const k = within / between;

  it("mean 5.78", () => {
    const posterior = priorMean + shrunkMean(5.735 - priorMean, n, k);
    expect(posterior, `${SOURCE} (V)`).toBeCloseTo(5.78, 2);
  });
  it("variance 0.009411765: s2 / (n + k)", () => {
    expect(within / (n + k), `${SOURCE} (V)`).toBeCloseTo(0.009411765, 9);
  });
  it("is the precision-weighted mean of prior and data", () => {
    const weighted = (priorMean / between + (n * 5.735) / within) / (1 / between + n / within);
    expect(priorMean + shrunkMean(5.735 - priorMean, n, k)).toBeCloseTo(weighted, 12);
  });
});

describe("shares drawn toward their grand mean", () => {
  const SOURCE = "Efron and Morris 1977, 45 trials each: 0.212 of the deviation from 0.265 is kept";
  const k = (45 * (1 - 0.212)) / 0.212;
  it.each([
    { share: 0.4, expected: 0.294 },
    { share: 0.156, expected: 0.242 },
  ])("$share becomes $expected", ({ share, expected }) => {
    expect(0.265 + shrunkMean(share - 0.265, 45, k), `${SOURCE} (M)`).toBeCloseTo(expected, 3);
  });
});

describe("variance components by moments", () => {
  it("equal groups: within 4, mean square between 20, so between (20 - 4) / 3 (R)", () => {
    // Means 2, 6, 4 and 8 of three values each, each group m - 2, m, m + 2.
    const groups = [2, 6, 4, 8].map((m) => [m - 2, m, m + 2]);
    // Grand mean 5; mean square between 3 (9 + 1 + 1 + 9) / 3 = 20.
    expect(variancesOf(groups)).toEqual({ within: 4, between: (20 - 4) / 3 });
  });
  it("unequal groups use n0 = (N - sum n^2 / N) / (g - 1) (Searle, from memory)", () => {
    const groups = [
      [0, 2],
      [4, 6, 8],
      [9, 10, 11, 14],
    ];
    const v = variancesOf(groups)!;
    const within = (2 + 8 + 14) / 6;
    const n0 = (9 - 29 / 9) / 2;
    const grand = 64 / 9;
    const msb = (2 * (1 - grand) ** 2 + 3 * (6 - grand) ** 2 + 4 * (11 - grand) ** 2) / 2;
    expect(v.within).toBeCloseTo(within, 12);
    expect(v.between).toBeCloseTo((msb - within) / n0, 12);
  });
});
