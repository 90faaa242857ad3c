import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { economicOrder, economicOrderWithBreaks } from "@/lib/stock";

describe("economic order quantity", () => {
  it("is refused without use, cost or holding", () => {
    expect(() => economicOrder(0, 1, 1)).toThrow(RangeError);
    expect(() => economicOrder(1, 0, 1)).toThrow(RangeError);
    expect(() => economicOrder(1, 1, -1)).toThrow(RangeError);
    expect(() => economicOrderWithBreaks(1, 1, 1, [])).toThrow(RangeError);
  });

  it("takes the price break when the price saved is worth the stock held", () => {
    const breaks = [
      { fromQuantity: 1, price: 5 },
      { fromQuantity: 1_000, price: 4.8 },
      { fromQuantity: 2_000, price: 4.75 },
    ];
    // A 49, D 5000, 20 % (a textbook shape, recomputed): free quantity at 5.00 is 700, cost 25 700;
    // 1000 at 4.80: 24 000 + 245 + 480 = 24 725; 2000 at 4.75: 23 750 + 122.5 + 950 = 24 822.5.
    const best = economicOrderWithBreaks(49, 5_000, 0.2, breaks);
    expect(best.quantity).toBe(1_000);
    expect(best.price).toBe(4.8);
    expect(best.costPerPeriod).toBeCloseTo(24_725, 9);
  });

  it("is the least over all quantities", () => {
    const cases = fc.tuple(
      fc.integer({ min: 1, max: 50 }),
      fc.integer({ min: 1, max: 500 }),
      fc.integer({ min: 2, max: 200 }),
    );
    fc.assert(
      fc.property(cases, ([orderCost, demand, second]) => {
        const breaks = [
          { fromQuantity: 1, price: 10 },
          { fromQuantity: second, price: 9 },
        ];
        const best = economicOrderWithBreaks(orderCost, demand, 0.3, breaks);
        for (let quantity = 1; quantity <= 400; quantity++) {
          const price = quantity >= second ? 9 : 10;
          const cost = demand * price + (orderCost * demand) / quantity + 0.15 * price * quantity;
          expect(best.costPerPeriod).toBeLessThanOrEqual(cost + 1e-9);
        }
      }),
      { numRuns: 60, seed: 13 },
    );
  });
});
