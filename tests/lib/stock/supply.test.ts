import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { earliestReadyDays } from "@/lib/stock";
import { position, receipt } from "./make";

const visit = (
  visitId: string,
  promiseDay: number | undefined,
  lines: Record<string, number>,
  priority?: number,
) => ({
  visitId,
  ...(promiseDay === undefined ? {} : { promiseDay }),
  ...(priority === undefined ? {} : { priority }),
  lines: Object.entries(lines).map(([itemCode, quantity]) => ({ itemCode, quantity })),
});

const days = (rows: ReturnType<typeof earliestReadyDays>) =>
  Object.fromEntries(rows.map((row) => [row.visitId, row.readyDay]));

describe("earliestReadyDays", () => {
  it("serves by promise, then priority, then id, and answers in the order asked", () => {
    const rows = earliestReadyDays(
      [
        visit("late", 20, { X: 4 }),
        visit("none", undefined, { X: 4 }),
        visit("early", 5, { X: 4 }),
        visit("vip", 20, { X: 4 }, 9),
      ],
      [position("X", 4, { leadTimeDays: 30 })],
      [receipt("X", 6, 4), receipt("X", 12, 4), receipt("X", 18, 4)],
    );
    expect(rows.map((row) => row.visitId)).toEqual(["late", "none", "early", "vip"]);
    expect(days(rows)).toEqual({ early: 0, vip: 6, late: 12, none: 18 });
  });

  it("leaves to those who follow what a later kit can have from an order", () => {
    const onHand = [position("X", 1, { leadTimeDays: 14 })];
    const both = (wantedDay?: number) =>
      days(
        earliestReadyDays(
          [{ ...visit("first", 1, { X: 1 }), wantedDay }, visit("second", 2, { X: 1 })],
          onHand,
          [],
        ),
      );
    expect(both()).toEqual({ first: 0, second: 14 });
    expect(both(13)).toEqual({ first: 0, second: 14 });
    expect(both(14)).toEqual({ first: 0, second: 0 });
  });

  it("counts no lot that has expired on the day on which the plan wants it", () => {
    const lots = [position("X", 1, { leadTimeDays: 14, lots: [{ quantity: 1, lastDay: 10 }] })];
    const ready = (wantedDay: number) => {
      const [row] = earliestReadyDays([{ ...visit("v", 1, { X: 1 }), wantedDay }], lots, []);
      return [row!.readyDay, row!.bindingItem];
    };
    expect(ready(10)).toEqual([0, undefined]);
    expect(ready(11)).toEqual([14, "X"]);
    // By then an order placed today is there.
    expect(ready(20)).toEqual([0, undefined]);
  });

  it("names the item that comes last and where it comes from", () => {
    const [row] = earliestReadyDays(
      [visit("v", 5, { X: 2, Y: 2, Z: 1 })],
      [position("X", 9), position("Y", 0), position("Z", 0, { leadTimeDays: 4 })],
      [receipt("Y", 7, 5, "PO-7")],
    );
    expect(row!.readyDay).toBe(7);
    expect(row!.bindingItem).toBe("Y");
    expect(row!.lines).toEqual([
      { itemCode: "X", readyDay: 0, from: "on hand" },
      { itemCode: "Y", readyDay: 7, from: "on the way", orderCode: "PO-7" },
      { itemCode: "Z", readyDay: 4, from: "to order" },
    ]);
  });

  it("is whole today when everything is on hand, and for an empty kit", () => {
    const rows = earliestReadyDays([visit("a", 1, { X: 1 }), visit("b", 1, {})], [position("X", 1)], []);
    expect(rows.map((row) => [row.readyDay, row.bindingItem])).toEqual([
      [0, undefined],
      [0, undefined],
    ]);
  });

  it("never comes when nothing is known of an item", () => {
    const [row] = earliestReadyDays([visit("v", 1, { GHOST: 1, X: 1 })], [position("X", 1)], []);
    expect(row!.readyDay).toBeUndefined();
    expect(row!.bindingItem).toBe("GHOST");
  });

  it("orders anew when a receipt comes later than an order placed today", () => {
    const [row] = earliestReadyDays(
      [visit("v", 1, { X: 1 })],
      [position("X", 0, { leadTimeDays: 5 })],
      [receipt("X", 9, 9)],
    );
    expect(row!.readyDay).toBe(5);
  });

  it("does not let a visit that waits for one item sit on another", () => {
    const rows = earliestReadyDays(
      [visit("waits", 1, { X: 3, Y: 1 }), visit("follows", 2, { X: 3 })],
      [position("X", 3, { leadTimeDays: 8 }), position("Y", 0, { leadTimeDays: 20 })],
      [],
    );
    expect(days(rows)).toEqual({ waits: 20, follows: 0 });
  });

  it("does not count a lot after its last day", () => {
    const positions = [
      position("TAPE", 2, { leadTimeDays: 15, lots: [{ quantity: 2, lastDay: 3 }] }),
      position("X", 0, { leadTimeDays: 6 }),
    ];
    expect(days(earliestReadyDays([visit("v", 1, { TAPE: 1 })], positions, []))).toEqual({ v: 0 });
    // X comes on day 6; by then the tape has expired and must be ordered too.
    expect(days(earliestReadyDays([visit("v", 1, { TAPE: 1, X: 1 })], positions, []))).toEqual({ v: 15 });
  });

  it("never gives out more by a day than has come by then", () => {
    const worlds = fc.record({
      visits: fc.array(
        fc.record({ promise: fc.nat({ max: 9 }), x: fc.nat({ max: 6 }), y: fc.nat({ max: 6 }) }),
        { maxLength: 8 },
      ),
      onHand: fc.nat({ max: 12 }),
      receipts: fc.array(fc.record({ day: fc.nat({ max: 20 }), quantity: fc.nat({ max: 8 }) }), {
        maxLength: 5,
      }),
    });
    fc.assert(
      fc.property(worlds, ({ visits, onHand, receipts }) => {
        // A lead time beyond every receipt: until then stock and receipts are all there is.
        const lead = 50;
        const due = receipts.map((r) => receipt("X", r.day, r.quantity));
        const claims = visits.map((v, k) => visit(`v${k}`, v.promise, { X: v.x, Y: v.y }));
        const positions = [
          position("X", onHand, { leadTimeDays: lead }),
          position("Y", 10, { leadTimeDays: lead }),
        ];
        const rows = earliestReadyDays(claims, positions, due);
        for (let day = 0; day < lead; day++) {
          const used = rows.reduce((sum, row, k) => sum + (row.readyDay! <= day ? visits[k]!.x : 0), 0);
          const come = due.reduce((sum, r) => sum + (r.day <= day ? r.quantity : 0), onHand);
          expect(used).toBeLessThanOrEqual(come);
        }
      }),
      { numRuns: 200, seed: 14 },
    );
  });
});
