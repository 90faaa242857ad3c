/** Transfers between warehouses: proposed, decided on, moved in the ledger or cancelled. */
import { beforeEach, describe, expect, it } from "vitest";
import { ledgerDifferences, loadLedger } from "@/db/queries/ledger";
import { savePlanStock } from "@/db/queries/plans";
import { loadSupplies } from "@/db/queries/programme";
import { loadBalances } from "@/db/queries/shelves";
import {
  cancelTransfer,
  loadPlannedTransfers,
  moveTransfer,
  planTransfers,
  proposedTransfers,
  transfersToMove,
} from "@/db/queries/transfers";
import type { Result } from "@/lib/result";
import { DEFAULT_STOCK_POLICY } from "@/lib/stock";
import { addDays } from "@/lib/time";
import { BY, PIECE, TAPE, type TestStock, TODAY, testStock } from "./make";

let t: TestStock;
const rule = (r: Result<unknown>) => (r.ok ? "ok" : r.problems.map((p) => p.rule).join(", "));

beforeEach(() => {
  t = testStock();
  const proposal = (itemCode: string, quantityC: number) => ({
    itemCode,
    fromPlace: "WH-EAST",
    toPlace: "WH-WEST",
    quantityC,
    sendOn: TODAY,
    arriveOn: addDays(TODAY, 1),
    daysLate: 0,
    fromReserve: false,
  });
  savePlanStock(t.db, t.plan.id, [], {
    netting: [],
    transfers: [proposal(PIECE.code, 400), proposal(TAPE.code, 250)],
  });
});

/** As a page shows them. */
const shown = (itemCode?: string) =>
  proposedTransfers(t.db, t.plan.id, itemCode).map(({ quantity, ...of }) => ({
    ...of,
    quantityC: Math.round(quantity * 100),
  }));
const plan = (itemCode: string) => {
  const made = planTransfers(t.db, t.plan.id, shown(itemCode), BY);
  if (!made.ok) throw new Error(made.problems[0]!.message);
  return made.value[0]!;
};
const move = (id: number, quantityC: number, on = TODAY) =>
  moveTransfer(t.db, { id, quantityC, on, today: TODAY }, BY);
const at = (itemCode: string, placeCode: string) =>
  loadBalances(t.db, itemCode)
    .filter((b) => b.placeCode === placeCode)
    .map((b) => [b.lotCode, b.quantityC]);

describe("a proposed transfer", () => {
  it("is decided on once, and counts for the netting from then on", () => {
    const first = shown(PIECE.code);
    const id = plan(PIECE.code);
    expect(proposedTransfers(t.db, t.plan.id, PIECE.code)).toEqual([]);
    expect(rule(planTransfers(t.db, t.plan.id, first, BY))).toBe("transfer-unknown");
    expect(loadSupplies(t.db, TODAY, [], DEFAULT_STOCK_POLICY).transfers).toEqual([
      {
        code: `transfer ${id}`,
        itemCode: PIECE.code,
        fromPlace: "WH-EAST",
        toPlace: "WH-WEST",
        quantity: 4,
        sendOn: TODAY,
        arriveOn: addDays(TODAY, 1),
      },
    ]);
    // A week on nobody has moved it: it is believed to leave that day and to come the day after.
    expect(loadSupplies(t.db, addDays(TODAY, 7), [], DEFAULT_STOCK_POLICY).transfers).toMatchObject([
      { sendOn: addDays(TODAY, 7), arriveOn: addDays(TODAY, 8) },
    ]);
  });

  it("is decided on with all others that were chosen, or none is", () => {
    const all = shown();
    const strange = { ...all[0]!, itemCode: "LUG-16" };
    expect(rule(planTransfers(t.db, t.plan.id, [...all, strange], BY))).toBe("transfer-unknown");
    expect(loadPlannedTransfers(t.db)).toEqual([]);
    expect(proposedTransfers(t.db, t.plan.id)).toHaveLength(2);
  });
});

describe("a page that stood open while needs were netted again", () => {
  const nettedAgain = (quantityC: number) =>
    savePlanStock(t.db, t.plan.id, [], {
      netting: [],
      transfers: [
        {
          ...{ itemCode: PIECE.code, fromPlace: "WH-EAST", toPlace: "WH-WEST", quantityC, sendOn: TODAY },
          ...{ arriveOn: addDays(TODAY, 1), daysLate: 0, fromReserve: false },
        },
      ],
    });

  it("plans the line that is still proposed, whatever its number is by now", () => {
    const before = shown(PIECE.code);
    const numbers = () => proposedTransfers(t.db, t.plan.id, PIECE.code).map((p) => p.id);
    const was = numbers();
    nettedAgain(400);
    expect(numbers()).not.toEqual(was);
    expect(rule(planTransfers(t.db, t.plan.id, before, BY))).toBe("ok");
    expect(loadPlannedTransfers(t.db)).toMatchObject([{ itemCode: PIECE.code, quantityC: 400 }]);
  });

  it("is refused, and told what is proposed now, when that differs from what it showed", () => {
    const before = shown(PIECE.code);
    nettedAgain(500);
    const answer = planTransfers(t.db, t.plan.id, before, BY);
    expect(answer.ok ? [] : answer.problems).toMatchObject([
      { rule: "transfer-changed", message: expect.stringContaining("is proposed as 5 on") },
    ]);
    expect(loadPlannedTransfers(t.db)).toEqual([]);
  });
});

describe("a planned transfer", () => {
  it("moves in the ledger once, and less than planned ends it too", () => {
    const id = plan(PIECE.code);
    expect(move(id, 300)).toEqual({ ok: true, value: { rows: 1 } });
    expect([at(PIECE.code, "WH-EAST"), at(PIECE.code, "WH-WEST")]).toEqual([[["", 700]], [["", 300]]]);
    expect(rule(move(id, 100))).toBe("transfer-state");
    expect(transfersToMove(t.db)).toEqual([]);
    expect(loadLedger(t.db, { itemCode: PIECE.code, limit: 1 })[0]).toMatchObject({
      kind: "transfer",
      reason: `Planned transfer ${id}`,
    });
    expect(ledgerDifferences(t.db)).toEqual([]);
  });

  it("takes the lots that expire first and none that has expired", () => {
    // On the shelf: OLD has expired, SOON 200, LONG 100.
    expect(move(plan(TAPE.code), 250)).toEqual({ ok: true, value: { rows: 2 } });
    expect(at(TAPE.code, "WH-WEST")).toEqual([
      ["LONG", 50],
      ["SOON", 200],
    ]);
  });

  it("refuses more than planned, a day to come, and what the shelf does not hold; nothing moves", () => {
    const id = plan(PIECE.code);
    expect(rule(move(id, 500, addDays(TODAY, 1)))).toBe("transfer-quantity, future");
    expect(rule(move(id, 0))).toBe("transfer-quantity");
    t.db.$client.prepare("UPDATE stock_transfer SET quantity_c = 2000 WHERE id = ?").run(id);
    expect(rule(move(id, 1_500))).toBe("not-on-hand");
    expect(at(PIECE.code, "WH-WEST")).toEqual([]);
    expect(loadPlannedTransfers(t.db)).toHaveLength(1);
  });

  it("is cancelled with a reason and then counts no more", () => {
    const id = plan(PIECE.code);
    expect(rule(cancelTransfer(t.db, id, "not needed", BY))).toBe("ok");
    expect(rule(move(id, 100))).toBe("transfer-state");
    expect(loadSupplies(t.db, TODAY, [], DEFAULT_STOCK_POLICY).transfers).toEqual([]);
  });
});
