/** From netting to proposed orders, through approval and sending to receipt in part, whole and beyond. */

import { beforeEach, describe, expect, it } from "vitest";
import { wholeCatalogueOf } from "@/app/_ui/language/catalogue";
import { makeWords } from "@/app/_ui/language/words";
import { sentWords } from "@/app/(work)/stock/sentWords";
import { loadApprovalLimits, setApprovalLimit } from "@/db/queries/approval";
import { loadCatalogue, loadOrdering } from "@/db/queries/catalogue";
import { loadFaults } from "@/db/queries/faultViews";
import { compareLots, loadNeeds, slipOfLine } from "@/db/queries/itemWhatIf";
import { ledgerDifferences, loadLedger, postMovement } from "@/db/queries/ledger";
import { loadLog } from "@/db/queries/log";
import { recordMovement, takeBack } from "@/db/queries/movements";
import { loadOnHandRows } from "@/db/queries/onHand";
import { changeOrdering } from "@/db/queries/ordering";
import { loadOrdersOnTheWay } from "@/db/queries/orderLines";
import { approveOrder, changeOrder, closeOrder, postponeLine, sendOrder } from "@/db/queries/orderSteps";
import { gathered, ordersToPlace, SUPPLIER_OPEN } from "@/db/queries/ordersToPlace";
import { loadOrder, loadOrders, onTheWayOf } from "@/db/queries/orderViews";
import { type StoredNetting, savePlanStock } from "@/db/queries/plans";
import { loadSupplies } from "@/db/queries/programme";
import { proposeOrders } from "@/db/queries/proposeOrders";
import { receiveOrder } from "@/db/queries/receiving";
import { loadRunsOut } from "@/db/queries/runsOut";
import { loadBalances } from "@/db/queries/shelves";
import { loadWaiting } from "@/db/queries/waiting";
import { cutDrums } from "@/lib/drums";
import type { Result } from "@/lib/result";
import { DEFAULT_STOCK_POLICY, LOT_RULES, orderCost } from "@/lib/stock";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays, daysBetween } from "@/lib/time";
import { BY, CABLE, EMPTY_NETTING, PIECE, TAPE, type TestStock, TODAY, testStock } from "./make";

const RADIO = DEFAULT_CATALOGUE.find((i) => i.owner === "customer")!;
const MANAGER = { ...BY, role: "manager" } as const;
let t: TestStock;

function netting(itemCode: string, orders: StoredNetting["body"]["orders"]): StoredNetting {
  return {
    itemCode,
    placeCode: itemCode === CABLE.code ? "" : "WH-EAST",
    runsOutOn: addDays(TODAY, 5),
    onHandC: 1_000,
    totalNeedC: 1_400,
    body: {
      ...EMPTY_NETTING,
      runsOutDay: 5,
      stops: [{ visitId: t.laterId, siteCode: "S", day: 5, missing: 4 }],
      stopsLeft: [{ visitId: t.laterId, siteCode: "S", day: 5, missing: 4 }],
      orders,
    },
  };
}

beforeEach(() => {
  t = testStock();
  savePlanStock(t.db, t.plan.id, [], {
    netting: [
      netting(PIECE.code, [
        { quantity: 10, receiptDay: 5, releaseDay: 0, pastDueDays: 3 },
        { quantity: 20, receiptDay: 25, releaseDay: 12, pastDueDays: 0 },
      ]),
      netting(TAPE.code, [{ quantity: 4, receiptDay: 5, releaseDay: 0, pastDueDays: 0 }]),
      netting(CABLE.code, [{ quantity: 1_000, receiptDay: 9, releaseDay: 0, pastDueDays: 0 }]),
      netting(RADIO.code, [{ quantity: 2, receiptDay: 5, releaseDay: 0, pastDueDays: 0 }]),
    ],
    transfers: [],
  });
});

const rule = (r: Result<unknown>) => (r.ok ? "ok" : r.problems.map((p) => p.rule).join(", "));

/** Writes the supplier on a proposed order. */
function nameSupplier(code: string): void {
  const lines = loadOrder(t.db, code)!.lines.map((l) => ({
    lineNo: l.lineNo,
    quantityC: l.quantityC,
    dueOn: l.dueOn,
  }));
  expect(rule(changeOrder(t.db, code, { supplier: "Fellgate Supplies", lines }, BY))).toBe("ok");
}

/** Proposes, and brings the purchase on the way. */
function onTheWay(): string {
  proposeOrders(t.db, t.plan, TODAY, BY);
  const order = loadOrders(t.db).find((o) => o.kind === "purchase")!;
  nameSupplier(order.code);
  expect(rule(approveOrder(t.db, order.code, MANAGER))).toBe("ok");
  expect(rule(sendOrder(t.db, order.code, TODAY, BY))).toBe("ok");
  return order.code;
}

const lineOf = (code: string, itemCode: string) =>
  loadOrder(t.db, code)!.lines.find((l) => l.itemCode === itemCode)!;

const receive = (
  code: string,
  line: Parameters<typeof receiveOrder>[2]["lines"][number],
  key: string,
  overReason?: string,
) => receiveOrder(t.db, code, { lines: [line], on: TODAY, today: TODAY, key, overReason }, BY);

describe("what to order today", () => {
  it("flags what is too late by the lead time, and keeps ours from the customer's", () => {
    const rows = ordersToPlace(t.db, t.plan, TODAY);
    const piece = rows.find((r) => r.itemCode === PIECE.code && r.isDue)!;
    expect(piece).toMatchObject({
      quantity: 10,
      kind: "purchase",
      placeCode: "WH-EAST",
      supplier: SUPPLIER_OPEN,
    });
    expect(piece.pastDueDays).toBe(Math.max(0, PIECE.leadTimeDays - 5));
    expect(rows.find((r) => r.itemCode === RADIO.code)!.kind).toBe("call-off");
    expect(rows.filter((r) => !r.isDue).map((r) => r.quantity)).toEqual([20]);
  });

  it("proposes once however often it is asked", () => {
    const codes = proposeOrders(t.db, t.plan, TODAY, BY);
    expect(codes).toHaveLength(2);
    expect(proposeOrders(t.db, t.plan, TODAY, BY)).toEqual([]);
    expect(loadWaiting(t.db).orders).toBe(codes.length);
    nameSupplier(codes[0]!);
    expect(rule(approveOrder(t.db, codes[0]!, MANAGER))).toBe("ok");
    expect(loadWaiting(t.db).orders).toBe(codes.length - 1);
    expect(loadOrders(t.db)).toHaveLength(2);
    const left = ordersToPlace(t.db, t.plan, TODAY);
    expect(left.filter((r) => r.isDue)).toEqual([]);
    // What is still wanted comes on top of the ten that wait.
    expect(left.filter((r) => r.itemCode === PIECE.code)).toMatchObject([{ quantity: 20, unsent: 10 }]);
  });

  it("counts lateness from the first kit that waits, visits before the shelf and earlier ones first", () => {
    const orders = [
      { quantity: 10, receiptDay: 5, releaseDay: 0, pastDueDays: 3 },
      { quantity: 20, receiptDay: 25, releaseDay: 12, pastDueDays: 0 },
    ];
    const stop = (day: number, missing: number) => ({ visitId: `v${day}`, siteCode: "S", day, missing });
    const waitsOn = (stopsLeft: ReturnType<typeof stop>[]) => {
      const piece = netting(PIECE.code, orders);
      savePlanStock(t.db, t.plan.id, [], {
        netting: [{ ...piece, body: { ...piece.body, stops: stopsLeft, stopsLeft } }],
        transfers: [],
      });
      return ordersToPlace(t.db, t.plan, TODAY);
    };
    const comesOn = addDays(TODAY, PIECE.leadTimeDays);
    // Nobody waits: the shelf is filled up, which loses nobody a day.
    expect(waitsOn([]).map((r) => [r.firstKitOn, r.pastDueDays])).toEqual([
      [undefined, 0],
      [undefined, 0],
    ]);
    // The shelf falls below what it keeps on day 5, the first kit lacks it on day 6; 12 are missing by day 26.
    const rows = waitsOn([stop(6, 4), stop(26, 8)]);
    expect(rows.map((r) => [r.neededOn, r.firstKitOn])).toEqual([
      [addDays(TODAY, 5), addDays(TODAY, 6)],
      [addDays(TODAY, 25), addDays(TODAY, 26)],
    ]);
    expect(rows[0]!.pastDueDays).toBe(Math.max(0, daysBetween(addDays(TODAY, 6), comesOn)));
    // What the first order covers does not wait for the second.
    expect(waitsOn([stop(6, 4), stop(26, 6)])[1]!.firstKitOn).toBeUndefined();
    // A stop before an order could come is not helped by it.
    expect(waitsOn([stop(2, 4)])[0]!.firstKitOn).toBeUndefined();
    expect(gathered([rows[0]!, { ...rows[0]!, neededOn: TODAY, firstKitOn: undefined }])).toMatchObject([
      { neededOn: TODAY, firstKitOn: addDays(TODAY, 6), pastDueDays: rows[0]!.pastDueDays },
    ]);
  });

  it("orders the drums that the cutting list buys, where and when it wants them, and metres beyond them", () => {
    const run = (id: string, placeId: string) => ({
      ...{ id, placeId, cableCode: CABLE.code, lengthCm: 20_000, neededOn: addDays(TODAY, 30) },
      ...{ hopId: "H", endId: id, siteId: "S", label: id },
    });
    const cutting = cutDrums(
      [run("a", "WH-EAST"), run("b", "WH-WEST"), run("c", "WH-WEST")],
      [],
      [{ cableCode: CABLE.code, lengthCm: 20_020, priceMinor: 100, leadTimeDays: 14 }],
      { sawAllowanceCm: 20, minUsefulCm: 1_500 },
      { today: TODAY, daysOver: () => 2 },
    );
    const orders = [
      { quantity: 600.6, receiptDay: 35, releaseDay: 21, pastDueDays: 0 },
      { quantity: 50, receiptDay: 40, releaseDay: 26, pastDueDays: 0 },
    ];
    savePlanStock(t.db, t.plan.id, cutting, { netting: [netting(CABLE.code, orders)], transfers: [] });
    expect(cutting[0]!.newDrums.map((d) => [d.kind.comesTo, d.count])).toEqual([
      ["WH-EAST", 1],
      ["WH-WEST", 2],
    ]);
    const wanted = () =>
      ordersToPlace(t.db, t.plan, TODAY).map((o) => [o.placeCode, o.quantity, o.neededOn, o.firstKitOn]);
    const day = addDays(TODAY, 30);
    expect(wanted()).toEqual([
      ["WH-EAST", 200.2, day, day],
      ["WH-WEST", 400.4, day, day],
      ["WH-EAST", 50, addDays(TODAY, 40), undefined],
    ]);
    // What is on an unsent order for a warehouse is taken off its drums, what is beyond them off the others.
    const [, west] = ordersToPlace(t.db, t.plan, TODAY);
    proposeOrders(t.db, t.plan, TODAY, BY, [
      { itemCode: west!.itemCode, placeCode: "WH-WEST", withLater: true },
    ]);
    expect(wanted().map(([placeCode, quantity]) => [placeCode, quantity])).toEqual([
      ["WH-EAST", 200.2],
      ["WH-EAST", 50],
    ]);
  });

  it("gathers an item's planned orders to one row, what is due and what comes later apart", () => {
    const rows = gathered(ordersToPlace(t.db, t.plan, TODAY));
    const pieces = rows.filter((r) => r.itemCode === PIECE.code);
    expect(pieces.map((r) => [r.isDue, r.quantity, r.parts.length])).toEqual([
      [true, 10, 1],
      [false, 20, 1],
    ]);
    const twice = gathered([pieces[0]!, { ...pieces[0]!, quantity: 2.5, neededOn: TODAY, pastDueDays: 9 }]);
    expect(twice).toMatchObject([{ quantity: 12.5, neededOn: TODAY, pastDueDays: 9 }]);
    expect(twice[0]!.parts.map((p) => p.quantity)).toEqual([10, 2.5]);
  });

  it("proposes only the lines that were chosen, and what comes later with them when it is asked for", () => {
    const line = { itemCode: PIECE.code, placeCode: "WH-EAST" };
    const codes = proposeOrders(t.db, t.plan, TODAY, BY, [{ ...line, withLater: true }]);
    expect(codes).toHaveLength(1);
    const order = loadOrder(t.db, codes[0]!)!;
    expect(order.lines).toMatchObject([{ itemCode: PIECE.code, quantityC: 3_000 }]);
    expect(order.lines[0]!.dueOn).toBe(addDays(TODAY, PIECE.leadTimeDays));
    const left = ordersToPlace(t.db, t.plan, TODAY);
    expect(left.map((r) => r.itemCode)).toContain(RADIO.code);
    expect(left.map((r) => r.itemCode)).not.toContain(PIECE.code);
  });

  it("proposes the rest when somebody lowers a proposed order", () => {
    proposeOrders(t.db, t.plan, TODAY, BY);
    const order = loadOrders(t.db).find((o) => o.kind === "call-off")!;
    changeOrder(
      t.db,
      order.code,
      { supplier: "Customer", lines: [{ lineNo: 1, quantityC: 100, dueOn: order.lines[0]!.dueOn }] },
      BY,
    );
    expect(ordersToPlace(t.db, t.plan, TODAY).find((r) => r.itemCode === RADIO.code)!.quantity).toBe(1);
  });
});

describe("approval limits", () => {
  const LOGISTICS = { ...BY, role: "logistics" } as const;
  const limit = (role: "manager" | "logistics", upToMinor: number | null) =>
    setApprovalLimit(t.db, { role, currency: "EUR", upToMinor, reason: "as decided" }, BY);

  it("let a role approve up to its amount and refuse one minor unit more, whatever was approved before", () => {
    proposeOrders(t.db, t.plan, TODAY, BY);
    const order = loadOrders(t.db).find((o) => o.kind === "purchase")!;
    // Named after it was approved, a supplier would ask for the approval anew.
    limit("manager", null);
    expect(rule(approveOrder(t.db, order.code, MANAGER))).toBe("order-supplier");
    nameSupplier(order.code);
    const [{ currency, minor }] = orderCost(order) as [{ currency: string; minor: number }];
    expect(currency).toBe("EUR");
    expect(rule(approveOrder(t.db, order.code, LOGISTICS))).toBe("approval-limit");
    limit("logistics", minor - 1);
    expect(rule(approveOrder(t.db, order.code, LOGISTICS))).toBe("approval-limit");
    limit("logistics", minor);
    expect(rule(approveOrder(t.db, order.code, LOGISTICS))).toBe("ok");
    // Changed figures are approved anew, and dearer ones by somebody else.
    const lines = order.lines.map((l) => ({ ...l, priceMinor: l.priceMinor + 1 }));
    changeOrder(t.db, order.code, { supplier: "Fellgate Supplies", lines }, BY);
    expect(rule(approveOrder(t.db, order.code, LOGISTICS))).toBe("approval-limit");
    limit("manager", minor);
    expect(rule(approveOrder(t.db, order.code, MANAGER))).toBe("approval-limit");
    expect(loadOrder(t.db, order.code)!.state).toBe("proposed");
    limit("manager", null);
    expect(rule(approveOrder(t.db, order.code, MANAGER))).toBe("ok");
  });

  it("are logged with what they were, and set twice they are one", () => {
    limit("manager", 500);
    limit("manager", 700);
    expect(loadApprovalLimits(t.db)).toMatchObject([{ role: "manager", currency: "EUR", upToMinor: 700 }]);
    expect(loadLog(t.db, 5, "role manager").map((e) => e.detail)).toMatchObject([
      { from: 500, to: 700 },
      { from: null, to: 500 },
    ]);
  });

  it("leave the refusal of an order that is further on to its state", () => {
    expect(rule(approveOrder(t.db, onTheWay(), LOGISTICS))).toBe("order-state");
  });
});

describe("an order", () => {
  it("goes proposed, approved, sent, and takes no step out of turn; every step is logged", () => {
    proposeOrders(t.db, t.plan, TODAY, BY);
    const { code } = loadOrders(t.db).find((o) => o.kind === "purchase")!;
    expect(rule(sendOrder(t.db, code, TODAY, BY))).toBe("order-supplier");
    const lines = loadOrder(t.db, code)!.lines.map(({ lineNo, quantityC, dueOn }) => ({
      lineNo,
      quantityC,
      dueOn,
    }));
    changeOrder(t.db, code, { supplier: "Fellgate Supplies", lines }, BY);
    expect(rule(sendOrder(t.db, code, TODAY, BY))).toBe("order-state");
    expect(loadOrdersOnTheWay(t.db)).toEqual([]);
    approveOrder(t.db, code, MANAGER);
    expect(rule(approveOrder(t.db, code, MANAGER))).toBe("order-state");
    sendOrder(t.db, code, TODAY, BY);
    expect(loadOrdersOnTheWay(t.db)).toHaveLength(3);
    expect(rule(changeOrder(t.db, code, { supplier: "Other", lines: [] }, BY))).toBe("order-state");
    expect(
      loadLog(t.db, 20, `order ${code}`)
        .map((e) => e.action)
        .reverse(),
    ).toEqual(["order proposed", "order changed", "order approved", "order sent"]);
    expect(rule(approveOrder(t.db, "PO-0", MANAGER))).toBe("order-unknown");
  });

  it("is received with the serials of radios that were read, but for those that go on hold", () => {
    proposeOrders(t.db, t.plan, TODAY, BY);
    const { code, lines } = loadOrders(t.db).find((o) => o.kind === "call-off")!;
    t.db.$client.prepare("UPDATE item SET category = 'ODU' WHERE code = ?").run(RADIO.code);
    const [{ lineNo, dueOn }] = lines as [(typeof lines)[number]];
    changeOrder(t.db, code, { supplier: "Customer", lines: [{ lineNo, quantityC: 300, dueOn }] }, BY);
    expect(rule(approveOrder(t.db, code, MANAGER))).toBe("ok");
    expect(rule(sendOrder(t.db, code, TODAY, BY))).toBe("ok");
    expect(lineOf(code, RADIO.code).takesSerials).toBe(true);
    const hold = { quantityC: 100, reason: "wet carton" };
    const came = { lineNo, quantityC: 300, hold };
    const refusal = receive(code, { ...came, serials: ["XX-1", "XX-2", "XX-3"] }, "delivery one");
    expect(refusal.ok ? "" : refusal.problems.map((p) => [p.path, p.message])).toEqual([
      [`line ${lineNo} (${RADIO.code})`, "Serials: 3; units for the shelf: 2."],
    ]);
    expect(receive(code, { ...came, serials: ["xx-1"] }, "delivery one")).toEqual({
      ok: true,
      value: "closed",
    });
    const receipts = loadLedger(t.db, { itemCode: RADIO.code, limit: 9 }).filter((r) => r.kind === "receipt");
    expect(receipts.map((r) => [r.serial, r.quantityC, r.orderCode])).toEqual([
      [null, 200, code],
      ["XX-1", 100, code],
    ]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("is received in part, then in whole; one key books once", () => {
    const code = onTheWay();
    const piece = lineOf(code, PIECE.code);
    const part = { lineNo: piece.lineNo, quantityC: 400 };
    expect(receive(code, part, "delivery one")).toEqual({ ok: true, value: "partly received" });
    expect(lineOf(code, PIECE.code).receivedC).toBe(400);
    expect(loadLog(t.db, 1, `order ${code}`)[0]!.detail).toMatchObject({
      lines: [{ item: PIECE.code, quantity: 4 }],
    });
    expect(loadBalances(t.db, PIECE.code)[0]!.quantityC).toBe(1_400);
    receive(code, { lineNo: piece.lineNo, quantityC: 600 }, "delivery two");
    const tape = lineOf(code, TAPE.code);
    expect(rule(receive(code, { lineNo: tape.lineNo, quantityC: 400 }, "delivery three"))).toBe(
      "lot-missing",
    );
    receive(
      code,
      { lineNo: tape.lineNo, quantityC: 400, lotCode: "NEW", expiresOn: addDays(TODAY, 300) },
      "delivery four",
    );
    const past = { lotCode: "PAST", expiresOn: addDays(TODAY, -1) };
    const aged = { lineNo: tape.lineNo, quantityC: 100, ...past };
    const asked = (part: object, key: string) => rule(receive(code, { ...aged, ...part }, key, "surplus"));
    expect(asked({}, "aged")).toBe("past-last-day");
    expect(asked({ sureOfExpired: addDays(TODAY, -2) }, "aged")).toBe("past-last-day");
    expect(asked({ expiresOn: TODAY }, "aged today")).toBe("ok");
    expect(asked({ sureOfExpired: past.expiresOn }, "aged sure")).toBe("ok");
    expect(asked({ hold: { quantityC: 100, reason: "past its day" } }, "aged held")).toBe("ok");
    const byHand = (part: object) =>
      rule(
        recordMovement(
          t.db,
          {
            kind: "receipt",
            itemCode: TAPE.code,
            toPlace: "WH-EAST",
            quantity: 1,
            ...past,
            on: TODAY,
            today: TODAY,
            reason: "found one",
            key: "aged by hand",
            ...part,
          },
          BY,
        ),
      );
    expect(byHand({})).toBe("past-last-day");
    expect(byHand({ sureOfExpired: past.expiresOn })).toBe("ok");
    const cable = lineOf(code, CABLE.code);
    expect(
      receive(
        code,
        {
          lineNo: cable.lineNo,
          quantityC: 100_000,
          drums: [
            { serial: "D2", lengthC: 50_100 },
            { serial: "D3", lengthC: 49_900 },
          ],
        },
        "delivery five",
      ),
    ).toEqual({ ok: true, value: "closed" });
    expect(
      loadOnHandRows(t.db, TODAY, { itemCode: CABLE.code }).map((r) => [r.drumSerial, r.quantity]),
    ).toEqual([
      ["D1", 100],
      ["D2", 501],
      ["D3", 499],
    ]);
    expect(rule(receive(code, part, "delivery six"))).toBe("order-state");
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("is received at another warehouse than it names: the ledger books it there, the order counts it", () => {
    const code = onTheWay();
    const { lineNo } = lineOf(code, PIECE.code);
    const book = (placeCode: string, key: string) =>
      receiveOrder(
        t.db,
        code,
        {
          lines: [{ lineNo, quantityC: 400, hold: { quantityC: 100, reason: "wet carton" } }],
          ...{ on: TODAY, today: TODAY, key, placeCode },
        },
        BY,
      );
    const at = (placeCode: string) =>
      loadBalances(t.db, PIECE.code)
        .filter((b) => b.placeCode === placeCode)
        .reduce((sum, b) => sum + b.quantityC, 0);
    const before = [at("WH-EAST"), at("WH-WEST")];
    expect(rule(book("VAN-1", "elsewhere"))).toBe("no-such-warehouse");
    expect(rule(book("WH-NOWHERE", "elsewhere"))).toBe("no-such-warehouse");
    expect(book("WH-WEST", "elsewhere")).toEqual({ ok: true, value: "partly received" });
    expect([at("WH-EAST"), at("WH-WEST")]).toEqual([before[0], before[1]! + 300]);
    expect(lineOf(code, PIECE.code).receivedC).toBe(400);
    expect(loadOrder(t.db, code)!.placeCode).toBe("WH-EAST");
    expect(loadFaults(t.db, { orderCode: code })).toMatchObject([{ quantity: 1 }]);
    expect(loadLog(t.db, 1, `order ${code}`)[0]!.detail).toMatchObject({ warehouse: "WH-WEST" });
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("takes in more than was ordered only with a reason", () => {
    const code = onTheWay();
    const line = { lineNo: lineOf(code, PIECE.code).lineNo, quantityC: 1_200 };
    expect(rule(receive(code, line, "over"))).toBe("over-delivery");
    expect(loadBalances(t.db, PIECE.code)[0]!.quantityC).toBe(1_000);
    expect(rule(receive(code, line, "over", "kept as spares"))).toBe("ok");
    expect(lineOf(code, PIECE.code).receivedC).toBe(1_200);
  });

  it("refuses drums whose serial is taken or whose lengths do not add up, and books nothing", () => {
    const code = onTheWay();
    const { lineNo } = lineOf(code, CABLE.code);
    const answer = receive(
      code,
      { lineNo, quantityC: 50_000, drums: [{ serial: "D1", lengthC: 49_000 }] },
      "drums",
    );
    expect(rule(answer)).toBe("drums-sum, serial-taken");
    expect(loadLedger(t.db, { limit: 100 }).some((r) => r.orderCode === code)).toBe(false);
  });

  it("waits again for a receipt that is taken back", () => {
    const code = onTheWay();
    receive(code, { lineNo: lineOf(code, PIECE.code).lineNo, quantityC: 1_000 }, "all of it");
    const row = loadLedger(t.db, { limit: 10 }).find((r) => r.orderCode === code)!;
    expect(takeBack(t.db, row.id, "wrong order", TODAY, BY).ok).toBe(true);
    expect(loadOrder(t.db, code)!.state).toBe("sent");
    expect(lineOf(code, PIECE.code).receivedC).toBe(0);
    expect(rule(takeBack(t.db, row.id, "once more", TODAY, BY))).toBe("row-reversed");
  });

  it("is closed short with its reason", () => {
    const code = onTheWay();
    expect(rule(closeOrder(t.db, code, "supplier cannot deliver", BY))).toBe("ok");
    expect(loadOrder(t.db, code)!.note).toContain("supplier cannot deliver");
    expect(loadOrdersOnTheWay(t.db)).toEqual([]);
  });
});

describe("prices and promises of an order", () => {
  const lineAt = (code: string, itemCode: string) => lineOf(code, itemCode);

  it("keep what was agreed when the catalogue's price changes", () => {
    const code = onTheWay();
    const before = lineAt(code, PIECE.code);
    expect(before).toMatchObject({ priceMinor: PIECE.priceMinor, isPriceAgreed: true });
    t.db.$client.prepare("UPDATE item SET price_minor = price_minor + 100 WHERE code = ?").run(PIECE.code);
    expect(lineAt(code, PIECE.code).priceMinor).toBe(PIECE.priceMinor);
  });

  it("propose the lower price of a large order, and take the one that is agreed", () => {
    const change = { ...loadOrdering(t.db).get(PIECE.code)!, lotRule: "minimum" as const };
    changeOrdering(t.db, PIECE.code, { ...change, priceBreaks: [{ fromQuantity: 10, priceMinor: 7 }] }, BY);
    const [code] = proposeOrders(t.db, t.plan, TODAY, BY).filter((c) =>
      loadOrder(t.db, c)!.lines.some((l) => l.itemCode === PIECE.code),
    );
    const line = lineAt(code!, PIECE.code);
    expect(line.priceMinor).toBe(7);
    changeOrder(
      t.db,
      code!,
      {
        supplier: "Fellgate Supplies",
        lines: [{ lineNo: line.lineNo, quantityC: line.quantityC, dueOn: line.dueOn, priceMinor: 6 }],
      },
      BY,
    );
    expect(lineAt(code!, PIECE.code)).toMatchObject({ priceMinor: 6, currency: PIECE.currency });
  });

  it("keep the day first promised when the supplier gives another", () => {
    const code = onTheWay();
    const { lineNo, dueOn } = lineAt(code, PIECE.code);
    const later = { lineNo, dueOn: addDays(dueOn, 9), reason: "the works are closed" };
    expect(rule(postponeLine(t.db, code, later, BY))).toBe("ok");
    expect(lineAt(code, PIECE.code)).toMatchObject({ dueOn: addDays(dueOn, 9), promisedOn: dueOn });
    expect(loadOrder(t.db, code)!.sentOn).toBe(TODAY);
    expect(rule(postponeLine(t.db, code, { ...later, lineNo: 99 }, BY))).toBe("line-not-open");
    receive(code, { lineNo, quantityC: lineAt(code, PIECE.code).quantityC }, "all of it at once");
    expect(rule(postponeLine(t.db, code, later, BY))).toBe("line-not-open");
  });
});

describe("how an item is ordered", () => {
  const standing = () => loadOrdering(t.db).get(PIECE.code)!;

  it("refuses prices that do not fall with rising quantities, and price breaks without prices", () => {
    const change = (more: object) => changeOrdering(t.db, PIECE.code, { ...standing(), ...more }, BY);
    const breaks = [
      { fromQuantity: 50, priceMinor: PIECE.priceMinor },
      { fromQuantity: 20, priceMinor: 1 },
    ];
    expect(rule(change({ priceBreaks: breaks }))).toBe("break-price, break-order");
    expect(rule(change({ lotRule: "price breaks" }))).toBe("breaks-missing");
    expect(rule(changeOrdering(t.db, "NO-SUCH", standing(), BY))).toBe("item-unknown");
    expect(standing()).toMatchObject({ priceBreaks: [], lotRule: "minimum" });
  });

  it("is what the netting of the programme orders by", () => {
    expect(rule(changeOrdering(t.db, PIECE.code, { ...standing(), lotRule: "Silver-Meal" }, BY))).toBe("ok");
    const item = loadCatalogue(t.db).filter((i) => i.code === PIECE.code);
    const [stock] = loadSupplies(t.db, TODAY, item, DEFAULT_STOCK_POLICY).stock;
    expect(stock!.lotRule).toMatchObject({
      kind: "Silver-Meal",
      orderCost: DEFAULT_STOCK_POLICY.orderCostMinor,
      step: PIECE.orderMultiple,
    });
  });

  it("is compared by what each rule costs for the kits' real needs", () => {
    // Fourteen wanted, ten on the shelf, the safety stock on top.
    const { need, rules } = compareLots(t.db, t.plan, TODAY, PIECE.code)!;
    expect(need).toBe(4 + PIECE.safetyStock);
    expect(rules.map((r) => r.kind)).toEqual([...LOT_RULES]);
    expect(rules[0]).toMatchObject({ kind: "lot for lot", bought: need, holdingCost: 0 });
    t.db.$client.prepare("UPDATE kit SET state = 'issued'").run();
    t.db.$client.prepare("UPDATE item SET safety_stock = 0 WHERE code = ?").run(PIECE.code);
    expect(compareLots(t.db, t.plan, TODAY, PIECE.code)).toBeUndefined();
  });
});

describe("what runs out and what a slip stops", () => {
  it("names the sites that stop, first day first", () => {
    const { rows } = loadRunsOut(t.db, t.plan.id);
    expect(rows[0]!.firstStops[0]).toMatchObject({ siteCode: "S", on: addDays(TODAY, 5), missing: 4 });
  });

  it("tells transfers day by day, not all under the first day", () => {
    const transfer = (quantityC: number, days: number, fromPlace = "WH-WEST") => ({
      itemCode: PIECE.code,
      fromPlace,
      toPlace: "WH-EAST",
      quantityC,
      sendOn: addDays(TODAY, days),
      arriveOn: addDays(TODAY, days + 1),
      daysLate: 0,
      fromReserve: false,
    });
    const one = netting(PIECE.code, []);
    savePlanStock(t.db, t.plan.id, [], {
      netting: [{ ...one, body: { ...one.body, stopsLeft: [] } }],
      transfers: [transfer(600, 17), transfer(2_000, 27), transfer(200, 27)],
    });
    const [row] = loadRunsOut(t.db, t.plan.id).rows;
    expect(row!.transfers).toEqual([
      { sendOn: addDays(TODAY, 17), quantity: 6, fromPlaces: ["WH-WEST"] },
      { sendOn: addDays(TODAY, 27), quantity: 22, fromPlaces: ["WH-WEST"] },
    ]);
    const words = makeWords("en", wholeCatalogueOf("en"));
    expect(sentWords({ ...row!, saved: 8 }, words).replaceAll("\u00a0", " ")).toBe(
      "of 6 pieces from WH-WEST by 2 Apr, 22 pieces more by 12 Apr, saves all of them",
    );
    const sent = (days: number) => ({ sendOn: addDays(TODAY, days), quantity: 1, fromPlaces: ["WH-WEST"] });
    expect(
      sentWords({ ...row!, saved: 6, stopsLeft: 2, transfers: [1, 2, 3, 4, 5].map(sent) }, words),
    ).toMatch(/, 2\s+pieces more after that, saves 6 visits$/);
  });

  it("counts as on the way what was ordered, and in how many orders, without proposals", () => {
    const code = onTheWay();
    const orders = loadOrders(t.db);
    const sent = orders.find((o) => o.code === code)!;
    const proposed = { ...sent, code: "PO-X", state: "proposed" as const };
    const line = sent.lines.find((l) => l.itemCode === PIECE.code)!;
    expect(onTheWayOf([sent, proposed], PIECE.code)).toEqual({
      quantity: (line.quantityC - line.receivedC) / 100,
      orderCount: 1,
    });
    expect(onTheWayOf([proposed], PIECE.code)).toEqual({ quantity: 0, orderCount: 0 });
  });

  it("says what other warehouses hold of it", () => {
    savePlanStock(t.db, t.plan.id, [], {
      netting: [netting(PIECE.code, []), { ...netting(PIECE.code, []), placeCode: "WH-WEST", onHandC: 300 }],
      transfers: [],
    });
    const { rows } = loadRunsOut(t.db, t.plan.id);
    expect(rows.map((r) => [r.placeCode, r.elsewhere])).toEqual([
      ["WH-EAST", [{ placeCode: "WH-WEST", onHand: 3 }]],
      ["WH-WEST", [{ placeCode: "WH-EAST", onHand: 10 }]],
    ]);
  });

  it("puts first the line whose first named visit comes first, whatever transfers save", () => {
    const stop = (day: number) => ({ visitId: t.visitId, siteCode: "S", day, missing: 1 });
    const row = (code: string, days: number[], left: number[]) => {
      const one = netting(code, []);
      return { ...one, body: { ...one.body, stops: days.map(stop), stopsLeft: left.map(stop) } };
    };
    savePlanStock(t.db, t.plan.id, [], {
      // The tape's first stop is saved by a transfer and its second is not.
      netting: [
        row(PIECE.code, [4], [4]),
        row(TAPE.code, [2, 9], [9]),
        row(CABLE.code, [4], [4]),
        row(RADIO.code, [1], []),
      ],
      transfers: [],
    });
    const { rows } = loadRunsOut(t.db, t.plan.id);
    expect(rows.map((r) => r.itemCode)).toEqual([TAPE.code, ...[PIECE.code, CABLE.code].sort(), RADIO.code]);
    expect(rows[0]!.firstStopOn).toBe(addDays(rows[0]!.firstStops[0]!.on, 7));
  });

  it("counts as saved what stops no more, also where a transfer makes another visit stop", () => {
    const stop = (visitId: string, siteCode: string) => ({ visitId, siteCode, day: 4, missing: 1 });
    const one = netting(PIECE.code, []);
    const stops = [stop("a", "S1"), stop("b", "S2")];
    savePlanStock(t.db, t.plan.id, [], {
      netting: [{ ...one, body: { ...one.body, stops, stopsLeft: [stop("b", "S2"), stop("c", "S3")] } }],
      transfers: [],
    });
    const { rows, sitesThatStop } = loadRunsOut(t.db, t.plan.id);
    expect(rows[0]).toMatchObject({ stopCount: 2, saved: 1, stopsLeft: 2 });
    expect(sitesThatStop).toBe(2);
  });

  it("finds the kit that a later delivery leaves short, and none when it is early enough", () => {
    // Ten on the shelf, fourteen needed by tomorrow: the delivery must be here tomorrow.
    const code = onTheWay();
    const { lineNo } = lineOf(code, PIECE.code);
    t.db.$client
      .prepare("UPDATE order_line SET due_on = ? WHERE order_code = ? AND line_no = ?")
      .run(addDays(TODAY, 1), code, lineNo);
    const key = `${code}/${lineNo}`;
    expect(slipOfLine(t.db, t.plan, TODAY, key, 0)!.hit).toEqual([]);
    expect(slipOfLine(t.db, t.plan, TODAY, key, 7)!.hit).toMatchObject([
      { visitId: t.laterId, missing: 4, missingBefore: 0 },
    ]);
    expect(loadNeeds(t.db, t.plan.id, PIECE.code).map((n) => n.quantity)).toEqual([6, 8]);
    expect(slipOfLine(t.db, t.plan, TODAY, "PO-0/1", 7)).toBeUndefined();
  });

  it("lets the other warehouse save what it can, and says which transfers do", () => {
    const code = onTheWay();
    const { lineNo } = lineOf(code, PIECE.code);
    t.db.$client
      .prepare("UPDATE order_line SET due_on = ? WHERE order_code = ? AND line_no = ?")
      .run(addDays(TODAY, 1), code, lineNo);
    postMovement(t.db, {
      key: "three in the west",
      kind: "receipt",
      itemCode: PIECE.code,
      owner: "contractor",
      toPlace: "WH-WEST",
      quantityC: 300,
      effectiveOn: TODAY,
      postedAt: BY.at,
      reason: "test",
      postedBy: "Test",
    });
    t.db.$client.prepare("UPDATE item SET safety_stock = 0 WHERE code = ?").run(PIECE.code);
    const effect = slipOfLine(t.db, t.plan, TODAY, `${code}/${lineNo}`, 7)!;
    expect(effect.hit).toMatchObject([{ visitId: t.laterId, placeId: "WH-EAST", missing: 1 }]);
    expect(effect.transfers).toMatchObject([
      { fromPlaceId: "WH-WEST", toPlaceId: "WH-EAST", quantity: 3, sendDay: 0, arriveDay: 1 },
    ]);
  });

  it("marks expired lots and makes nothing of them available", () => {
    const rows = loadOnHandRows(t.db, TODAY, { itemCode: TAPE.code });
    expect(rows.find((r) => r.lotCode === "OLD")).toMatchObject({
      isExpired: true,
      available: 0,
      quantity: 5,
    });
    expect(rows.find((r) => r.lotCode === "SOON")).toMatchObject({ isExpired: false, available: 2 });
  });
});

describe("movements by hand", () => {
  const base = { itemCode: PIECE.code, on: TODAY, today: TODAY, reason: "for the test", key: "by hand one" };

  it("posts the difference of a count, either way", () => {
    expect(
      rule(
        recordMovement(t.db, { ...base, kind: "count adjustment", fromPlace: "WH-EAST", quantity: 8 }, BY),
      ),
    ).toBe("ok");
    expect(loadLedger(t.db, { limit: 1 })[0]).toMatchObject({
      quantityC: 200,
      fromPlace: "WH-EAST",
      toPlace: null,
    });
    recordMovement(
      t.db,
      { ...base, key: "by hand two", kind: "count adjustment", fromPlace: "WH-EAST", quantity: 11 },
      BY,
    );
    expect(loadBalances(t.db, PIECE.code)[0]!.quantityC).toBe(1_100);
    expect(
      rule(
        recordMovement(
          t.db,
          { ...base, key: "by hand three", kind: "count adjustment", fromPlace: "WH-EAST", quantity: 11 },
          BY,
        ),
      ),
    ).toBe("count-agrees");
  });

  it("says everything that is wrong at once, each with field, value and remedy", () => {
    const answer = recordMovement(
      t.db,
      {
        ...base,
        kind: "transfer",
        fromPlace: "WH-EAST",
        toPlace: "WH-EAST",
        quantity: 1.5,
        reason: "",
        on: addDays(TODAY, 1),
      },
      BY,
    );
    expect(rule(answer).split(", ").sort()).toEqual(["future", "reason", "same-place", "whole"]);
    expect(answer.ok ? [] : answer.problems.every((p) => p.path && p.remedy)).toBe(true);
  });

  it("turns the ledger's refusal into words", () => {
    const answer = recordMovement(
      t.db,
      { ...base, kind: "transfer", fromPlace: "WH-EAST", toPlace: "WH-WEST", quantity: 11 },
      BY,
    );
    expect(answer.ok ? "" : answer.problems[0]!.message).toContain("on hand would fall below zero");
    expect(loadBalances(t.db, PIECE.code)).toHaveLength(1);
  });

  it("receives radios with the serials that were read, one row for each, once", () => {
    const radio = DEFAULT_CATALOGUE.find((i) => i.category === "ODU")!;
    const other = DEFAULT_CATALOGUE.filter((i) => i.category === "ODU")[1]!;
    const note = { ...base, itemCode: radio.code, kind: "receipt" as const, toPlace: "WH-WEST" };
    const take = (more: Partial<Parameters<typeof recordMovement>[1]>) =>
      recordMovement(t.db, { ...note, quantity: 3, ...more }, BY);
    const rowsOf = () =>
      loadLedger(t.db, { itemCode: radio.code, limit: 9 }).map((r) => [r.serial, r.quantityC]);
    expect(rule(take({ serials: ["XX-1", "xx-1"] }))).toBe("serial-twice");
    expect(rule(take({ serials: ["XX-1", "XX-2"], quantity: 1 }))).toBe("serials-more");
    expect(rowsOf()).toEqual([]);
    const first = take({ serials: [" xx-1", "XX-2"] });
    expect(rule(first)).toBe("ok");
    expect(rowsOf()).toEqual([
      [null, 100],
      ["XX-2", 100],
      ["XX-1", 100],
    ]);
    // Sent again it gives the row that it made then.
    expect(take({ serials: [" xx-1", "XX-2"] })).toEqual(first);
    expect(rowsOf()).toHaveLength(3);
    const again = take({ key: "by hand two", serials: ["xx-2"] });
    expect(again.ok ? "" : again.problems[0]!.message).toBe("XX-2 stands at WH-WEST by the ledger.");
    expect(rule(take({ key: "by hand two", itemCode: other.code, serials: ["xx-2"] }))).toBe("other-variant");
    expect(rule(take({ key: "by hand two", itemCode: PIECE.code, serials: ["XX-3"] }))).toBe(
      "serials-of-radios",
    );
    expect(
      rule(take({ key: "by hand two", kind: "transfer", fromPlace: "WH-EAST", serials: ["XX-1"] })),
    ).toContain("serials-kind");
    // Without serials it is one row, as of any item; taken back, a serial may come in again.
    expect(rule(take({ key: "by hand three" }))).toBe("ok");
    expect(rowsOf()[0]).toEqual([null, 300]);
    const { id } = loadLedger(t.db, { serial: "xx-1", limit: 1 })[0]!;
    expect(takeBack(t.db, id, "typed wrong", TODAY, BY).ok).toBe(true);
    expect(rule(take({ key: "by hand four", quantity: 1, serials: ["XX-1"] }))).toBe("ok");
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("receives a drum with its serial, once, and moves it only whole", () => {
    const drum = { ...base, itemCode: CABLE.code, drumSerial: "D9" };
    expect(
      rule(recordMovement(t.db, { ...drum, kind: "receipt", toPlace: "WH-WEST", quantity: 300 }, BY)),
    ).toBe("ok");
    expect(
      rule(
        recordMovement(
          t.db,
          { ...drum, key: "again", kind: "receipt", toPlace: "WH-WEST", quantity: 300 },
          BY,
        ),
      ),
    ).toBe("serial-taken");
    const part = recordMovement(
      t.db,
      { ...drum, key: "part", kind: "transfer", fromPlace: "WH-WEST", toPlace: "WH-EAST", quantity: 100 },
      BY,
    );
    expect(part.ok ? "" : part.problems[0]!.remedy).toContain("whole");
  });
});
