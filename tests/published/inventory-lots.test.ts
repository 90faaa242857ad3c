/** Lot sizing against published problems and their optima. */
import { describe, expect, it } from "vitest";
import { lotCost, silverMeal, wagnerWhitin } from "@/lib/stock";

const PAPER = {
  source: "Wagner and Whitin 1958, the paper's twelve-period example",
  mark: "V",
  demand: [69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56],
  orderCost: [85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114],
  holding: 1,
  expected: 864,
  through: [85, 114, 186, 277, 348, 400, 469, 555, 600, 710, 789, 864], // mark R
} as const;

const CONSTANT = {
  source: "exercise on Factory Physics 2.3 (data V; A = 100, h = 1 from memory)",
  mark: "M + R",
  demand: [20, 50, 10, 50, 50, 10, 20, 40, 20, 30],
  orderCost: 100,
  holding: 1,
  optimum: 580,
  lots: [
    { day: 0, quantity: 80 },
    { day: 3, quantity: 130 },
    { day: 7, quantity: 90 },
  ],
  silverMealCost: 620,
  silverMealLots: [80, 110, 80, 30],
  lotForLot: 1000,
} as const;

const CLASSIC = {
  source: "Silver, Pyke and Peterson, the twelve-period example",
  mark: "M + R",
  demand: [10, 62, 12, 130, 154, 129, 88, 52, 124, 160, 238, 41],
  orderCost: 54,
  holding: 0.4,
  expected: 501.2,
  lots: [84, 130, 283, 140, 124, 160, 279],
  tolerance: 1e-9,
} as const;

describe("lot sizing", () => {
  it("finds the optimum of the varying set-up example, and of every shorter horizon", () => {
    const { lots, cost, costThrough } = wagnerWhitin(PAPER.demand, PAPER.orderCost, PAPER.holding);
    expect(cost, PAPER.source).toBe(PAPER.expected);
    expect(costThrough, PAPER.source).toEqual(PAPER.through);
    expect(lotCost(lots, PAPER.demand, PAPER.orderCost, PAPER.holding), PAPER.source).toBe(PAPER.expected);
    // Zero-inventory ordering: a lot covers whole periods and ends where the next begins.
    for (const [k, lot] of lots.entries()) {
      const end = lots[k + 1]?.day ?? PAPER.demand.length;
      const covered = PAPER.demand.slice(lot.day, end).reduce((sum, d) => sum + d, 0);
      expect(lot.quantity, PAPER.source).toBe(covered);
    }
  });

  it("the known plan of the example costs the optimum too", () => {
    const plan: [number, number][] = [
      [0, 98],
      [2, 97],
      [4, 121],
      [7, 112],
      [9, 67],
      [10, 135],
    ];
    const lots = plan.map(([day, quantity]) => ({ day, quantity }));
    expect(lotCost(lots, PAPER.demand, PAPER.orderCost, PAPER.holding), PAPER.source).toBe(PAPER.expected);
  });

  it("finds the optimum with one set-up cost, and Silver-Meal's lots beside it", () => {
    const { demand, orderCost, holding, source } = CONSTANT;
    const optimal = wagnerWhitin(demand, orderCost, holding);
    expect(optimal.cost, source).toBe(CONSTANT.optimum);
    expect(optimal.lots, source).toEqual(CONSTANT.lots);
    const heuristic = silverMeal(demand, orderCost, holding);
    expect(
      heuristic.map((lot) => lot.quantity),
      source,
    ).toEqual(CONSTANT.silverMealLots);
    expect(lotCost(heuristic, demand, orderCost, holding), source).toBe(CONSTANT.silverMealCost);
    const each = demand.map((quantity, day) => ({ day, quantity }));
    expect(lotCost(each, demand, orderCost, holding), source).toBe(CONSTANT.lotForLot);
  });

  it("Silver-Meal and the optimum agree on the classic example", () => {
    const { demand, orderCost, holding, source, expected, tolerance } = CLASSIC;
    const heuristic = silverMeal(demand, orderCost, holding);
    const optimal = wagnerWhitin(demand, orderCost, holding);
    expect(
      heuristic.map((lot) => lot.quantity),
      source,
    ).toEqual(CLASSIC.lots);
    expect(Math.abs(lotCost(heuristic, demand, orderCost, holding) - expected), source).toBeLessThan(
      tolerance,
    );
    expect(Math.abs(optimal.cost - expected), source).toBeLessThan(tolerance);
  });
});
