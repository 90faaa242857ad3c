import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type LotRule, netByDate } from "@/lib/stock";
import { need, position, receipt } from "./make";

describe("netByDate", () => {
  it("works the example of the method note", () => {
    // docs/methods/stock.md, "Worked example". Change both together.
    const needs = [need("EK-10", 2, 8, "A"), need("EK-10", 5, 6, "B"), need("EK-10", 9, 10, "C")];
    const rule: LotRule = { kind: "fixed multiple", multiple: 10 };
    const earthing = position("EK-10", 12, { safetyStock: 2, leadTimeDays: 7, lotRule: rule });
    const [item] = netByDate(needs, [receipt("EK-10", 7, 10, "PO7")], [earthing], 12);
    expect([...item!.projectedWithoutOrders]).toEqual([12, 12, 4, 4, 4, -2, -2, 8, 8, -2, -2, -2]);
    expect(item!.runsOutDay).toBe(5);
    expect(item!.stops).toEqual([
      { visitId: "B", siteCode: "S-B", day: 5, missing: 2 },
      { visitId: "C", siteCode: "S-C", day: 9, missing: 2 },
    ]);
    expect(item!.orders).toEqual([
      { itemCode: "EK-10", quantity: 10, receiptDay: 9, releaseDay: 2, pastDueDays: 0, arrivalDay: 9 },
    ]);
    expect([...item!.projected]).toEqual([12, 12, 4, 4, 4, -2, -2, 8, 8, 8, 8, 8]);
  });

  it("does not order again what comes as soon as a new order would", () => {
    const needs = [need("X", 0, 5, "A")];
    const late = position("X", 0, { leadTimeDays: 7 });
    const ordersWith = (...receipts: Parameters<typeof netByDate>[1]) =>
      netByDate(needs, receipts, [late], 12)[0]!;
    for (const day of [1, 7]) {
      const item = ordersWith(receipt("X", day, 5, "PO1"));
      expect(item.orders).toEqual([]);
      // The shortage until then is still told.
      expect(item.stops.map((stop) => stop.visitId)).toEqual(["A"]);
    }
    expect(ordersWith().orders.map((o) => [o.quantity, o.pastDueDays])).toEqual([[5, 7]]);
    expect(ordersWith(receipt("X", 7, 3, "PO1")).orders.map((o) => o.quantity)).toEqual([2]);
    // One that comes later than a new order would is too late.
    expect(ordersWith(receipt("X", 8, 5, "PO1")).orders.map((o) => o.quantity)).toEqual([5]);
  });

  it("covers the safety stock from the first day", () => {
    const [item] = netByDate([], [], [position("X", 3, { safetyStock: 5 })], 4);
    expect(item!.orders.map((order) => [order.receiptDay, order.quantity])).toEqual([[0, 2]]);
    expect(item!.runsOutDay).toBeUndefined();
    expect(item!.stops).toEqual([]);
  });

  it("orders at least the minimum, in whole multiples", () => {
    const lotRule: LotRule = { kind: "minimum", minimum: 30, multiple: 12 };
    const needs = [need("X", 1, 5), need("X", 4, 70)];
    const [item] = netByDate(needs, [], [position("X", 0, { lotRule })], 6);
    expect(item!.orders.map((order) => order.quantity)).toEqual([36, 48]);
  });

  it("counts overdue needs and receipts on day 0, names the overdue orders, and leaves out what lies beyond", () => {
    const needs = [need("X", -4, 3, "old"), need("X", 30, 99, "far")];
    const [item] = netByDate(needs, [receipt("X", -2, 2, "PO-late")], [position("X", 0)], 5);
    expect([...item!.gross]).toEqual([3, 0, 0, 0, 0]);
    expect([...item!.scheduled]).toEqual([2, 0, 0, 0, 0]);
    expect(item!.overdueReceipts).toEqual(["PO-late"]);
    expect(item!.stops).toEqual([{ visitId: "old", siteCode: "S-old", day: -4, missing: 1 }]);
  });

  it("keeps the claim of the visit that came first on a receipt that comes later", () => {
    const needs = [need("X", 1, 5, "first"), need("X", 6, 5, "second")];
    const late = position("X", 0, { leadTimeDays: 5 });
    const [item] = netByDate(needs, [receipt("X", 4, 5)], [late], 8);
    expect(item!.stops.map((stop) => [stop.visitId, stop.missing])).toEqual([
      ["first", 5],
      ["second", 5],
    ]);
  });

  it("lets a claim end on the day on which an order placed today would come", () => {
    const needs = [need("X", 3, 5, "first"), need("X", 6, 5, "second")];
    const stopsWith = (leadTimeDays: number) => {
      const [item] = netByDate(needs, [receipt("X", 4, 5)], [position("X", 0, { leadTimeDays })], 8);
      // What is ordered is what is missing of those that stop.
      return [item!.stops.map((s) => s.visitId), item!.orders.map((o) => [o.receiptDay, o.quantity])];
    };
    expect(stopsWith(3)).toEqual([["first"], [[3, 5]]]);
    // The receipt comes on the day of the order, or before it: it is the first one's.
    expect(stopsWith(4)).toEqual([["first", "second"], [[6, 5]]]);
    expect(stopsWith(5)).toEqual([["first", "second"], [[6, 5]]]);
  });

  it("serves needs of one day by the visit's start, what has none first, then by name", () => {
    const at = (visitId: string, startsAtMin?: number) => ({ ...need("X", 1, 2, visitId), startsAtMin });
    const needs = [
      at("a", 900),
      at("d", 480),
      at("c", 480),
      { ...at("z transfer"), isTransfer: true as const },
    ];
    const [item] = netByDate(needs, [], [position("X", 5)], 3);
    expect(item!.stops.map((stop) => [stop.visitId, stop.missing])).toEqual([
      ["d", 1],
      ["a", 2],
    ]);
  });

  it("adds up the lines of one visit and gives every position a row", () => {
    const needs = [need("B", 1, 2, "v"), need("B", 1, 3, "v")];
    const items = netByDate(needs, [], [position("B", 1), position("A", 7)], 2);
    expect(items.map((item) => item.itemCode)).toEqual(["A", "B"]);
    expect(items[1]!.stops).toEqual([{ visitId: "v", siteCode: "S-v", day: 1, missing: 4 }]);
    expect([...items[0]!.projected]).toEqual([7, 7]);
  });

  it("does not count a lot after its last day", () => {
    const lots = [
      { quantity: 4, lastDay: 2 },
      { quantity: 3, lastDay: 8 },
    ];
    const [item] = netByDate([need("T", 1, 1), need("T", 5, 6)], [], [position("T", 10, { lots })], 7);
    // 10 - 1 used on day 1 from the lot that expires first; its other 3 are lost on day 3.
    expect([...item!.expiring!]).toEqual([0, 0, 0, 3, 0, 0, 0]);
    expect([...item!.projectedWithoutOrders]).toEqual([10, 9, 9, 6, 6, 0, 0]);
    expect(item!.orders).toEqual([]);
  });

  it("groups needs by Silver-Meal or Wagner-Whitin, no further than the shelf life", () => {
    const demand = [20, 50, 10, 50, 50, 10, 20, 40, 20, 30];
    const needs = demand.map((quantity, day) => need("X", day, quantity));
    const lotsWith = (lotRule: LotRule, shelfLifeDays?: number) =>
      netByDate(needs, [], [position("X", 0, { lotRule, shelfLifeDays })], 10)[0]!.orders.map(
        (o) => o.quantity,
      );
    const costs = { orderCost: 100, holdingPerDay: 1 };
    expect(lotsWith({ kind: "Silver-Meal", ...costs })).toEqual([80, 110, 80, 30]);
    expect(lotsWith({ kind: "Wagner-Whitin", ...costs })).toEqual([80, 130, 90]);
    expect(lotsWith({ kind: "Wagner-Whitin", ...costs }, 0)).toEqual(demand);
  });

  it("refuses what cannot be netted", () => {
    expect(() => netByDate([need("X", 0, 1)], [], [], 3)).toThrow("item X has no stock position");
    expect(() => netByDate([need("X", 0, -1)], [], [position("X", 0)], 3)).toThrow(RangeError);
    expect(() => netByDate([need("X", 0.5, 1)], [], [position("X", 0)], 3)).toThrow(/day must be whole/);
    expect(() => netByDate([], [], [position("X", 0), position("X", 1)], 3)).toThrow(/two positions/);
    expect(() => netByDate([], [], [position("X", -1)], 3)).toThrow(RangeError);
    expect(() => netByDate([], [], [position("X", 0)], 0)).toThrow(RangeError);
    const lots = [{ quantity: 5, lastDay: 3 }];
    expect(() => netByDate([], [], [position("X", 4, { lots })], 3)).toThrow(/lots hold 5/);
    const lotRule: LotRule = { kind: "fixed multiple", multiple: 0 };
    expect(() => netByDate([need("X", 0, 1)], [], [position("X", 0, { lotRule })], 3)).toThrow(/multiple/);
  });
});

describe("any netting", () => {
  const rules: LotRule[] = [
    { kind: "lot for lot" },
    { kind: "fixed multiple", multiple: 7 },
    { kind: "minimum", minimum: 20, multiple: 3 },
    { kind: "Silver-Meal", orderCost: 30, holdingPerDay: 1 },
    { kind: "Wagner-Whitin", orderCost: 30, holdingPerDay: 1 },
  ];
  const DAYS = 20;
  const rows = fc.array(
    fc.record({ day: fc.integer({ min: 0, max: DAYS - 1 }), quantity: fc.nat({ max: 30 }) }),
    {
      maxLength: 15,
    },
  );
  const worlds = fc.record({
    needs: rows,
    receipts: rows,
    onHand: fc.nat({ max: 60 }),
    safetyStock: fc.nat({ max: 10 }),
    leadTimeDays: fc.nat({ max: 12 }),
    lotRule: fc.constantFrom(...rules),
    expiry: fc.record({ share: fc.integer({ min: 0, max: 2 }), lastDay: fc.nat({ max: DAYS }) }),
  });

  it("keeps the balance identity, the safety stock, and reports every shortage", () => {
    fc.assert(
      fc.property(worlds, ({ needs, receipts, expiry, ...rest }) => {
        const lots = [{ quantity: Math.floor((rest.onHand * expiry.share) / 2), lastDay: expiry.lastDay }];
        const needLines = needs.map((n, k) => need("X", n.day, n.quantity, `v${k}`));
        const due = receipts.map((r, k) => receipt("X", r.day, r.quantity, `PO${k}`));
        const [item] = netByDate(needLines, due, [position("X", rest.onHand, { ...rest, lots })], DAYS);
        const planned = new Array<number>(DAYS).fill(0);
        for (const order of item!.orders) {
          planned[order.receiptDay]! += order.quantity;
          expect(order.releaseDay - order.pastDueDays).toBe(order.receiptDay - rest.leadTimeDays);
          expect(order.releaseDay).toBeGreaterThanOrEqual(0);
          expect(Math.min(order.releaseDay, order.pastDueDays)).toBe(0);
          expect(order.arrivalDay).toBe(order.releaseDay + rest.leadTimeDays);
        }
        let without = rest.onHand;
        let withOrders = rest.onHand;
        for (let day = 0; day < DAYS; day++) {
          const flow = item!.scheduled[day]! - item!.gross[day]! - item!.expiring![day]!;
          without += flow;
          withOrders += flow + planned[day]!;
          expect(item!.projectedWithoutOrders[day]).toBeCloseTo(without, 9);
          expect(item!.projected[day]).toBeCloseTo(withOrders, 9);
        }
        // Never below the safety stock, unless what is on the way lifts it again before a new order could come.
        for (let day = 0; day < DAYS; day++) {
          const best = Math.max(...item!.projected.slice(day, Math.max(day, rest.leadTimeDays) + 1));
          expect(best).toBeGreaterThanOrEqual(rest.safetyStock - 1e-9);
        }
        const firstBelow = [...item!.projectedWithoutOrders].findIndex((b) => b < -1e-9);
        expect(item!.runsOutDay).toBe(firstBelow < 0 ? undefined : firstBelow);
        expect(item!.stops.length > 0).toBe(firstBelow >= 0);
        for (const stop of item!.stops) expect(stop.missing).toBeGreaterThan(0);
      }),
      { numRuns: 300, seed: 11 },
    );
  });
});
