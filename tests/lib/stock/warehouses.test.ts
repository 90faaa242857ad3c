import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type ItemNetting,
  type LotRule,
  netWarehouses,
  type ShelfBalance,
  type Warehouse,
} from "@/lib/stock";
import { need, position, receipt } from "./make";
import { plainNetting } from "./plainNetting";

const warehouse = (placeId: string, onHand: number, more: Partial<Warehouse> = {}): Warehouse => ({
  placeId,
  needs: [],
  receipts: [],
  positions: [position("X", onHand)],
  ...more,
});

const balanceOf = (s: ShelfBalance) => ({
  itemCode: s.itemCode,
  gross: [...s.gross],
  scheduled: [...s.scheduled],
  projectedWithoutOrders: [...s.projectedWithoutOrders],
  expiring: s.expiring && [...s.expiring],
  runsOutDay: s.runsOutDay,
  stops: s.stops,
  overdueReceipts: s.overdueReceipts,
});

const nettingOf = (n: ItemNetting) => ({
  ...balanceOf(n),
  projected: [...n.projected],
  net: [...n.net],
  orders: n.orders,
  // Sums of doubles made in two orders.
  waits: n.waits.map((w) => ({ ...w, missing: Math.round(w.missing * 1e6) / 1e6 })),
});

describe("netWarehouses", () => {
  it("sends and receives on working days only", () => {
    // Day 0 is a Friday; days 1, 2, 8 and 9 are weekends.
    const week = { firstWeekday: 5, workdays: [1, 2, 3, 4, 5] };
    const way = (wantedOn: number, days: number) => {
      const { transfers } = netWarehouses(
        [warehouse("north", 0, { needs: [need("X", wantedOn, 1)] }), warehouse("south", 5)],
        { transferDays: () => days, week },
        20,
      );
      return transfers.map((t) => [t.sendDay, t.arriveDay, t.daysLate]);
    };
    expect(way(3, 1)).toEqual([[0, 3, 0]]); // wanted on Monday: Friday to Monday
    expect(way(10, 2)).toEqual([[6, 10, 0]]); // Thursday, Friday, Monday
    expect(way(9, 1)).toEqual([[6, 7, 0]]); // wanted on a Sunday: there on the Friday before
    expect(way(0, 1)).toEqual([[0, 3, 3]]); // wanted today: there on Monday, three days late
    expect(way(5, 1)).toEqual([[4, 5, 0]]);
  });

  it("sends what one has to spare before it buys", () => {
    const { transfers, nettings } = netWarehouses(
      [warehouse("north", 2, { needs: [need("X", 6, 10)] }), warehouse("south", 5)],
      { transferDays: () => 2 },
      10,
    );
    expect(transfers).toEqual([
      {
        itemCode: "X",
        fromPlaceId: "south",
        toPlaceId: "north",
        quantity: 5,
        sendDay: 4,
        arriveDay: 6,
        daysLate: 0,
      },
    ]);
    expect(nettings.get("north")![0]!.withTransfers.orders.map((order) => order.quantity)).toEqual([3]);
    expect(nettings.get("south")![0]!.withTransfers.orders).toEqual([]);
    expect(nettings.get("south")![0]!.withTransfers.projected[9]).toBe(0);
  });

  it("leaves the sender its safety stock and its own later needs", () => {
    const sentWhenOrdersTake = (leadTimeDays: number) =>
      netWarehouses(
        [
          warehouse("north", 0, {
            positions: [position("X", 0, { leadTimeDays })],
            needs: [need("X", 3, 10)],
          }),
          warehouse("south", 9, {
            positions: [position("X", 9, { leadTimeDays, safetyStock: 1 })],
            needs: [need("X", 8, 5)],
          }),
        ],
        { transferDays: () => 1 },
        10,
      ).transfers.map((t) => [t.quantity, t.fromReserve ?? false]);
    expect(sentWhenOrdersTake(3)).toEqual([[3, false]]);
    // No order would come before the visit: the safety stock goes too, and what the sender could buy again in time.
    expect(sentWhenOrdersTake(10)).toEqual([
      [3, false],
      [1, true],
    ]);
    expect(sentWhenOrdersTake(8)).toEqual([
      [3, false],
      [6, true],
    ]);
  });

  it("says of a visit that must wait from when all of its need is there", () => {
    const waits = (onHand: number, leadTimeDays: number) =>
      netWarehouses(
        [
          warehouse("north", onHand, {
            positions: [position("X", onHand, { leadTimeDays })],
            needs: [need("X", 1, 4, "first"), need("X", 2, 3, "second")],
            receipts: [receipt("X", 5, 2), receipt("X", 9, 9)],
          }),
        ],
        { transferDays: () => undefined },
        15,
      ).nettings.get("north")![0]!.withTransfers.waits;
    // 3 lie there: the first lacks 1, which comes on day 5; the second's 3 are there with the receipt of day 9.
    expect(waits(3, 10)).toEqual([
      { visitId: "first", day: 1, missing: 1, coveredDay: 5 },
      { visitId: "second", day: 2, missing: 3, coveredDay: 9 },
    ]);
    // An order of today is quicker than both.
    expect(waits(3, 4).map((w) => w.coveredDay)).toEqual([4, 4]);
    expect(waits(3, 1)).toEqual([]);
    expect(waits(7, 10)).toEqual([]);
  });

  it("sends nothing on that only another proposal brings: it goes straight to the visit that would stop", () => {
    // East has the only piece; B1 keeps a spare that it does not have and lies on the way to West.
    const way: Record<string, number> = { "east b1": 1, "b1 west": 1, "east west": 2 };
    const netted = (eastHas: number, wantedOn: number) =>
      netWarehouses(
        [
          warehouse("east", eastHas),
          warehouse("b1", 0, { positions: [position("X", 0, { safetyStock: 1, leadTimeDays: 30 })] }),
          warehouse("west", 0, {
            positions: [position("X", 0, { leadTimeDays: 30 })],
            needs: [need("X", wantedOn, 1)],
          }),
        ],
        { transferDays: (from, to) => way[`${from} ${to}`] },
        40,
      );
    const sent = (...given: Parameters<typeof netted>) =>
      netted(...given).transfers.map((t) => [t.fromPlaceId, t.toPlaceId, t.quantity, t.sendDay, t.arriveDay]);
    expect(sent(1, 12)).toEqual([["east", "west", 1, 10, 12]]);
    const { nettings } = netted(1, 12);
    expect(nettings.get("b1")![0]!.withTransfers.orders.map((o) => o.quantity)).toEqual([1]);
    expect(nettings.get("west")![0]!.withTransfers.stops).toEqual([]);
    // There is one for each.
    expect(sent(2, 12)).toEqual([
      ["east", "b1", 1, 0, 1],
      ["east", "west", 1, 10, 12],
    ]);
  });

  it("asks the nearest first, and nobody where there is no way", () => {
    const sites = [
      warehouse("a", 0, { needs: [need("X", 5, 6)] }),
      warehouse("b", 4),
      warehouse("c", 9),
      warehouse("d", 9),
    ];
    const daysFrom: Record<string, number | undefined> = { b: 1, c: 3 };
    const { transfers } = netWarehouses(sites, { transferDays: (from) => daysFrom[from] }, 8);
    expect(transfers.map((t) => [t.fromPlaceId, t.quantity])).toEqual([
      ["b", 4],
      ["c", 2],
    ]);
  });

  it("shows a transfer that comes late as late, keeps the stop in sight, and buys nothing twice", () => {
    const { transfers, nettings } = netWarehouses(
      [warehouse("north", 0, { needs: [need("X", 1, 4, "V")] }), warehouse("south", 9)],
      { transferDays: () => 3 },
      8,
    );
    expect(transfers[0]).toMatchObject({ sendDay: 0, arriveDay: 3, daysLate: 2, quantity: 4 });
    const north = nettings.get("north")![0]!.withTransfers;
    expect(north.stops).toEqual([{ visitId: "V", siteCode: "S-V", day: 1, missing: 4 }]);
    expect(north.orders).toEqual([]);
  });

  it("buys when a purchase comes sooner than the transfer", () => {
    const quick = [position("X", 0, { leadTimeDays: 2 })];
    const { transfers, nettings } = netWarehouses(
      [warehouse("north", 0, { positions: quick, needs: [need("X", 1, 4)] }), warehouse("south", 9)],
      { transferDays: () => 3 },
      8,
    );
    expect(transfers).toEqual([]);
    expect(nettings.get("north")![0]!.withTransfers.orders.map((order) => order.quantity)).toEqual([4]);
  });

  it("says what stops on each shelf as long as nobody sends anything", () => {
    const { nettings } = netWarehouses(
      [warehouse("north", 1, { needs: [need("X", 4, 3, "V")] }), warehouse("south", 9)],
      { transferDays: () => 2 },
      8,
    );
    const north = nettings.get("north")![0]!;
    expect(north.alone.runsOutDay).toBe(4);
    expect(north.alone.stops).toEqual([{ visitId: "V", siteCode: "S-V", day: 4, missing: 2 }]);
    expect(north.withTransfers.stops).toEqual([]);
  });

  it("sends whole steps, and what is short within the cover at once", () => {
    const step = { transferStep: 1 };
    const north = warehouse("north", 0, {
      positions: [position("X", 0, step)],
      needs: [need("X", 5, 0.4), need("X", 7, 1.5), need("X", 14, 1)],
    });
    const south = warehouse("south", 3.7, { positions: [position("X", 3.7, step)] });
    const sent = (coverDays: number) =>
      netWarehouses([north, south], { transferDays: () => 1, coverDays }, 20).transfers.map((t) => [
        t.arriveDay,
        t.quantity,
      ]);
    expect(sent(1)).toEqual([
      [5, 1],
      [7, 1],
      [14, 1],
    ]);
    expect(sent(7)).toEqual([
      [5, 2],
      [14, 1],
    ]);
  });

  it("never makes a sender short within the horizon, and by its reserve not before it can buy", () => {
    const DAYS = 12;
    const rows = fc.array(fc.record({ day: fc.nat({ max: DAYS - 1 }), quantity: fc.nat({ max: 9 }) }), {
      maxLength: 5,
    });
    const side = fc.record({
      onHand: fc.nat({ max: 20 }),
      safetyStock: fc.nat({ max: 3 }),
      needs: rows,
      receipts: rows,
    });
    const sidesOf = fc.array(side, { minLength: 2, maxLength: 3 });
    fc.assert(
      fc.property(sidesOf, fc.nat({ max: 4 }), fc.constantFrom(0, 5), (sides, days, leadTimeDays) => {
        const warehouses = sides.map((s, k) =>
          warehouse(`w${k}`, s.onHand, {
            positions: [position("X", s.onHand, { safetyStock: s.safetyStock, leadTimeDays })],
            needs: s.needs.map((n) => need("X", n.day, n.quantity)),
            receipts: s.receipts.map((r) => receipt("X", r.day, r.quantity)),
          }),
        );
        const { transfers, nettings } = netWarehouses(warehouses, { transferDays: () => days }, DAYS);
        const alone = netWarehouses(warehouses, { transferDays: () => undefined }, DAYS);
        const bought = (result: typeof alone) =>
          [...result.nettings.values()]
            .flat()
            .reduce((sum, item) => sum + item.withTransfers.orders.reduce((s, o) => s + o.quantity, 0), 0);
        const saved = bought(alone) - bought({ transfers, nettings });
        const sent = transfers.reduce((sum, t) => sum + t.quantity, 0);
        // What is sent need not be bought, except what only bridges the days until an order on the way comes.
        if (leadTimeDays === 0) expect(saved).toBeCloseTo(sent, 9);
        else expect(saved).toBeLessThanOrEqual(sent + 1e-9);
        for (const [k, { onHand, receipts }] of sides.entries()) {
          // Nothing is sent on that a proposal brings.
          const out = transfers.filter((t) => t.fromPlaceId === `w${k}`);
          for (const { sendDay } of out) {
            const there = receipts
              .filter((r) => r.day <= sendDay)
              .reduce((sum, r) => sum + r.quantity, onHand);
            const gone = out.filter((t) => t.sendDay <= sendDay).reduce((sum, t) => sum + t.quantity, 0);
            expect(gone).toBeLessThanOrEqual(there);
          }
        }
        for (const [placeId, [item]] of nettings) {
          if (transfers.some((t) => t.toPlaceId === placeId)) continue;
          const before = alone.nettings.get(placeId)![0]!.withTransfers;
          const stopsInTime = ({ stops }: typeof before) => stops.filter((s) => s.day < leadTimeDays);
          expect(stopsInTime(item!.withTransfers)).toEqual(stopsInTime(before));
          if (transfers.some((t) => t.fromPlaceId === placeId && t.fromReserve)) continue;
          // A warehouse that only sends what it does not keep back buys exactly what it would have bought anyway.
          expect(item!.withTransfers.orders.map((o) => [o.receiptDay, o.quantity])).toEqual(
            before.orders.map((o) => [o.receiptDay, o.quantity]),
          );
        }
      }),
      { numRuns: 200, seed: 15 },
    );
  });

  it("nets as the plain reckoning does, series by series", () => {
    const DAYS = 15;
    const rows = fc.array(
      fc.record({ day: fc.integer({ min: -2, max: DAYS + 1 }), quantity: fc.nat({ max: 900 }) }),
      { maxLength: 5 },
    );
    const lotRule = fc.constantFrom<LotRule>(
      { kind: "lot for lot" },
      { kind: "minimum", minimum: 5, multiple: 5 },
      { kind: "Wagner-Whitin", orderCost: 30, holdingPerDay: 1 },
    );
    const shelf = fc.record({
      onHand: fc.nat({ max: 2000 }),
      safetyStock: fc.nat({ max: 300 }),
      share: fc.nat({ max: 2 }),
      lastDay: fc.nat({ max: DAYS }),
      needs: rows,
      receipts: rows,
    });
    const item = fc.record({
      shelves: fc.array(fc.option(shelf, { freq: 5 }), { minLength: 3, maxLength: 3 }),
      leadTimeDays: fc.nat({ max: 8 }),
      lotRule,
      transferStep: fc.constantFrom(undefined, 1),
    });
    const days = fc.array(fc.option(fc.nat({ max: 4 }), { nil: undefined, freq: 6 }), {
      minLength: 9,
      maxLength: 9,
    });
    fc.assert(
      fc.property(
        fc.array(item, { maxLength: 3 }),
        days,
        fc.integer({ min: 1, max: 5 }),
        (items, way, cover) => {
          const warehouses = ["w0", "w1", "w2"].map((placeId, k): Warehouse => {
            const here = items.flatMap(({ shelves, ...rest }, i) =>
              shelves[k] ? [{ ...rest, ...shelves[k], code: `I${i}` }] : [],
            );
            // Two decimals, so that the sums of doubles are put to the test.
            return {
              placeId,
              needs: here.flatMap((s) =>
                s.needs.map((n, v) => need(s.code, n.day, n.quantity / 100, `v${v}`)),
              ),
              receipts: here.flatMap((s) => s.receipts.map((r) => receipt(s.code, r.day, r.quantity / 100))),
              positions: here.map(
                ({ code, onHand, safetyStock, share, lastDay, needs: _, receipts: __, ...rest }) =>
                  position(code, onHand / 100, {
                    ...rest,
                    safetyStock: safetyStock / 100,
                    lots: share === 0 ? undefined : [{ quantity: (onHand / 200) * share, lastDay }],
                  }),
              ),
            };
          });
          const rules = {
            transferDays: (from: string, to: string) => way[3 * Number(from[1]) + Number(to[1])],
            coverDays: cover,
          };
          const quick = netWarehouses(warehouses, rules, DAYS);
          const plain = plainNetting(warehouses, rules, DAYS);
          expect(quick.transfers).toEqual(plain.transfers);
          for (const [placeId, shelves] of plain.nettings) {
            const found = quick.nettings.get(placeId)!;
            expect(found.map((s) => balanceOf(s.alone))).toEqual(shelves.map((s) => balanceOf(s.alone)));
            expect(found.map((s) => nettingOf(s.withTransfers))).toEqual(
              shelves.map((s) => nettingOf(s.withTransfers)),
            );
          }
        },
      ),
      { numRuns: 400, seed: 16 },
    );
  });
});
