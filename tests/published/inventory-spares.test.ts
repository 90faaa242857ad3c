/** Spares against cumulative Poisson tables. */
import { describe, expect, it } from "vitest";
import { poissonAtMost, sparesFor } from "@/lib/stock";

/**
 * P(X <= k), four decimals, k = 0, 1, 2 ... Mark V: read in two public tables that agree, "Cumulative Poisson
 * Distribution Table" (a course's sheet, means 0.5 to 10) and "Poisson Distribution Table" (statsmasters, means 0.5 to 20).
 */
const TABLE: readonly [mean: number, atMost: readonly number[]][] = [
  [0.5, [0.6065, 0.9098, 0.9856, 0.9982, 0.9998]],
  [1, [0.3679, 0.7358, 0.9197, 0.981, 0.9963, 0.9994, 0.9999]],
  [1.5, [0.2231, 0.5578, 0.8088, 0.9344, 0.9814, 0.9955]],
  [2, [0.1353, 0.406, 0.6767, 0.8571, 0.9473, 0.9834, 0.9955, 0.9989]],
  [3, [0.0498, 0.1991, 0.4232, 0.6472, 0.8153, 0.9161, 0.9665, 0.9881]],
  [5, [0.0067, 0.0404, 0.1247, 0.265, 0.4405, 0.616, 0.7622, 0.8666, 0.9319, 0.9682, 0.9863]],
  [10, [0, 0.0005, 0.0028, 0.0103, 0.0293, 0.0671, 0.1301, 0.2202, 0.3328, 0.4579]],
];

describe("the tables", () => {
  for (const [mean, atMost] of TABLE)
    it(`agree with poissonAtMost at a mean of ${mean}`, () => {
      atMost.forEach((p, k) => {
        expect(Math.abs(poissonAtMost(k, mean) - p), `P(X <= ${k})`).toBeLessThan(0.000051);
      });
    });

  it("give the spares that sparesFor gives: the first row at or above the level", () => {
    let asked = 0;
    for (const [mean, atMost] of TABLE)
      for (const level of [0.8, 0.9, 0.95, 0.98]) {
        const row = atMost.findIndex((p) => p >= level);
        if (row < 0) continue;
        expect(sparesFor(mean, level), `mean ${mean}, level ${level}`).toBe(row);
        asked++;
      }
    expect(asked).toBeGreaterThan(20);
  });
});
