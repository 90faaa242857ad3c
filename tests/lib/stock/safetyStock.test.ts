import { describe, expect, it } from "vitest";
import {
  leadTimeStatistics,
  meanAndSd,
  normalQuantile,
  reorderPoint,
  safetyStock,
  safetyStockBothVary,
} from "@/lib/stock";
import { calendarDate } from "@/lib/time";

/** Share below z, by the power series of the normal integral: independent of the quantile's fractions. */
function shareBelow(z: number): number {
  let term = z;
  let sum = z;
  for (let k = 1; Math.abs(term) > 1e-18 * Math.abs(sum); k++) {
    term *= (z * z) / (2 * k + 1);
    sum += term;
  }
  return 0.5 + (sum * Math.exp((-z * z) / 2)) / Math.sqrt(2 * Math.PI);
}

describe("normalQuantile", () => {
  it("inverts the normal distribution in the centre, the middle and the tails", () => {
    for (const p of [1e-6, 0.001, 0.02, 0.07, 0.076, 0.3, 0.5, 0.6, 0.924, 0.93, 0.99, 0.9999]) {
      expect(Math.abs(shareBelow(normalQuantile(p)) - p), `p = ${p}`).toBeLessThan(2e-15);
    }
    expect(normalQuantile(0.5)).toBe(0);
  });

  it("is odd about one half, and reaches far into the tail", () => {
    expect(normalQuantile(0.01)).toBeCloseTo(-normalQuantile(0.99), 12);
    // Upper tail 1e-15: z = 7.941345326170997 (M, as in tables of extreme quantiles).
    expect(normalQuantile(1e-15)).toBeCloseTo(-7.941345326170997, 9);
  });

  it("is refused outside (0, 1)", () => {
    for (const p of [0, 1, -1, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError);
  });
});

describe("safety stock", () => {
  it("with a certain lead time is the simple form", () => {
    const figures = { useMean: 80, useSd: 10, leadTimeMean: 4, leadTimeSd: 0 };
    expect(safetyStockBothVary(0.95, figures)).toBeCloseTo(safetyStock(0.95, 10, 4), 12);
    expect(reorderPoint(0.95, figures)).toBeCloseTo(320 + 32.8971, 3);
  });

  it("is nothing at one chance in two, and refused below", () => {
    expect(safetyStock(0.5, 10, 4)).toBe(0);
    expect(() => safetyStock(0.4, 10, 4)).toThrow(RangeError);
    expect(() => safetyStock(1, 10, 4)).toThrow(RangeError);
    expect(() => safetyStock(0.9, -1, 4)).toThrow(RangeError);
  });
});

describe("what it is fed with", () => {
  it("mean and sample deviation", () => {
    expect(meanAndSd([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({ mean: 5, sd: Math.sqrt(32 / 7) });
    expect(meanAndSd([3])).toEqual({ mean: 3, sd: 0 });
    expect(meanAndSd([])).toEqual({ mean: 0, sd: 0 });
  });

  it("lead times of deliveries, and how often they are late", () => {
    const delivery = (orderedOn: string, receivedOn: string, promisedOn?: string) => ({
      orderedOn: calendarDate(orderedOn),
      receivedOn: calendarDate(receivedOn),
      ...(promisedOn ? { promisedOn: calendarDate(promisedOn) } : {}),
    });
    const statistics = leadTimeStatistics([
      delivery("2026-01-01", "2026-01-11", "2026-01-11"),
      delivery("2026-02-01", "2026-02-15", "2026-02-11"),
      delivery("2026-03-01", "2026-03-13"),
    ]);
    expect(statistics).toEqual({
      count: 3,
      promised: 2,
      meanDays: 12,
      sdDays: 2,
      lateShare: 0.5,
      meanDaysLate: 4,
    });
    expect(leadTimeStatistics([]).lateShare).toBe(0);
  });
});
