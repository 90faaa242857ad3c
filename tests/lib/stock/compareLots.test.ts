import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  compareLotRules,
  DEFAULT_STOCK_POLICY,
  type LotFigures,
  lotFigures,
  lotRuleOf,
  netByDate,
  priceOf,
} from "@/lib/stock";
import { need, position } from "./make";

const FIGURES: LotFigures = {
  orderCost: 10,
  holdingPerDay: 0.5,
  price: 2,
  breaks: [],
  multiple: 1,
  minimum: 1,
};
const of = (net: readonly number[], figures: Partial<LotFigures> = {}) =>
  new Map(compareLotRules(net, { ...FIGURES, ...figures }).map((r) => [r.kind, r]));

describe("lot rules side by side", () => {
  it("work the example of the method note", () => {
    const rules = of([4, 0, 6, 0, 0, 5], { multiple: 5, minimum: 10 });
    // Three orders of what is short: nothing lies overnight.
    expect(rules.get("lot for lot")).toMatchObject({ orders: 3, bought: 15, orderCost: 30, holdingCost: 0 });
    expect(rules.get("lot for lot")!.total).toBe(30 + 2 * 15);
    // 5, 5, 5: one unit lies over the nights of days 0 and 1.
    expect(rules.get("fixed multiple")).toMatchObject({ orders: 3, bought: 15, holdingCost: 1, total: 61 });
    // 10, 0, 0, 10 on day 5: 6 lie on days 0 and 1, none on 2 to 4, 5 are left.
    expect(rules.get("minimum")).toMatchObject({ orders: 2, bought: 20, left: 5, orderCost: 20 });
    expect(rules.get("minimum")!.holdingCost).toBe(0.5 * (6 + 6 + 5));
    // One order of 15 costs 10 + 0.5 x (11 + 11 + 5 + 5 + 5) = 28.50; 10 and 5 cost 20 + 0.5 x 12 = 26.
    expect(rules.get("Wagner-Whitin")).toMatchObject({ orders: 2, bought: 15, holdingCost: 6, total: 56 });
  });

  it("take lower prices where the lot is large enough for them", () => {
    const breaks = [{ fromQuantity: 10, price: 1 }];
    expect(priceOf(9, { price: 2, breaks })).toBe(2);
    expect(priceOf(10, { price: 2, breaks })).toBe(1);
    const rules = of([6, 6], { breaks });
    expect(rules.get("lot for lot")!.purchaseCost).toBe(24);
    expect(rules.get("price breaks")).toMatchObject({ orders: 1, bought: 12, purchaseCost: 12 });
  });

  it("order whole multiples by every rule but lot for lot, and cover every need", () => {
    const cases = fc.record({
      net: fc.array(
        fc.nat({ max: 900 }).map((n) => n / 100),
        { minLength: 1, maxLength: 12 },
      ),
      multiple: fc.integer({ min: 1, max: 6 }),
      minimum: fc.integer({ min: 0, max: 20 }),
      orderCost: fc.nat({ max: 40 }),
      shelfLifeDays: fc.option(fc.integer({ min: 0, max: 5 }), { nil: undefined }),
    });
    fc.assert(
      fc.property(cases, ({ net, ...f }) => {
        const figures = { ...FIGURES, ...f };
        for (const kind of [
          "fixed multiple",
          "minimum",
          "Silver-Meal",
          "Wagner-Whitin",
          "price breaks",
        ] as const) {
          const lotRule = lotRuleOf(kind, figures);
          const needs = net.map((quantity, day) => need("X", day, quantity));
          const p = position("X", 0, { lotRule, shelfLifeDays: f.shelfLifeDays });
          const [item] = netByDate(needs, [], [p], net.length);
          for (const order of item!.orders)
            expect(
              Math.abs(order.quantity / f.multiple - Math.round(order.quantity / f.multiple)),
            ).toBeLessThan(1e-6);
          expect(Math.min(...item!.projected)).toBeGreaterThan(-1e-6);
        }
      }),
      { numRuns: 150, seed: 3 },
    );
  });

  it("cost the least by Wagner-Whitin among the rules that know no prices, in whole units", () => {
    const nets = fc.array(fc.nat({ max: 20 }), { minLength: 1, maxLength: 14 });
    fc.assert(
      fc.property(nets, fc.nat({ max: 60 }), (net, orderCost) => {
        const rules = of(net, { orderCost });
        const least = rules.get("Wagner-Whitin")!;
        const known = ["lot for lot", "fixed multiple", "minimum", "Silver-Meal"] as const;
        for (const kind of known) expect(rules.get(kind)!.total).toBeGreaterThanOrEqual(least.total - 1e-6);
        // One price: the table finds the same.
        expect(rules.get("price breaks")!.total).toBeCloseTo(least.total, 6);
      }),
      { numRuns: 150, seed: 4 },
    );
  });
});

describe("an item's figures", () => {
  const item = {
    priceMinor: 3650,
    orderMultiple: 6,
    minimumOrder: 12,
    orderCostMinor: null,
    holdingSharePerYear: null,
    priceBreaks: [{ fromQuantity: 60, priceMinor: 3300 }],
  };
  it("are its own, else those of the rules", () => {
    expect(lotFigures(item, DEFAULT_STOCK_POLICY)).toEqual({
      orderCost: 4000,
      holdingPerDay: 2,
      price: 3650,
      breaks: [{ fromQuantity: 60, price: 3300 }],
      multiple: 6,
      minimum: 12,
      shelfLifeDays: undefined,
    });
    expect(
      lotFigures({ ...item, orderCostMinor: 0, holdingSharePerYear: 0.1 }, DEFAULT_STOCK_POLICY),
    ).toMatchObject({ orderCost: 0, holdingPerDay: 1 });
  });
});
