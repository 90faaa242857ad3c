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

/** The recursion as Wagner and Whitin wrote it: least cost of periods 0..t, every last order tried. */
function plainRecursion(
  demand: readonly number[],
  orderCost: readonly number[],
  holding: number,
  most: number,
): number[] {
  const least = [0];
  for (const [t, d] of demand.entries()) {
    let best = d === 0 ? least[t]! : Number.POSITIVE_INFINITY;
    for (let j = t; j >= 0 && j > t - most; j--) {
      let cost = least[j]! + orderCost[j]!;
      for (let k = j; k <= t; k++) cost += holding * (k - j) * demand[k]!;
      best = Math.min(best, cost);
    }
    least.push(best);
  }
  return least.slice(1);
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

  it("Wagner-Whitin agrees with the plain recursion, whatever the order costs, holding and longest cover", () => {
    const periods = fc.array(fc.record({ demand: fc.nat({ max: 30 }), order: fc.nat({ max: 120 }) }), {
      minLength: 1,
      maxLength: 40,
    });
    fc.assert(
      fc.property(periods, fc.nat({ max: 4 }), fc.integer({ min: 1, max: 45 }), (rows, holding, most) => {
        const demand = rows.map((row) => (row.demand < 8 ? 0 : row.demand));
        const order = rows.map((row) => row.order);
        const { lots, cost, costThrough } = wagnerWhitin(demand, order, holding, most);
        expect(costThrough).toEqual(plainRecursion(demand, order, holding, most));
        expect(lotCost(lots, demand, order, holding)).toBe(cost);
        for (const [k, { day, quantity }] of lots.entries()) {
          expect(quantity).toBeGreaterThan(0);
          // What comes on a day is used up before the next lot, and within the longest cover.
          const end = Math.min(lots[k + 1]?.day ?? demand.length, day + most);
          expect(demand.slice(day, end).reduce((sum, d) => sum + d, 0)).toBe(quantity);
        }
      }),
      { numRuns: 400, seed: 13 },
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
