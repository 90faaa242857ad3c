/** A faulty radio from the shelf or the tower to the repairer and back, and what netting, close-out and suppliers see of it. */
import { beforeEach, describe, expect, test } from "vitest";
import type { Db } from "@/db/open";
import { loadCatalogue } from "@/db/queries/catalogue";
import { recordFault } from "@/db/queries/faultRecord";
import { promiseBack, stepFault } from "@/db/queries/faultSteps";
import { loadFaults } from "@/db/queries/faultViews";
import { ledgerDifferences, loadLedger, postMovement } from "@/db/queries/ledger";
import { takeBack } from "@/db/queries/movements";
import { loadOrdersOnTheWay, saveOrder } from "@/db/queries/orderLines";
import { loadSupplies, rulesInForce } from "@/db/queries/programme";
import { loadBalances } from "@/db/queries/shelves";
import { loadSuppliers } from "@/db/queries/suppliers";
import { addDays } from "@/lib/time";
import { BY, PIECE, TODAY, testStock } from "./make";

let db: Db;
let odu: string;

beforeEach(() => {
  db = testStock().db;
  odu = loadCatalogue(db).find((i) => i.category === "ODU")!.code;
  saveOrder(db, {
    code: "CO-9",
    kind: "call-off",
    supplier: "Radio store",
    state: "partly received",
    placeCode: "WH-EAST",
    createdAt: 0,
    createdBy: "Test",
    lines: [{ itemCode: odu, quantityC: 1_000, receivedC: 400, dueOn: addDays(TODAY, 9) }],
  });
  postMovement(db, {
    key: "odus",
    kind: "receipt",
    itemCode: odu,
    owner: "customer",
    toPlace: "WH-EAST",
    quantityC: 400,
    effectiveOn: addDays(TODAY, -10),
    postedAt: 0,
    orderCode: "CO-9",
    reason: "test",
    postedBy: "Test",
  });
});

const found = (part: Partial<Parameters<typeof recordFault>[1]> = {}) =>
  recordFault(
    db,
    {
      key: "fault one",
      itemCode: odu,
      serial: "R-17",
      quantity: 1,
      cause: "dead on arrival",
      symptom: "no transmit power",
      fromPlace: "WH-EAST",
      warehouseCode: "WH-EAST",
      foundOn: addDays(TODAY, -5),
      today: TODAY,
      ...part,
    },
    BY,
  );
const step = (
  id: number,
  s: Parameters<typeof stepFault>[1]["step"],
  on = addDays(TODAY, -3),
  reason = "as agreed",
) => stepFault(db, { id, step: s, on, today: TODAY, reason }, BY);
const id = (r: ReturnType<typeof recordFault>) => (r.ok ? r.value.id : 0);
const rules = (r: { ok: boolean; problems?: readonly { rule: string }[] }) =>
  r.ok ? [] : r.problems!.map((p) => p.rule);
const state = (n: number) => loadFaults(db, { id: n })[0]!.state;
const onHand = () =>
  loadSupplies(db, TODAY, loadCatalogue(db), rulesInForce(db).stockPolicy)
    .stock.find((s) => s.itemCode === odu)!
    .shelves.reduce((sum, s) => sum + s.onHand, 0);
const incoming = () =>
  loadSupplies(db, TODAY, loadCatalogue(db), rulesInForce(db).stockPolicy).orders.filter((o) =>
    o.orderCode.startsWith("repair"),
  );

describe("a faulty piece", () => {
  test("leaves the netting when it goes on hold, and the ledger says who, when and why", () => {
    expect(onHand()).toBe(4);
    const n = id(found());
    expect(onHand()).toBe(3);
    expect(state(n)).toBe("on hold");
    const [row] = loadLedger(db, { serial: "R-17", limit: 9 });
    expect(row).toMatchObject({
      kind: "quality hold",
      fromPlace: "WH-EAST",
      toPlace: "WH-EAST HOLD",
      owner: "customer",
      postedBy: "Test",
      reason: "Dead on arrival: no transmit power",
      faultId: n,
    });
    expect(ledgerDifferences(db)).toEqual([]);
  });

  test("is found once, however often its form is sent", () => {
    const first = found();
    expect(found()).toEqual({ ok: true, value: { id: id(first), isNew: false } });
    expect(loadFaults(db)).toHaveLength(1);
    expect(onHand()).toBe(3);
  });

  test("comes in again on the promised day, and only if one is promised", () => {
    const n = id(found());
    expect(step(n, { kind: "to repair", repairer: "Hill Repairs", reference: "RMA 5" }).ok).toBe(true);
    expect(state(n)).toBe("in repair");
    expect(incoming()).toEqual([]);
    promiseBack(db, { id: n, expectedBackOn: addDays(TODAY, 20), reason: "by phone" }, BY);
    expect(incoming()).toEqual([
      {
        orderCode: `repair ${n}`,
        lineNo: 1,
        placeCode: "WH-EAST",
        itemCode: odu,
        quantity: 1,
        dueOn: addDays(TODAY, 20),
      },
    ]);
    // Overdue: believed for tomorrow at the earliest, as an order is.
    promiseBack(db, { id: n, expectedBackOn: addDays(TODAY, -1), reason: "late" }, BY);
    expect(incoming()[0]!.dueOn).toBe(addDays(TODAY, 1));
    expect(step(n, { kind: "from repair", placeCode: "WH-EAST" }).ok).toBe(true);
    expect(state(n)).toBe("back from repair");
    expect(incoming()).toEqual([]);
    expect(onHand()).toBe(4);
    expect(loadOrdersOnTheWay(db).some((o) => o.orderCode === "CO-9")).toBe(true);
  });

  test("is exchanged for another serial; one step back takes both rows back", () => {
    const n = id(found());
    step(n, { kind: "to repair", repairer: "Hill Repairs", expectedBackOn: TODAY });
    expect(rules(step(n, { kind: "exchange", placeCode: "WH-EAST" }))).toEqual(["serial-missing"]);
    expect(rules(step(n, { kind: "exchange", placeCode: "WH-EAST", newSerial: "R-17" }))).toEqual([
      "serial-same",
    ]);
    expect(rules(step(n, { kind: "exchange", placeCode: "WH-EAST", newSerial: " r-17" }))).toEqual([
      "serial-same",
    ]);
    expect(step(n, { kind: "exchange", placeCode: "WH-WEST", newSerial: "r-99" }).ok).toBe(true);
    expect(loadFaults(db)[0]).toMatchObject({ state: "exchanged", replacedBy: "R-99", placeCode: null });
    expect(onHand()).toBe(4);
    expect(loadLedger(db, { serial: "R-99", limit: 9 })[0]!.owner).toBe("customer");
    const last = loadLedger(db, { faultId: n, limit: 1 })[0]!;
    expect(takeBack(db, last.id, "typed wrong", TODAY, BY).ok).toBe(true);
    expect(loadFaults(db)[0]).toMatchObject({ state: "in repair", replacedBy: null });
    expect(onHand()).toBe(3);
    expect(ledgerDifferences(db)).toEqual([]);
  });

  test("takes each step in its turn, and an earlier row back only after the later ones", () => {
    const n = id(found());
    expect(rules(step(n, { kind: "from repair", placeCode: "WH-EAST" }))).toContain("fault-state");
    step(n, { kind: "to repair", repairer: "Hill Repairs" });
    expect(rules(step(n, { kind: "release", placeCode: "WH-EAST" }))).toContain("fault-state");
    expect(rules(step(n, { kind: "scrap" }, addDays(TODAY, -4)))).toEqual(["before"]);
    const first = loadLedger(db, { faultId: n, limit: 9 }).at(-1)!;
    expect(rules(takeBack(db, first.id, "wrong", TODAY, BY))).toEqual(["fault-later"]);
    expect(step(n, { kind: "scrap" }).ok).toBe(true);
    expect(state(n)).toBe("scrapped");
    expect(loadBalances(db, odu).reduce((sum, b) => sum + b.quantityC, 0)).toBe(300);
    for (const row of loadLedger(db, { faultId: n, limit: 9 }))
      expect(takeBack(db, row.id, "all of it wrong", TODAY, BY).ok).toBe(true);
    expect(state(n)).toBe("taken back");
    expect(onHand()).toBe(4);
  });

  test("names what is missing or impossible", () => {
    expect(rules(found({ serial: undefined }))).toEqual(["serial-missing"]);
    expect(rules(found({ quantity: 2 }))).toEqual(["serial-one"]);
    expect(rules(found({ foundOn: addDays(TODAY, 1) }))).toEqual(["future"]);
    expect(rules(found({ warehouseCode: "VAN-1", symptom: " " }))).toEqual(["place", "reason"]);
    expect(loadFaults(db)).toEqual([]);
    expect(rules(found({ fromPlace: "VAN-1" }))).toEqual(["none-there"]);
    found();
    // Refused by the ledger: nothing is kept, not even the fault.
    expect(rules(found({ key: "fault two" }))).toEqual(["ledger"]);
    expect(loadFaults(db)).toHaveLength(1);
  });

  test("may have failed where it was installed, and be a piece without a serial", () => {
    const n = id(
      found({ key: "on the tower", fromPlace: undefined, serial: "R-3", cause: "failed in service" }),
    );
    expect(onHand()).toBe(4);
    expect(state(n)).toBe("on hold");
    const before = loadBalances(db, PIECE.code).reduce((sum, b) => sum + b.quantityC, 0);
    const two = id(found({ key: "two pieces", itemCode: PIECE.code, serial: undefined, quantity: 2 }));
    expect(step(two, { kind: "release", placeCode: "WH-EAST" }).ok).toBe(true);
    expect(state(two)).toBe("released");
    expect(loadBalances(db, PIECE.code).reduce((sum, b) => sum + b.quantityC, 0)).toBe(before);
  });
});

test("a supplier's dead on arrival are held against what it delivered", () => {
  const row = () => loadSuppliers(db, TODAY).find((s) => s.supplier === "Radio store")!;
  expect(row()).toMatchObject({ pieces: 4, dead: 0, deadShare: { share: 0 } });
  const n = id(found());
  found({ key: "in service", serial: "R-5", cause: "failed in service", fromPlace: undefined });
  expect(row()).toMatchObject({ pieces: 4, dead: 1, deadShare: { share: 0.25 } });
  expect(row().deadShare.low).toBeGreaterThan(0.05);
  expect(row().deadShare.high).toBeLessThan(0.6);
  step(n, { kind: "release", placeCode: "WH-EAST" });
  expect(row().dead).toBe(0);
});
