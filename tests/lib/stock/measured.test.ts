import { describe, expect, it } from "vitest";
import { leadTimeStatistics, measuredStock, weeklyUse } from "@/lib/stock";
import { addDays, calendarDate } from "@/lib/time";

const today = calendarDate("2026-03-18"); // a Wednesday; its week began on the 16th
const on = (date: string, quantity: number) => ({ on: calendarDate(date), quantity });

describe("use in whole weeks", () => {
  it("counts weeks before this one, oldest first, with what came back taken off", () => {
    const uses = [
      on("2026-03-02", 5),
      on("2026-03-08", 2),
      on("2026-03-15", 4),
      on("2026-03-14", -1),
      on("2026-03-16", 9),
    ];
    expect(weeklyUse(uses, today, 3, calendarDate("2025-01-01"))).toEqual([0, 7, 3]);
  });

  it("does not take weeks without records for weeks without use", () => {
    expect(weeklyUse([on("2026-03-11", 4)], today, 26, calendarDate("2026-03-02"))).toEqual([0, 4]);
    // Records begin on a Tuesday: that week is not whole.
    expect(weeklyUse([on("2026-03-11", 4)], today, 26, calendarDate("2026-03-03"))).toEqual([4]);
    expect(weeklyUse([], today, 26, today)).toEqual([]);
  });
});

/** Lead times of 14, 21 and 28 days: mean 21, sd 7. */
const deliveries = [14, 21, 28].map((days) => ({
  orderedOn: today,
  receivedOn: addDays(today, days),
  promisedOn: addDays(today, 20),
}));

describe("safety stock from measurement", () => {
  it("works the example of the method note", () => {
    // d = 10, s_d = 4 a week; L = 3 weeks, s_L = 1 week; 95 %: z = 1.644854.
    const m = measuredStock({
      usePerWeek: [6, 14, 10, 6, 14, 10, 6, 14, 10],
      deliveries,
      catalogueLeadDays: 99,
      serviceLevel: 0.95,
    });
    expect(m.useMean).toBe(10);
    expect(m.useSd).toBeCloseTo(Math.sqrt(96 / 8), 9);
    expect([m.leadMean, m.leadSd, m.leadFrom]).toEqual([3, 1, "deliveries"]);
    // 1.644854 x sqrt(3 x 12 + 100 x 1) = 1.644854 x 11.661904
    expect(m.safetyStock).toBeCloseTo(19.18213, 4);
    expect(m.reorderPoint).toBeCloseTo(49.18213, 4);
    expect(m.isThin).toBe(false);
  });

  it("takes the catalogue's lead time as certain with few deliveries, and says when records are thin", () => {
    const m = measuredStock({
      usePerWeek: [8, 12],
      deliveries: deliveries.slice(0, 2),
      catalogueLeadDays: 28,
      serviceLevel: 0.95,
    });
    expect(m).toMatchObject({ leadMean: 4, leadSd: 0, leadFrom: "catalogue", deliveries: 2, isThin: true });
    // z x sqrt(4) x sd of 8 and 12
    expect(m.safetyStock).toBeCloseTo(1.644854 * 2 * Math.sqrt(8), 4);
  });

  it("keeps no more than the shelf life lets be used", () => {
    const input = { usePerWeek: [0, 20, 0, 20], deliveries: [], catalogueLeadDays: 28, serviceLevel: 0.99 };
    const free = measuredStock(input);
    const capped = measuredStock({ ...input, shelfLifeDays: 14 });
    expect(free.safetyStock).toBeGreaterThan(20);
    expect(capped).toMatchObject({ usedInShelfLife: 20, safetyStock: 20, wanted: free.safetyStock });
    expect(measuredStock({ ...input, usePerWeek: [0, 0] }).safetyStock).toBe(0);
  });
});

describe("deliveries without a known day of sending", () => {
  it("say how late they came, and nothing of the lead time", () => {
    const late = { promisedOn: today, receivedOn: addDays(today, 4) };
    expect(leadTimeStatistics([...deliveries, late])).toMatchObject({
      count: 3,
      meanDays: 21,
      sdDays: 7,
      promised: 4,
      lateShare: 0.75,
      meanDaysLate: (1 + 8 + 4) / 3,
    });
  });
});
