import fc from "fast-check";
import { expect, test } from "vitest";
import { kitReadyDays } from "@/lib/programme";

const visit = (visitId: string, promiseDay: number | undefined, quantity: number, itemCode = "X") => ({
  visitId,
  promiseDay,
  weight: 1,
  lines: [{ itemCode, quantity }],
});
const supply = (onHand: number, receipts: { day: number; quantity: number }[] = [], leadTimeDays = 30) => [
  { itemCode: "X", onHand, receipts, leadTimeDays },
];

test("stock goes to the earlier promise, whatever the order of the list", () => {
  const visits = [visit("late", 20, 5), visit("early", 10, 5)];
  const ready = kitReadyDays(visits, supply(5, [{ day: 7, quantity: 5 }]));
  expect(ready.get("early")).toEqual({ day: 0 });
  expect(ready.get("late")).toEqual({ day: 7, bindingItem: "X" });
  expect(kitReadyDays([...visits].reverse(), supply(5, [{ day: 7, quantity: 5 }]))).toEqual(ready);
});

test("beyond stock and orders on the way, an order sent today is there after the lead time", () => {
  expect(kitReadyDays([visit("v", 1, 9)], supply(4, [{ day: 3, quantity: 4 }], 14)).get("v")).toEqual({
    day: 14,
    bindingItem: "X",
  });
});

test("a delivery that comes after a new order would is not waited for", () => {
  expect(kitReadyDays([visit("v", 1, 5)], supply(0, [{ day: 40, quantity: 9 }], 14)).get("v")?.day).toBe(14);
});

test("the kit is whole when its last item is there, and that item is named", () => {
  const ready = kitReadyDays(
    [
      {
        visitId: "v",
        promiseDay: 1,
        weight: 1,
        lines: [
          { itemCode: "A", quantity: 1 },
          { itemCode: "B", quantity: 1 },
        ],
      },
    ],
    [
      { itemCode: "A", onHand: 0, receipts: [{ day: 4, quantity: 1 }], leadTimeDays: 9 },
      { itemCode: "B", onHand: 0, receipts: [{ day: 6, quantity: 1 }], leadTimeDays: 9 },
    ],
  );
  expect(ready.get("v")).toEqual({ day: 6, bindingItem: "B" });
});

test("claims never take more by a day than supply brings by it", () => {
  const receipts = fc.array(fc.record({ day: fc.nat(25), quantity: fc.integer({ min: 1, max: 9 }) }), {
    maxLength: 6,
  });
  const wants = fc.array(
    fc.record({ promise: fc.option(fc.nat(60)), quantity: fc.integer({ min: 1, max: 8 }) }),
    {
      maxLength: 12,
    },
  );
  fc.assert(
    fc.property(fc.nat(20), receipts, wants, (onHand, came, list) => {
      const visits = list.map((w, i) => visit(`v${i}`, w.promise ?? undefined, w.quantity));
      const ready = kitReadyDays(visits, supply(onHand, came, 30));
      for (let day = 0; day < 30; day++) {
        const claimed = visits
          .filter((v) => ready.get(v.visitId)!.day <= day)
          .reduce((s, v) => s + v.lines[0]!.quantity, 0);
        const there = onHand + came.filter((r) => r.day <= day).reduce((s, r) => s + r.quantity, 0);
        expect(claimed).toBeLessThanOrEqual(there + 1e-6);
      }
    }),
  );
});
