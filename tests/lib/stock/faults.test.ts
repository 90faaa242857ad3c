import { describe, expect, it } from "vitest";
import { deadShare, faultState, faultSteps } from "@/lib/stock";

describe("what becomes of a faulty piece", () => {
  it("follows from its last row that stands", () => {
    expect(faultState([])).toBe("taken back");
    expect(faultState(["quality hold"])).toBe("on hold");
    expect(faultState(["quality hold", "to repair"])).toBe("in repair");
    expect(faultState(["quality hold", "to repair", "exchange", "exchange"])).toBe("exchanged");
    expect(faultState(["quality hold", "scrap"])).toBe("scrapped");
  });

  it("offers steps only while it stands on hold or in repair", () => {
    expect(faultSteps("on hold")).toEqual(["to repair", "release", "return", "scrap"]);
    expect(faultSteps("on hold", true)).toEqual(["release", "return", "scrap"]);
    expect(faultSteps("in repair")).toEqual(["from repair", "exchange", "scrap"]);
    for (const done of ["back from repair", "released", "exchanged", "scrapped", "taken back"] as const)
      expect(faultSteps(done)).toEqual([]);
  });
});

describe("deadShare", () => {
  it("says nothing of a supplier that delivered nothing", () => {
    expect(deadShare(1, 0)).toEqual({ share: null, low: 0, high: 1 });
  });

  it("gives none of ten a band above nought", () => {
    // By hand: z^2 = 1.6424, so the upper end is z^2 / (n + z^2) = 1.6424 / 11.6424.
    const { share, low, high } = deadShare(0, 10);
    expect(share).toBe(0);
    expect(low).toBe(0);
    expect(high).toBeCloseTo(1.6424 / 11.6424, 4);
  });

  it("narrows with the number of pieces and holds the share", () => {
    const few = deadShare(1, 20);
    const many = deadShare(50, 1000);
    for (const s of [few, many]) {
      expect(s.low).toBeLessThan(0.05);
      expect(s.high).toBeGreaterThan(0.05);
    }
    expect(many.high - many.low).toBeLessThan(few.high - few.low);
  });
});
