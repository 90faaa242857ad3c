import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  lengthClasses,
  type Offcut,
  type OffcutReason,
  SCRAP_REASONS,
  sumOffcuts,
  sumRemnants,
} from "@/lib/stock";
import { calendarDate } from "@/lib/time";

const cut = (on: string, itemCode: string, reason: OffcutReason, lengthC: number): Offcut => ({
  itemCode,
  on: calendarDate(on),
  reason,
  lengthC,
  priceMinor: itemCode === "IFC-08" ? 250 : 410,
  currency: "EUR",
});

describe("offcuts", () => {
  // The worked example of docs/methods/stock.md.
  const offcuts = [
    cut("2026-02-27", "IFC-08", "saw allowance", 20),
    cut("2026-03-03", "IFC-08", "saw allowance", 20),
    cut("2026-03-03", "IFC-08", "saw allowance", 20),
    cut("2026-03-10", "IFC-08", "too short", 1_140),
    cut("2026-03-11", "IFC-13", "wet inside", 500),
  ];

  test("by month, cable and reason", () => {
    expect(sumOffcuts(offcuts, ["month", "itemCode", "reason"])).toEqual([
      {
        month: "2026-02",
        itemCode: "IFC-08",
        reason: "saw allowance",
        pieces: 1,
        lengthC: 20,
        valueMinor: 50,
        currency: "EUR",
      },
      {
        month: "2026-03",
        itemCode: "IFC-08",
        reason: "saw allowance",
        pieces: 2,
        lengthC: 40,
        valueMinor: 100,
        currency: "EUR",
      },
      {
        month: "2026-03",
        itemCode: "IFC-08",
        reason: "too short",
        pieces: 1,
        lengthC: 1_140,
        valueMinor: 2_850,
        currency: "EUR",
      },
      {
        month: "2026-03",
        itemCode: "IFC-13",
        reason: "wet inside",
        pieces: 1,
        lengthC: 500,
        valueMinor: 2_050,
        currency: "EUR",
      },
    ]);
  });

  test("by cable alone", () => {
    expect(sumOffcuts(offcuts, ["itemCode"]).map((s) => [s.itemCode, s.lengthC, s.valueMinor])).toEqual([
      ["IFC-08", 1_200, 3_000],
      ["IFC-13", 500, 2_050],
    ]);
  });

  test("every way to sum gives the same metres and the same money; currencies stay apart", () => {
    const some = fc.array(
      fc.record({
        itemCode: fc.constantFrom("A", "B"),
        on: fc.constantFrom("2026-01-31", "2026-02-01").map(calendarDate),
        reason: fc.constantFrom<OffcutReason>(...SCRAP_REASONS, "saw allowance"),
        lengthC: fc.integer({ min: 1, max: 99_999 }),
        priceMinor: fc.integer({ min: 0, max: 999 }),
        currency: fc.constantFrom("EUR", "NOK"),
      }),
    );
    const totals = (sums: ReturnType<typeof sumOffcuts>) =>
      ["EUR", "NOK"].map((currency) =>
        sums
          .filter((s) => s.currency === currency)
          .reduce((t, s) => [t[0]! + s.lengthC, t[1]! + s.valueMinor, t[2]! + s.pieces], [0, 0, 0]),
      );
    fc.assert(
      fc.property(some, (list) => {
        const whole = totals(sumOffcuts(list, []));
        for (const by of [["itemCode"], ["month"], ["reason"], ["month", "itemCode", "reason"]] as const)
          expect(totals(sumOffcuts(list, by))).toEqual(whole);
        expect(whole[0]![2]! + whole[1]![2]!).toBe(list.length);
      }),
    );
  });
});

describe("length classes", () => {
  test("begin with what is too short and leave no gap", () => {
    const classes = lengthClasses(1_500);
    expect(classes[0]).toEqual({ fromC: 0, toC: 1_500, isScrap: true });
    expect(classes.map((c) => c.toC)).toEqual([1_500, 3_000, 6_000, 10_000, 20_000, null]);
    for (const [i, c] of classes.entries()) expect(c.fromC).toBe(i === 0 ? 0 : classes[i - 1]!.toC);
  });

  test("follow the cutting rules, even beyond the first steps or at nought", () => {
    expect(lengthClasses(7_000).map((c) => c.toC)).toEqual([7_000, 10_000, 20_000, null]);
    expect(lengthClasses(0)[0]).toEqual({ fromC: 0, toC: 3_000, isScrap: false });
  });

  test("take every remnant once, by what is left on it", () => {
    const remnant = (serial: string, remainingC: number) => ({
      receivedC: 50_000,
      serial,
      itemCode: "IFC-08",
      placeCode: "WH",
      remainingC,
      priceMinor: 250,
      currency: "EUR",
    });
    const sums = sumRemnants(
      [remnant("D1", 1_499), remnant("D2", 1_500), remnant("D3", 2_999), remnant("D4", 45_000)],
      1_500,
    );
    expect(sums.map((s) => [s.fromC, s.toC, s.drums, s.lengthC, s.valueMinor, s.isScrap])).toEqual([
      [0, 1_500, 1, 1_499, 3_748, true],
      [1_500, 3_000, 2, 4_499, 11_248, false],
      [20_000, null, 1, 45_000, 112_500, false],
    ]);
  });
});
