import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lotCost, orderQuantity, silverMeal, wagnerWhitin } from "@/lib/stock";

/** Least cost by trying every set of order periods; up to ten periods. */
function leastCost(demand: readonly number[], orderCost: number, holding: number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let mask = 0; mask < 1 << demand.length; mask++) {
    const lots: { day: number; quantity: number }[] = [];
    for (const [day, need] of demand.entries()) {
      if ((mask >> day) & 1) lots.push({ day, quantity: 0 });
      const last = lots.at(-1);
      if (last) last.quantity += need;
      else if (need > 0) break;
    }
    try {
      best = Math.min(best, lotCost(lots, demand, orderCost, holding));
    } catch {
      // a period before the first order is short: not a plan
    }
  }
  return best;
}

describe("lot sizing", () => {
  it("Wagner-Whitin is the least of all plans, and Silver-Meal never below it", () => {
    const demands = fc.array(fc.nat({ max: 40 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(
        demands,
        fc.nat({ max: 100 }),
        fc.integer({ min: 1, max: 5 }),
        (demand, orderCost, holding) => {
          const optimal = wagnerWhitin(demand, orderCost, holding);
          expect(optimal.cost).toBeCloseTo(leastCost(demand, orderCost, holding), 9);
          expect(lotCost(optimal.lots, demand, orderCost, holding)).toBeCloseTo(optimal.cost, 9);
          const heuristic = silverMeal(demand, orderCost, holding);
          expect(lotCost(heuristic, demand, orderCost, holding)).toBeGreaterThanOrEqual(optimal.cost - 1e-9);
        },
      ),
      { numRuns: 200, seed: 12 },
    );
  });

  it("covers no more periods than the shelf life allows", () => {
    const demand = [5, 5, 5, 5, 5];
    expect(wagnerWhitin(demand, 1_000, 1, 2).lots.map((lot) => lot.quantity)).toEqual([10, 10, 5]);
    expect(silverMeal(demand, 1_000, 1, 2).map((lot) => lot.quantity)).toEqual([10, 10, 5]);
  });

  it("orders nothing when nothing is wanted", () => {
    expect(wagnerWhitin([0, 0], 10, 1)).toEqual({ lots: [], cost: 0, costThrough: [0, 0] });
    expect(silverMeal([], 10, 1)).toEqual([]);
  });

  it("rounds up to the multiple, not beyond it through the rounding of doubles", () => {
    expect(orderQuantity({ kind: "fixed multiple", multiple: 0.1 }, 0.1 + 0.2)).toBeCloseTo(0.3, 12);
    expect(orderQuantity({ kind: "fixed multiple", multiple: 305 }, 306)).toBe(610);
    expect(orderQuantity({ kind: "lot for lot" }, -1)).toBe(0);
  });

  it("says which period is short", () => {
    expect(() => lotCost([], [3], 1, 1)).toThrow("period 0 is short by 3");
  });
});
