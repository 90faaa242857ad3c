import { describe, expect, it } from "vitest";
import { effectOfSlip, type NeedLine, slipReceipt, type Warehouse } from "@/lib/stock";
import { need, position, receipt } from "./make";

const RECEIPTS = [receipt("X", 3, 10, "PO-1"), receipt("Y", 3, 5, "PO-1"), receipt("X", 9, 10, "PO-2")];

const RULES = { transferDays: () => 2 };

const north = (needs: NeedLine[], onHandX: number): Warehouse => ({
  placeId: "north",
  needs,
  receipts: RECEIPTS,
  positions: [position("X", onHandX), position("Y", 0)],
});

describe("a delivery that slips", () => {
  it("moves every line of its order and no other", () => {
    expect(slipReceipt(RECEIPTS, "PO-1", 7).map((r) => r.day)).toEqual([10, 10, 9]);
    expect(RECEIPTS[0]!.day).toBe(3);
    expect(() => slipReceipt(RECEIPTS, "PO-9", 7)).toThrow("no receipt is due from order PO-9");
  });

  it("lists the visits that it stops, and those that it makes worse", () => {
    const needs = [need("X", 4, 8, "A"), need("X", 6, 4, "B"), need("X", 12, 4, "C"), need("Y", 5, 5, "A")];
    const { hit, stopsBefore, stopsAfter } = effectOfSlip([north(needs, 0)], RULES, 15, "PO-1", 7);
    const at = { placeId: "north" };
    expect(hit).toEqual([
      { ...at, itemCode: "X", visitId: "A", siteCode: "S-A", day: 4, missing: 8, missingBefore: 0 },
      { ...at, itemCode: "Y", visitId: "A", siteCode: "S-A", day: 5, missing: 5, missingBefore: 0 },
      { ...at, itemCode: "X", visitId: "B", siteCode: "S-B", day: 6, missing: 4, missingBefore: 2 },
    ]);
    expect([stopsBefore, stopsAfter]).toEqual([1, 3]);
  });

  it("hits nobody when there is enough without it", () => {
    expect(effectOfSlip([north([need("X", 4, 8)], 20)], RULES, 15, "PO-1", 7).hit).toEqual([]);
  });

  it("hits only whom no transfer can save, and names the transfer that saves the others", () => {
    const south: Warehouse = { placeId: "south", needs: [], receipts: [], positions: [position("X", 9)] };
    const needs = [need("X", 4, 8, "A"), need("X", 6, 4, "B")];
    const { hit, transfers } = effectOfSlip([north(needs, 0), south], RULES, 15, "PO-1", 7);
    expect(hit).toEqual([
      {
        placeId: "north",
        itemCode: "X",
        visitId: "B",
        siteCode: "S-B",
        day: 6,
        missing: 3,
        missingBefore: 0,
      },
    ]);
    expect(transfers.map((t) => [t.fromPlaceId, t.toPlaceId, t.quantity, t.arriveDay])).toEqual([
      ["south", "north", 8, 4],
      ["south", "north", 1, 6],
    ]);
  });
});
