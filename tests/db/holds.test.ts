/** Goods doubted at the door: received, on hold, then released, returned to the supplier or scrapped. */
import { beforeEach, describe, expect, it } from "vitest";
import { loadDrums } from "@/db/queries/drums";
import { recordFault } from "@/db/queries/faultRecord";
import { stepFault } from "@/db/queries/faultSteps";
import { loadFaults } from "@/db/queries/faultViews";
import { ledgerDifferences, loadLedger } from "@/db/queries/ledger";
import { confirmCut, takeBack } from "@/db/queries/movements";
import { loadOnHandRows } from "@/db/queries/onHand";
import { saveOrder } from "@/db/queries/orderLines";
import { loadOrder, loadOrders } from "@/db/queries/orderViews";
import { receiveOrder } from "@/db/queries/receiving";
import { loadBalances, loadShelves } from "@/db/queries/shelves";
import { receiveWrongItem } from "@/db/queries/wrongItems";
import type { Result } from "@/lib/result";
import { DEFAULT_CATALOGUE } from "@/lib/takeoff";
import { addDays } from "@/lib/time";
import { BY, CABLE, DRUM_C, PIECE, TAPE, type TestStock, TODAY, testStock } from "./make";

const OTHERS = DEFAULT_CATALOGUE.filter((i) => i.owner === "contractor");
const LUG = OTHERS.find((i) => i.unit === "piece" && !i.shelfLifeDays && i.code !== PIECE.code)!;
let t: TestStock;
const CODE = "PO-90";
const line = (itemCode: string, quantityC: number) => ({ itemCode, quantityC, dueOn: TODAY });

beforeEach(() => {
  t = testStock();
  saveOrder(t.db, {
    code: CODE,
    kind: "purchase",
    supplier: "Fellgate Supplies",
    state: "sent",
    placeCode: "WH-EAST",
    createdAt: BY.at,
    createdBy: BY.name,
    sentOn: TODAY,
    lines: [line(PIECE.code, 1_000), line(TAPE.code, 400), line(CABLE.code, 2 * DRUM_C)],
  });
});

const rule = (r: Result<unknown>) => (r.ok ? "ok" : r.problems.map((p) => p.rule).join(", "));
type Lines = Parameters<typeof receiveOrder>[2]["lines"];
const receive = (lines: Lines, key = "delivery") =>
  receiveOrder(t.db, CODE, { lines, on: TODAY, today: TODAY, key }, BY);
const step = (id: number, s: Parameters<typeof stepFault>[1]["step"]) =>
  stepFault(t.db, { id, step: s, on: TODAY, today: TODAY, reason: "looked at" }, BY);
const shelf = (itemCode: string) =>
  (loadShelves(t.db, TODAY).get(itemCode) ?? []).find((s) => s.placeCode === "WH-EAST")?.onHand ?? 0;
const received = (itemCode: string) =>
  loadOrder(t.db, CODE)!.lines.find((l) => l.itemCode === itemCode)!.receivedC;

describe("a part of a delivery on hold", () => {
  it("is received, but on no shelf, until it is released", () => {
    const before = shelf(PIECE.code);
    const reason = "cartons wet";
    expect(rule(receive([{ lineNo: 1, quantityC: 1_000, hold: { quantityC: 300, reason } }]))).toBe("ok");
    expect(received(PIECE.code)).toBe(1_000);
    expect(shelf(PIECE.code)).toBe(before + 7);
    const held = loadFaults(t.db, { orderCode: CODE });
    expect(held).toMatchObject([
      { state: "on hold", quantity: 3, symptom: reason, supplier: "Fellgate Supplies", orderCode: CODE },
    ]);
    const row = loadLedger(t.db, { faultId: held[0]!.id, limit: 5 })[0]!;
    expect([row.kind, row.quantityC, row.postedBy]).toEqual(["quality hold", 300, BY.name]);
    expect(row.reason).toContain(reason);
    expect(
      loadOnHandRows(t.db, TODAY, { itemCode: PIECE.code }).filter((r) => r.available === 0),
    ).toHaveLength(1);
    expect(rule(step(held[0]!.id, { kind: "release", placeCode: "WH-EAST" }))).toBe("ok");
    expect(shelf(PIECE.code)).toBe(before + 10);
    expect(rule(step(held[0]!.id, { kind: "scrap" }))).toBe("fault-state");
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("is of the lot that came, not of one that lay there", () => {
    const expiresOn = addDays(TODAY, 300);
    const hold = { quantityC: 150, reason: "label unreadable" };
    expect(rule(receive([{ lineNo: 2, quantityC: 400, lotCode: "NEW", expiresOn, hold }]))).toBe("ok");
    const held = loadBalances(t.db, TAPE.code).filter((b) => b.placeCode === "WH-EAST HOLD");
    expect(held).toMatchObject([{ lotCode: "NEW", quantityC: 150 }]);
  });

  it("goes back to the supplier, and the order waits for as much again, or does not", () => {
    const hold = { quantityC: 300, reason: "wrong thread" };
    receive([{ lineNo: 1, quantityC: 1_000, hold }]);
    const { id } = loadFaults(t.db, { orderCode: CODE })[0]!;
    expect(step(id, { kind: "return", isAwaited: true })).toEqual({ ok: true, value: { state: "returned" } });
    expect(received(PIECE.code)).toBe(700);
    expect(loadBalances(t.db, PIECE.code).some((b) => b.placeCode === "WH-EAST HOLD")).toBe(false);
    // Taken back: it stands on hold again, and counts as received.
    const out = loadLedger(t.db, { faultId: id, limit: 1 })[0]!;
    expect(out).toMatchObject({ kind: "return", toPlace: null });
    expect(rule(takeBack(t.db, out.id, "still here", TODAY, BY))).toBe("ok");
    expect(received(PIECE.code)).toBe(1_000);
    expect(loadFaults(t.db, { id })[0]!.state).toBe("on hold");
    expect(rule(step(id, { kind: "return", isAwaited: false }))).toBe("ok");
    expect(received(PIECE.code)).toBe(1_000);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("is refused whole with the delivery when it cannot be", () => {
    const rows = () => loadLedger(t.db, { limit: 1_000 }).length;
    const before = rows();
    const more = { quantityC: 1_100, reason: "too many" };
    expect(rule(receive([{ lineNo: 1, quantityC: 1_000, hold: more }]))).toBe("hold-more");
    expect(rule(receive([{ lineNo: 1, quantityC: 1_000, hold: { quantityC: 100, reason: " " } }]))).toBe(
      "reason",
    );
    expect(rows()).toBe(before);
    expect(received(PIECE.code)).toBe(0);
    expect(loadOrders(t.db).find((o) => o.code === CODE)!.state).toBe("sent");
  });
});

describe("a drum on hold", () => {
  const drums = [
    { serial: "N1", lengthC: DRUM_C, holdReason: "jacket damaged" },
    { serial: "N2", lengthC: DRUM_C },
  ];

  it("is offered for no cut, and may be released or scrapped whole", () => {
    expect(rule(receive([{ lineNo: 3, quantityC: 2 * DRUM_C, drums }]))).toBe("ok");
    expect(
      loadDrums(t.db)
        .map((d) => d.serial)
        .sort(),
    ).toEqual(["D1", "N2"]);
    const held = loadFaults(t.db, { orderCode: CODE })[0]!;
    expect(held).toMatchObject({ drumSerial: "N1", quantity: DRUM_C / 100, state: "on hold" });
    const cut = confirmCut(
      t.db,
      {
        drumSerial: "N1",
        runId: t.runId,
        visitId: t.visitId,
        label: "R1",
        lengthC: 1_000,
        plannedC: 1_000,
        sawAllowanceC: 20,
        on: TODAY,
        planId: t.plan.id,
      },
      BY,
    );
    expect(cut.ok).toBe(false);
    expect(rule(step(held.id, { kind: "to repair", repairer: "Nobody" }))).toBe("fault-state");
    expect(rule(step(held.id, { kind: "release", placeCode: "WH-EAST" }))).toBe("ok");
    expect(
      loadDrums(t.db)
        .map((d) => d.serial)
        .sort(),
    ).toEqual(["D1", "N1", "N2"]);
  });

  it("is put on hold later as well, with all that is left on it", () => {
    const found = {
      itemCode: CABLE.code,
      cause: "doubtful" as const,
      symptom: "kinked",
      warehouseCode: "WH-EAST",
      foundOn: TODAY,
      today: TODAY,
    };
    const at = { ...found, fromPlace: "WH-EAST" };
    expect(rule(recordFault(t.db, { ...at, key: "by the metre", quantity: 5 }, BY))).toBe("fault-cable");
    expect(rule(recordFault(t.db, { ...at, key: "a part", drumSerial: "D1", quantity: 50 }, BY))).toBe(
      "ledger",
    );
    const made = recordFault(t.db, { ...at, key: "the whole", drumSerial: "D1", quantity: DRUM_C / 100 }, BY);
    expect(rule(made)).toBe("ok");
    expect(
      recordFault(t.db, { ...at, key: "the whole", drumSerial: "D1", quantity: DRUM_C / 100 }, BY),
    ).toEqual({
      ok: true,
      value: { id: made.ok ? made.value.id : 0, isNew: false },
    });
    expect(loadDrums(t.db)).toEqual([]);
    expect(rule(step(made.ok ? made.value.id : 0, { kind: "scrap" }))).toBe("ok");
    expect(loadBalances(t.db, CABLE.code)).toEqual([]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });
});

describe("a wrong item in the box", () => {
  const wrong = (part: Partial<Parameters<typeof receiveWrongItem>[2]> = {}, code = CODE) =>
    receiveWrongItem(
      t.db,
      code,
      {
        itemCode: LUG.code,
        quantityC: 500,
        reason: "in place of line 1",
        on: TODAY,
        today: TODAY,
        key: "wrong box",
        ...part,
      },
      BY,
    );
  const held = () => loadFaults(t.db, { orderCode: CODE });

  it("is taken in and on hold in one go; the order waits for what was ordered", () => {
    const before = shelf(LUG.code);
    expect(rule(wrong())).toBe("ok");
    expect(held()).toMatchObject([
      { itemCode: LUG.code, quantity: 5, state: "on hold", isWrongItem: true, isMendable: false },
    ]);
    expect(shelf(LUG.code)).toBe(before);
    expect(loadOrder(t.db, CODE)!.state).toBe("sent");
    expect(loadOrder(t.db, CODE)!.lines.map((l) => l.receivedC)).toEqual([0, 0, 0]);
    const kinds = loadLedger(t.db, { itemCode: LUG.code, limit: 2 }).map((r) => [r.kind, r.orderCode]);
    expect(kinds).toEqual([
      ["quality hold", null],
      ["receipt", CODE],
    ]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("goes back to the supplier without the order waiting for it, or is kept", () => {
    expect(rule(wrong({ quantityC: 200 }))).toBe("ok");
    expect(rule(wrong({ quantityC: 300, key: "another box" }))).toBe("ok");
    const before = shelf(LUG.code);
    const [kept, back] = held();
    expect(rule(step(kept!.id, { kind: "to repair", repairer: "Nobody" }))).toBe("fault-state");
    expect(rule(step(kept!.id, { kind: "release", placeCode: "WH-EAST" }))).toBe("ok");
    expect(shelf(LUG.code)).toBe(before + 3);
    expect(rule(step(back!.id, { kind: "return", isAwaited: true }))).toBe("ok");
    expect(loadOrder(t.db, CODE)!.state).toBe("sent");
    const left = loadLedger(t.db, { faultId: back!.id, limit: 1 })[0]!;
    expect([left.kind, left.toPlace, left.orderCode]).toEqual(["return", null, null]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("is refused on an order that has a line for it, that was not sent, and with what its kind needs left out", () => {
    expect(rule(wrong({ itemCode: PIECE.code }))).toBe("item-ordered");
    expect(rule(wrong({ itemCode: "NOT-THERE" }))).toBe("item-unknown");
    expect(rule(wrong({}, "PO-0"))).toBe("order-state");
    expect(rule(wrong({ quantityC: 0, on: addDays(TODAY, 1) }))).toBe("delivery-future, quantity");
    const other = OTHERS.find((i) => i.shelfLifeDays !== undefined && i.code !== TAPE.code)!;
    expect(rule(wrong({ itemCode: other.code }))).toBe("lot-missing");
    const expiresOn = addDays(TODAY, 200);
    expect(rule(wrong({ itemCode: other.code, lotCode: "X1", expiresOn }))).toBe("ok");
    expect(held()).toHaveLength(1);
  });

  it("of cable is a drum, held whole", () => {
    const cable = OTHERS.find((i) => i.category === "IF cable" && i.code !== CABLE.code)!;
    expect(rule(wrong({ itemCode: cable.code, quantityC: DRUM_C }))).toBe("drum-missing");
    expect(rule(wrong({ itemCode: cable.code, quantityC: DRUM_C, drumSerial: "D-WRONG" }))).toBe("ok");
    expect(held()).toMatchObject([{ drumSerial: "D-WRONG", quantity: DRUM_C / 100, isWrongItem: true }]);
    expect(
      rule(wrong({ itemCode: cable.code, quantityC: DRUM_C, drumSerial: "D-WRONG", key: "again" })),
    ).toBe("serial-taken");
  });

  it("is named so when nothing of a cable order was given", () => {
    const result = receive([]);
    expect(result.ok ? "" : result.problems[0]!.remedy).toContain("of cable the serial and length of a drum");
  });
});

describe("a hold decided in part", () => {
  const reason = "cartons wet";
  const held = () => loadFaults(t.db, { orderCode: CODE });
  const part = (id: number, s: Parameters<typeof stepFault>[1]["step"], quantity: number) =>
    stepFault(t.db, { id, step: s, on: TODAY, today: TODAY, reason: "looked at", quantity }, BY);

  it("releases three of five and returns two, each with its own way in the ledger", () => {
    const before = shelf(PIECE.code);
    receive([{ lineNo: 1, quantityC: 1_000, hold: { quantityC: 500, reason } }]);
    const { id } = held()[0]!;
    const released = part(id, { kind: "release", placeCode: "WH-EAST" }, 3);
    expect(released.ok && released.value.state).toBe("released");
    const rest = held().find((f) => f.id !== id)!;
    expect(rest).toMatchObject({
      quantity: 2,
      state: "on hold",
      symptom: reason,
      restOf: id,
      orderCode: CODE,
    });
    expect(released.ok && released.value.restId).toBe(rest.id);
    expect(shelf(PIECE.code)).toBe(before + 8);
    expect(rule(part(rest.id, { kind: "return", isAwaited: true }, 2))).toBe("ok");
    expect(shelf(PIECE.code)).toBe(before + 8);
    // The order waits for the two again.
    expect(received(PIECE.code)).toBe(800);
    expect(held().map((f) => [f.quantity, f.state])).toEqual([
      [2, "returned"],
      [3, "released"],
    ]);
    expect(loadBalances(t.db, PIECE.code).filter((b) => b.placeCode === "WH-EAST HOLD")).toEqual([]);
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("keeps lot and visit, may be parted again, and its last step can be taken back", () => {
    const expiresOn = addDays(TODAY, 300);
    const hold = { quantityC: 300, reason };
    receive([{ lineNo: 2, quantityC: 400, lotCode: "NEW", expiresOn, hold }]);
    const { id } = held()[0]!;
    expect(rule(part(id, { kind: "scrap" }, 1))).toBe("ok");
    const first = held().find((f) => f.restOf === id)!;
    expect(rule(part(first.id, { kind: "release", placeCode: "WH-EAST" }, 1.5))).toBe("ok");
    const second = held().find((f) => f.restOf === first.id)!;
    expect(second.quantity).toBe(0.5);
    const lots = loadBalances(t.db, TAPE.code).filter((b) => b.placeCode === "WH-EAST HOLD");
    expect(lots).toMatchObject([{ lotCode: "NEW", quantityC: 50 }]);
    const row = loadLedger(t.db, { faultId: first.id, limit: 1 })[0]!;
    const back = takeBack(t.db, row.id, "not released after all", TODAY, BY);
    expect(rule(back)).toBe("ok");
    expect(held().find((f) => f.id === first.id)!.state).toBe("on hold");
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("is refused for more than is held, for a drum, and when it is decided already", () => {
    receive([
      { lineNo: 1, quantityC: 500, hold: { quantityC: 500, reason } },
      { lineNo: 3, quantityC: DRUM_C, drums: [{ serial: "D-HELD", lengthC: DRUM_C, holdReason: reason }] },
    ]);
    const pieces = held().find((f) => f.itemCode === PIECE.code)!;
    const drum = held().find((f) => f.drumSerial !== null)!;
    expect(rule(part(pieces.id, { kind: "scrap" }, 6))).toBe("part");
    expect(rule(part(pieces.id, { kind: "scrap" }, 0))).toBe("part");
    expect(rule(part(drum.id, { kind: "scrap" }, 50))).toBe("part");
    expect(rule(part(pieces.id, { kind: "scrap" }, 5))).toBe("ok");
    expect(rule(part(pieces.id, { kind: "scrap" }, 1))).toBe("fault-state, part");
    expect(held()).toHaveLength(2);
  });
});
