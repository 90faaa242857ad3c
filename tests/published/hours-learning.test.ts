/** Learning curves against printed tables. */
import { describe, expect, it } from "vitest";
import { crawfordTotal, crawfordUnit, wrightAverage, wrightTotal, wrightUnit } from "@/lib/hours";

const WRIGHT = "textbook page with Wright's curve at 80 %, T1 = 100 (one misprinted increment left out)";
const CRAWFORD = "coefficients as in textbook tables (from memory), recomputed";
const TOLERANCE = 5e-4;

describe("Wright, 80 %, first unit 100", () => {
  const rows = [
    { n: 1, average: 100, total: 100 },
    { n: 2, average: 80, total: 160 },
    { n: 4, average: 64, total: 256 },
    { n: 8, average: 51.2, total: 409.6 },
    { n: 16, average: 40.96, total: 655.36 },
  ];
  it.each(rows)("$n units: average $average, total $total", ({ n, average, total }) => {
    expect(100 * wrightAverage(n, 0.8), `${WRIGHT} (V)`).toBeCloseTo(average, 9);
    expect(100 * wrightTotal(n, 0.8), `${WRIGHT} (V)`).toBeCloseTo(total, 9);
  });
});

describe("tables of coefficients", () => {
  const rows = [
    {
      of: "Crawford unit",
      f: crawfordUnit,
      rate: 0.8,
      at: [2, 3, 4, 5, 10, 20],
      expected: [0.8, 0.7021, 0.64, 0.5956, 0.4765, 0.3812],
    },
    {
      of: "Crawford total",
      f: crawfordTotal,
      rate: 0.8,
      at: [2, 3, 4, 5, 10, 20],
      expected: [1.8, 2.5021, 3.1421, 3.7377, 6.3154, 10.4849],
    },
    {
      of: "Crawford unit",
      f: crawfordUnit,
      rate: 0.9,
      at: [2, 3, 4, 5, 10, 20],
      expected: [0.9, 0.8462, 0.81, 0.783, 0.7047, 0.6342],
    },
    {
      of: "Crawford total",
      f: crawfordTotal,
      rate: 0.9,
      at: [2, 3, 4, 5, 10, 20],
      expected: [1.9, 2.7462, 3.5562, 4.3392, 7.9945, 14.6078],
    },
    { of: "Wright unit", f: wrightUnit, rate: 0.8, at: [2, 3, 4], expected: [0.6, 0.5063, 0.4537] },
    { of: "Wright unit", f: wrightUnit, rate: 0.9, at: [2, 3, 4], expected: [0.8, 0.7386, 0.7014] },
  ];
  it.each(rows)("$of at $rate", ({ f, rate, at, expected }) => {
    for (const [k, n] of at.entries()) {
      const error = Math.abs(f(n, rate) - expected[k]!);
      expect(error, `unit ${n}, expected ${expected[k]}: ${CRAWFORD} (R)`).toBeLessThanOrEqual(TOLERANCE);
    }
  });
});
