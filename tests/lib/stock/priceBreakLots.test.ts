import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  lotCost,
  netByDate,
  type PriceBreak,
  type PriceBreakCosts,
  priceBreakLots,
  wagnerWhitin,
} from "@/lib/stock";
import { need, position } from "./make";

/** Price of a whole order of this many units; Infinity below the least that can be ordered. */
function purchase(quantity: number, breaks: readonly PriceBreak[]): number {
  const price = breaks.filter((b) => b.fromQuantity <= quantity).at(-1)?.price;
  return price === undefined ? Number.POSITIVE_INFINITY : price * quantity;
}

/** Least cost by trying every quantity on every day. A unit may be used `most` days from its own on, oldest first. */
function leastCost(demand: readonly number[], costs: PriceBreakCosts, most: number): number {
  const total = demand.reduce((sum, d) => sum + d, 0);
  const largest = Number.isFinite(most) ? total : total + costs.breaks.at(-1)!.fromQuantity;
  let best = Number.POSITIVE_INFINITY;
  const tryDay = (day: number, stock: number, cost: number) => {
    if (cost >= best) return;
    if (day === demand.length) {
      best = cost;
      return;
    }
    const usable = demand.slice(day, day + most).reduce((sum, d) => sum + d, 0);
    for (let quantity = 0; quantity <= largest; quantity++) {
      const after = stock + quantity - demand[day]!;
      if (after < 0 || (quantity > 0 && Number.isFinite(most) && stock + quantity > usable)) continue;
      const order = quantity > 0 ? costs.orderCost + purchase(quantity, costs.breaks) : 0;
      tryDay(day + 1, after, cost + order + costs.holdingPerDay * after);
    }
  };
  tryDay(0, 0, 0);
  return best;
}

/** The same by the plain table over day and quantity ordered so far, every later quantity tried. */
function plainTable(
  demand: readonly number[],
  { orderCost, holdingPerDay, breaks }: PriceBreakCosts,
): number {
  const total = demand.reduce((sum, d) => sum + d, 0);
  const width = total + breaks.at(-1)!.fromQuantity + 1;
  let after = new Array<number>(width).fill(0);
  let through = total;
  for (const need of [...demand].reverse()) {
    const least = through;
    after = after.map((_, x) => {
      let best = Number.POSITIVE_INFINITY;
      for (let y = Math.max(x, least); y < width; y++) {
        const order = y > x ? orderCost + purchase(y - x, breaks) : 0;
        best = Math.min(best, order + holdingPerDay * (y - least) + after[y]!);
      }
      return best;
    });
    through -= need;
  }
  return after[0]!;
}

describe("lots with price breaks", () => {
  it("cost what the plain table says over twelve days and three prices", () => {
    const cases = fc.record({
      demand: fc.array(fc.oneof(fc.constant(0), fc.nat({ max: 9 })), { minLength: 1, maxLength: 12 }),
      orderCost: fc.nat({ max: 40 }),
      holdingPerDay: fc.nat({ max: 3 }),
      breaks: fc
        .tuple(
          fc.integer({ min: 1, max: 4 }),
          fc.integer({ min: 2, max: 9 }),
          fc.integer({ min: 2, max: 20 }),
        )
        .map(([first, more, most]) => [
          { fromQuantity: first, price: 12 },
          { fromQuantity: first + more, price: 9 },
          { fromQuantity: first + more + most, price: 7 },
        ]),
    });
    fc.assert(
      fc.property(cases, ({ demand, ...costs }) => {
        const { lots, cost } = priceBreakLots(demand, { ...costs, step: 1 });
        expect(cost).toBe(plainTable(demand, { ...costs, step: 1 }));
        const paid = lots.reduce((sum, lot) => sum + purchase(lot.quantity, costs.breaks), 0);
        expect(lotCost(lots, demand, costs.orderCost, costs.holdingPerDay) + paid).toBe(cost);
      }),
      { numRuns: 200, seed: 15 },
    );
  });

  it("cost the least of all orders in whole steps, with and without a shelf life", () => {
    const cases = fc.record({
      demand: fc.array(fc.nat({ max: 5 }), { minLength: 1, maxLength: 4 }),
      orderCost: fc.nat({ max: 12 }),
      holdingPerDay: fc.nat({ max: 2 }),
      first: fc.integer({ min: 3, max: 6 }),
      fall: fc.nat({ max: 2 }),
      at: fc.integer({ min: 2, max: 9 }),
      most: fc.constantFrom(1, 2, 3, Number.POSITIVE_INFINITY),
    });
    fc.assert(
      fc.property(cases, ({ demand, orderCost, holdingPerDay, first, fall, at, most }) => {
        const breaks = [
          { fromQuantity: 1, price: first },
          { fromQuantity: at, price: first - fall },
        ];
        const costs = { orderCost, holdingPerDay, breaks, step: 1 };
        const { lots, cost } = priceBreakLots(demand, costs, most);
        expect(cost).toBe(leastCost(demand, costs, most));
        const paid = lots.reduce((sum, lot) => sum + purchase(lot.quantity, breaks), 0);
        expect(lotCost(lots, demand, orderCost, holdingPerDay) + paid).toBe(cost);
      }),
      { numRuns: 150, seed: 14 },
    );
  });

  it("with one price are Wagner-Whitin's lots and their purchase", () => {
    const demand = [20, 50, 10, 50, 50, 10, 20, 40, 20, 30];
    const costs = { orderCost: 100, holdingPerDay: 1, breaks: [{ fromQuantity: 1, price: 2 }], step: 10 };
    const { lots, cost } = priceBreakLots(demand, costs);
    const plain = wagnerWhitin(demand, 100, 1);
    expect(cost).toBe(plain.cost + 2 * 300);
    expect(lots).toEqual(plain.lots);
  });

  it("buy just enough for the lower price where that saves more than it costs to hold", () => {
    // 95 at 1.00 are 95; 100 at 0.90 are 90 and 5 stay over for one day at 0.1 each.
    const costs = {
      orderCost: 10,
      holdingPerDay: 0.1,
      breaks: [
        { fromQuantity: 1, price: 1 },
        { fromQuantity: 100, price: 0.9 },
      ],
      step: 5,
    };
    const { lots, cost } = priceBreakLots([95], costs);
    expect(lots).toEqual([{ day: 0, quantity: 100 }]);
    expect(cost).toBeCloseTo(100.5, 9);
    // With a shelf life the five would be lost, so they are not bought.
    expect(priceBreakLots([95], costs, 1).lots).toEqual([{ day: 0, quantity: 95 }]);
  });

  it("rounds needs that are no whole steps up as they add up, not each", () => {
    const costs = { orderCost: 0, holdingPerDay: 1, breaks: [{ fromQuantity: 1, price: 1 }], step: 1 };
    expect(priceBreakLots([0.6, 0.6, 0.6], costs).lots.map((lot) => lot.quantity)).toEqual([1, 1]);
  });

  it("refuse prices that rise, no price and no step", () => {
    const costs = { orderCost: 1, holdingPerDay: 1, breaks: [{ fromQuantity: 1, price: 1 }], step: 1 };
    expect(() => priceBreakLots([1], { ...costs, breaks: [] })).toThrow("at least one price");
    const rising = [...costs.breaks, { fromQuantity: 5, price: 2 }];
    expect(() => priceBreakLots([1], { ...costs, breaks: rising })).toThrow("rises from 1 to 2");
    expect(() => priceBreakLots([1], { ...costs, step: 0 })).toThrow("step must be > 0");
  });

  it("take coarser steps where the table would be too large, and order a minimum beyond the shelf life", () => {
    const costs = { orderCost: 1, holdingPerDay: 1, breaks: [{ fromQuantity: 1, price: 1 }], step: 1 };
    const [lot] = priceBreakLots([5_000_001], costs).lots;
    // Steps of 8: the next multiple above.
    expect(lot).toEqual({ day: 0, quantity: 5_000_008 });
    const least = [{ fromQuantity: 10, price: 1 }];
    expect(priceBreakLots([3, 3], { ...costs, breaks: least }, 1).lots).toEqual([{ day: 0, quantity: 10 }]);
  });

  it("are what the netting orders by the rule", () => {
    const lotRule = {
      kind: "price breaks",
      orderCost: 1,
      holdingPerDay: 0.01,
      breaks: [
        { fromQuantity: 1, price: 2 },
        { fromQuantity: 8, price: 1 },
      ],
      step: 1,
    } as const;
    const needs = [need("X", 1, 4), need("X", 3, 4)];
    const [item] = netByDate(needs, [], [position("X", 0, { lotRule })], 5);
    expect(item!.orders.map((order) => [order.receiptDay, order.quantity])).toEqual([[1, 8]]);
  });
});
