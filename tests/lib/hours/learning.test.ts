import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  crawfordTotal,
  crawfordUnit,
  DEFAULT_LEARNING,
  learningFactor,
  practiceFactor,
  wrightTotal,
  wrightUnit,
} from "@/lib/hours";

describe("learning curves", () => {
  it("are flat at a rate of 1", () => {
    expect(crawfordUnit(17, 1)).toBe(1);
    expect(crawfordTotal(17, 1)).toBe(17);
    expect(wrightUnit(17, 1)).toBe(1);
  });

  it("take the rate with every doubling", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 500 }),
        fc.double({ min: 0.6, max: 1, noNaN: true }),
        (n, rate) => {
          expect(crawfordUnit(2 * n, rate) / crawfordUnit(n, rate)).toBeCloseTo(rate, 9);
        },
      ),
    );
  });

  it("add up: Wright's units are the differences of his totals", () => {
    let sum = 0;
    for (let n = 1; n <= 12; n++) sum += wrightUnit(n, 0.85);
    expect(sum).toBeCloseTo(wrightTotal(12, 0.85), 9);
  });

  it("refuse a rate outside (0, 1] and a unit that is not whole", () => {
    for (const rate of [0, -0.1, 1.01, Number.NaN]) expect(() => crawfordUnit(2, rate)).toThrow(RangeError);
    for (const n of [0, 1.5, -3]) expect(() => crawfordTotal(n, 0.9)).toThrow(RangeError);
  });
});

describe("learningFactor", () => {
  const policy = { rate: 0.95, floorAfterEnds: 20 };

  it("is 1 from the floor on and above 1 before", () => {
    expect(learningFactor(19, policy)).toBe(1);
    expect(learningFactor(400, policy)).toBe(1);
    expect(learningFactor(0, policy)).toBeCloseTo(20 ** -Math.log2(0.95), 9);
  });

  it("never rises with experience", () => {
    for (let n = 1; n < 30; n++) {
      expect(learningFactor(n, policy)).toBeLessThanOrEqual(learningFactor(n - 1, policy));
    }
  });

  it("refuses a negative count", () => {
    expect(() => learningFactor(-1)).toThrow(RangeError);
  });
});

describe("practiceFactor", () => {
  it("counts what a crew is taken to have done before its first report", () => {
    expect(DEFAULT_LEARNING.endsBefore).toBe(10);
    // The eleventh end against the twentieth, Crawford at 95 %: (20 / 11) ^ 0.0740 = 1.0452.
    expect(practiceFactor(0, DEFAULT_LEARNING)).toBeCloseTo(1.0452, 4);
    expect(practiceFactor(4, DEFAULT_LEARNING)).toBeCloseTo(learningFactor(14, DEFAULT_LEARNING), 12);
    expect(practiceFactor(9, DEFAULT_LEARNING)).toBe(1);
  });
});
