import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  deadInRepairTime,
  drawnRate,
  poissonAtMost,
  type SpareShelf,
  spareNumbers,
  sparesFor,
} from "@/lib/stock";
import { addDays, calendarDate } from "@/lib/time";

const POLICY = { repairDays: 42, deadShare: 0.02, failuresPerYear: 0.03 };

describe("spares", () => {
  it("follow the worked example: 40 in service and 12 to go up", () => {
    // 40 x 0.03 x 42 / 365.25 + 12 x 0.02 = 0.138 + 0.240 = 0.378; P(0) = 0.685, P(<=1) = 0.944, P(<=2) = 0.993.
    const mean = deadInRepairTime({ installed: 40, toInstall: 12 }, POLICY);
    expect(mean).toBeCloseTo(0.378, 3);
    expect(poissonAtMost(1, mean)).toBeCloseTo(0.944, 3);
    expect(sparesFor(mean, 0.95)).toBe(2);
    expect(sparesFor(mean, 0.9)).toBe(1);
  });

  it("are none where nothing can die", () => {
    expect(sparesFor(0, 0.999)).toBe(0);
    expect(deadInRepairTime({ installed: 0, toInstall: 0 }, POLICY)).toBe(0);
  });

  it("are the fewest that reach the level, at small means and large", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2_000, noNaN: true }),
        fc.double({ min: 0.01, max: 0.9999, noNaN: true }),
        (mean, level) => {
          const s = sparesFor(mean, level);
          expect(poissonAtMost(s, mean)).toBeGreaterThanOrEqual(level - 1e-9);
          if (s > 0) expect(poissonAtMost(s - 1, mean)).toBeLessThan(level + 1e-9);
        },
      ),
      { numRuns: 300, seed: 5 },
    );
  });

  it("refuse what is no level and no mean", () => {
    expect(() => sparesFor(1, 1)).toThrow(RangeError);
    expect(() => sparesFor(-1, 0.9)).toThrow(RangeError);
    expect(() => poissonAtMost(1, Number.NaN)).toThrow(RangeError);
  });
});

describe("spareNumbers", () => {
  const today = calendarDate("2026-06-01");
  const visits = Array.from({ length: 12 }, (_, i) => `H${i}/near/install`);
  const shelf: SpareShelf = {
    itemCode: "ODU",
    placeCode: "W",
    installed: 40,
    toCome: visits,
    level: 0.95,
    fixed: null,
  };
  const of = (over: Partial<SpareShelf>, inDays: number | undefined) =>
    spareNumbers(
      { shelves: [{ ...shelf, ...over }], deadShare: 0.02, failuresPerYear: 0.03, repairDays: 42 },
      today,
      new Map(inDays === undefined ? [] : visits.map((v) => [v, addDays(today, inDays)])),
    )[0]!;

  it("counts what a plan puts up within the repair time, to the last day of it", () => {
    // The worked example of docs/methods/stock.md: 0.378 with the twelve, 0.138 without.
    expect(of({}, 42)).toMatchObject({ toInstall: 12, wanted: 2 });
    expect(of({}, 42).mean).toBeCloseTo(0.378, 3);
    expect(of({}, 43)).toMatchObject({ toInstall: 0, wanted: 1 });
    expect(of({}, 43).mean).toBeCloseTo(0.138, 3);
    expect(of({}, undefined)).toMatchObject({ toInstall: 0, wanted: 1 });
  });

  it("lets somebody's number stand whatever the plan, and wants none at level 0", () => {
    expect(of({ fixed: 5 }, 42)).toMatchObject({ byLevel: 2, wanted: 5 });
    expect(of({ fixed: 0 }, 42)).toMatchObject({ byLevel: 2, wanted: 0 });
    expect(of({ level: 0 }, 42)).toMatchObject({ byLevel: 0, wanted: 0 });
  });
});

describe("drawnRate", () => {
  it("is the rules' figure without records, half way at its weight, and the records' when there are many", () => {
    expect(drawnRate(0, 0, 0.02)).toBeCloseTo(0.02, 12);
    expect(drawnRate(6, 100, 0.02)).toBeCloseTo(0.04, 12);
    expect(drawnRate(6_000, 100_000, 0.02)).toBeCloseTo(0.06, 3);
  });
});
