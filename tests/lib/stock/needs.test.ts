import { describe, expect, it } from "vitest";
import { needsFromKits, pickDay } from "@/lib/stock";
import { FIVE_DAYS } from "@/lib/time";

const WEEK = { firstWeekday: 1, workdays: FIVE_DAYS }; // day 0 is a Monday

describe("pickDay", () => {
  it("counts calendar days without a working week", () => {
    expect(pickDay(10, 2)).toBe(8);
    expect(pickDay(1, 3)).toBe(-2);
  });

  it("skips the weekend: a Monday visit is picked on Friday", () => {
    expect(pickDay(7, 1, WEEK)).toBe(4);
    expect(pickDay(8, 1, WEEK)).toBe(7);
    expect(pickDay(7, 6, WEEK)).toBe(-3); // the Friday before last
  });

  it("picks on the last working day before a weekend visit, also without preparation days", () => {
    expect(pickDay(6, 0, WEEK)).toBe(4);
    expect(pickDay(4, 0, WEEK)).toBe(4);
  });

  it("starts the count at any weekday", () => {
    expect(pickDay(3, 2, { firstWeekday: 5, workdays: FIVE_DAYS })).toBe(-1); // day 3 is Monday, day -1 Thursday
  });

  it("is refused for half days and for weeks without workdays", () => {
    expect(() => pickDay(3, 0.5)).toThrow(RangeError);
    expect(() => pickDay(3, -1)).toThrow(RangeError);
    expect(() => pickDay(3, 1, { firstWeekday: 1, workdays: [] })).toThrow(RangeError);
  });
});

describe("needsFromKits", () => {
  it("gives one need a line, on the pick day, and none for empty lines", () => {
    const kits = [
      {
        visitId: "V1",
        siteCode: "S1",
        startDay: 7,
        lines: [
          { itemCode: "EK", quantity: 3 },
          { itemCode: "TAPE", quantity: 0 },
        ],
      },
    ];
    expect(needsFromKits(kits, 1, WEEK)).toEqual([
      { itemCode: "EK", day: 4, quantity: 3, visitId: "V1", siteCode: "S1" },
    ]);
  });
});
