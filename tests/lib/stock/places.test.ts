import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_STOCK_POLICY, kitPlace, shareSafetyStock, transferDays } from "@/lib/stock";

const at = (code: string, latDeg: number | null, lonDeg: number | null) => ({ code, latDeg, lonDeg });
const EQUATOR = at("ZERO", 0, 0);
/** One degree of longitude on the equator is 111.2 km. */
const FAR = at("FAR", 0, 5);

describe("days of a transfer", () => {
  it("are the handling, and one more for each day's road beyond the first", () => {
    const days = (kmPerDay: number) =>
      transferDays(EQUATOR, FAR, { ...DEFAULT_STOCK_POLICY, transferKmPerDay: kmPerDay }, 1.3);
    // 556 km by air, 723 km by road.
    expect(days(800)).toBe(1);
    expect(days(400)).toBe(2);
    expect(days(300)).toBe(3);
  });

  it("without a coordinate are the handling alone, and none at all where transfers are not allowed", () => {
    expect(transferDays(at("A", null, null), FAR, DEFAULT_STOCK_POLICY, 1.3)).toBe(1);
    expect(
      transferDays(EQUATOR, FAR, { ...DEFAULT_STOCK_POLICY, transfersAllowed: false }, 1.3),
    ).toBeUndefined();
  });
});

describe("the warehouse of a kit", () => {
  const warehouses = [EQUATOR, FAR, at("LOST", null, null)];
  it("is the crew's depot, or the nearest to the site by the other rule", () => {
    const site = { latDeg: 0, lonDeg: 4 };
    expect(kitPlace({ kitsFrom: "crew depot" }, "ZERO", site, warehouses)).toBe("ZERO");
    expect(kitPlace({ kitsFrom: "nearest warehouse" }, "ZERO", site, warehouses)).toBe("FAR");
    expect(kitPlace({ kitsFrom: "nearest warehouse" }, "ZERO", undefined, warehouses)).toBe("ZERO");
    expect(kitPlace({ kitsFrom: "nearest warehouse" }, "ZERO", site, [at("LOST", null, null)])).toBe("ZERO");
  });
});

describe("a shared safety stock", () => {
  it("follows the needs in whole pieces, and stays where most lies when nobody needs it", () => {
    const places = [
      { need: 20, onHand: 0 },
      { need: 10, onHand: 9 },
    ];
    expect(shareSafetyStock(4, places, 1)).toEqual([3, 1]);
    expect(shareSafetyStock(9, places)).toEqual([6, 3]);
    expect(shareSafetyStock(4, [places[0]!, { need: 0, onHand: 0 }], 1)).toEqual([4, 0]);
    const idle = places.map((p) => ({ ...p, need: 0 }));
    expect(shareSafetyStock(4, idle, 1)).toEqual([0, 4]);
  });

  it("adds up to the whole, and no share is a step away from its due", () => {
    fc.assert(
      fc.property(
        fc.array(fc.nat({ max: 50 }), { minLength: 1, maxLength: 6 }),
        fc.nat({ max: 40 }),
        (needs, total) => {
          const shares = shareSafetyStock(
            total,
            needs.map((need) => ({ need, onHand: 1 })),
            1,
          );
          expect(shares.reduce((a, b) => a + b, 0)).toBe(total);
          const sum = needs.reduce((a, b) => a + b, 0);
          for (const [i, share] of sum > 0 ? shares.entries() : [])
            expect(Math.abs(share - (total * needs[i]!) / sum)).toBeLessThan(1);
        },
      ),
      { seed: 7 },
    );
  });
});
