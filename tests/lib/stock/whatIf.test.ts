import { describe, expect, it } from "vitest";
import { effectOfSlip, slipReceipt } from "@/lib/stock";
import { need, position, receipt } from "./make";

const RECEIPTS = [receipt("X", 3, 10, "PO-1"), receipt("Y", 3, 5, "PO-1"), receipt("X", 9, 10, "PO-2")];

describe("a delivery that slips", () => {
  it("moves every line of its order and no other", () => {
    expect(slipReceipt(RECEIPTS, "PO-1", 7).map((r) => r.day)).toEqual([10, 10, 9]);
    expect(RECEIPTS[0]!.day).toBe(3);
    expect(() => slipReceipt(RECEIPTS, "PO-9", 7)).toThrow("no receipt is due from order PO-9");
  });

  it("lists the visits that it stops, and those that it makes worse", () => {
    const needs = [need("X", 4, 8, "A"), need("X", 6, 4, "B"), need("X", 12, 4, "C"), need("Y", 5, 5, "A")];
    const { hit, after } = effectOfSlip(needs, RECEIPTS, [position("X", 0), position("Y", 0)], 15, "PO-1", 7);
    expect(hit).toEqual([
      { itemCode: "X", visitId: "A", siteCode: "S-A", day: 4, missing: 8, missingBefore: 0 },
      { itemCode: "Y", visitId: "A", siteCode: "S-A", day: 5, missing: 5, missingBefore: 0 },
      { itemCode: "X", visitId: "B", siteCode: "S-B", day: 6, missing: 4, missingBefore: 2 },
    ]);
    expect(after.find((item) => item.itemCode === "X")!.runsOutDay).toBe(4);
  });

  it("hits nobody when there is enough without it", () => {
    expect(
      effectOfSlip([need("X", 4, 8)], RECEIPTS, [position("X", 20), position("Y", 0)], 15, "PO-1", 7).hit,
    ).toEqual([]);
  });
});
