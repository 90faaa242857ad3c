/** Order quantities, normal quantiles and safety stock against published and recomputed figures. */
import { describe, expect, it } from "vitest";
import { economicOrder, normalQuantile, safetyStock, safetyStockBothVary } from "@/lib/stock";

interface Row {
  source: string;
  mark: string;
  compute: () => number;
  expected: number;
  tolerance: number;
}

const QUANTILES: [number, number][] = [
  [0.75, 0.67449],
  [0.8, 0.841621],
  [0.9, 1.281552],
  [0.95, 1.644854],
  [0.975, 1.959964],
  [0.98, 2.053749],
  [0.99, 2.326348],
  [0.995, 2.575829],
  [0.999, 3.090232],
];

const INVENTORY_LIBRARY = "documentation of an inventory library, Example 3.1 (data), recomputed";

const ROWS: Row[] = [
  ...QUANTILES.map(([p, z]) => ({
    source: `table of the standard normal distribution, p = ${p}`,
    mark: "M as table, R",
    compute: () => normalQuantile(p),
    expected: z,
    tolerance: 1e-5,
  })),
  {
    source: `${INVENTORY_LIBRARY}: quantity`,
    mark: "data V, R",
    compute: () => economicOrder(8, 1300, 0.225).quantity,
    expected: 304.0468,
    tolerance: 1e-3,
  },
  {
    source: `${INVENTORY_LIBRARY}: cost`,
    mark: "data V, R",
    compute: () => economicOrder(8, 1300, 0.225).costPerPeriod,
    expected: 68.4105,
    tolerance: 1e-3,
  },
  {
    source: "round figures: A 10, D 1000, h 0.5, quantity",
    mark: "C",
    compute: () => economicOrder(10, 1000, 0.5).quantity,
    expected: 200,
    tolerance: 1e-9,
  },
  {
    source: "round figures: A 10, D 1000, h 0.5, cost",
    mark: "C",
    compute: () => economicOrder(10, 1000, 0.5).costPerPeriod,
    expected: 100,
    tolerance: 1e-9,
  },
  {
    source: "z sigma sqrt(L): 95 %, sigma 10, L 4",
    mark: "R",
    compute: () => safetyStock(0.95, 10, 4),
    expected: 32.8971,
    tolerance: 1e-3,
  },
  {
    source: "z sigma sqrt(L): 98 %, sigma 20, L 9",
    mark: "R",
    compute: () => safetyStock(0.98, 20, 9),
    expected: 123.2249,
    tolerance: 1e-3,
  },
  {
    source: "z sqrt(L s_d^2 + d^2 s_L^2): 95 %, L 4, s_d 25, d 100, s_L 0.5",
    mark: "R",
    compute: () => safetyStockBothVary(0.95, { useMean: 100, useSd: 25, leadTimeMean: 4, leadTimeSd: 0.5 }),
    expected: 116.3087,
    tolerance: 1e-3,
  },
];

describe("published inventory quantities", () => {
  it.each(ROWS)("$source", ({ source, compute, expected, tolerance }) => {
    expect(Math.abs(compute() - expected), source).toBeLessThanOrEqual(tolerance);
  });
});
