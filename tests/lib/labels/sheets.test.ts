import { describe, expect, test } from "vitest";
import { A4, LABEL_RIM_MM, LABEL_SHEETS, type LabelSheet, perSheet, qrSideMm, slotsOf } from "@/lib/labels";

const SHEETS: [string, LabelSheet][] = Object.entries(LABEL_SHEETS);

describe.each(SHEETS)("paper with %s labels", (key, sheet) => {
  const slots = slotsOf(sheet, perSheet(sheet), 0);

  test("holds as many as its name says, all on the page", () => {
    expect(perSheet(sheet)).toBe(Number(key));
    for (const s of slots) {
      expect(s.page).toBe(0);
      expect(s.leftMm + sheet.widthMm).toBeLessThanOrEqual(A4.widthMm + 1e-9);
      expect(s.topMm + sheet.heightMm).toBeLessThanOrEqual(A4.heightMm + 1e-9);
    }
  });

  test("leaves as much rim right as left and below as above", () => {
    const right = Math.max(...slots.map((s) => s.leftMm)) + sheet.widthMm;
    const bottom = Math.max(...slots.map((s) => s.topMm)) + sheet.heightMm;
    expect(A4.widthMm - right).toBeCloseTo(sheet.leftMm, 6);
    expect(A4.heightMm - bottom).toBeCloseTo(sheet.topMm, 6);
  });

  test("overlaps no two labels", () => {
    for (const [i, a] of slots.entries())
      for (const b of slots.slice(i + 1))
        expect(
          Math.abs(a.leftMm - b.leftMm) >= sheet.widthMm - 1e-9 ||
            Math.abs(a.topMm - b.topMm) >= sheet.heightMm - 1e-9,
        ).toBe(true);
  });

  test("has a code that fits beside its words", () => {
    const side = qrSideMm(sheet);
    expect(side).toBeLessThanOrEqual(sheet.heightMm - 2 * LABEL_RIM_MM);
    expect(side).toBeLessThanOrEqual((sheet.widthMm - 2 * LABEL_RIM_MM) / 2);
    expect(side).toBeGreaterThanOrEqual(18);
  });
});

test("a begun sheet is filled from where it was left, then the next", () => {
  const slots = slotsOf(LABEL_SHEETS["14"], 4, 12);
  expect(slots.map((s) => s.page)).toEqual([0, 0, 1, 1]);
  expect(slots[0]).toEqual({ page: 0, leftMm: 4.65, topMm: 15.15 + 6 * 38.1 });
  expect(slots[2]).toEqual({ page: 1, leftMm: 4.65, topMm: 15.15 });
  expect(() => slotsOf(LABEL_SHEETS["14"], 1, 14)).toThrow("0 to 13 labels");
});
