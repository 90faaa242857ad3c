/** Supply as the visits may claim it, day by day of their starts. */
import { describe, expect, it } from "vitest";
import { kitSupply } from "@/lib/programme/kitSupply";
import type { ItemPosition, VisitClaim } from "@/lib/stock";
import { calendarDate } from "@/lib/time";

const today = calendarDate("2026-03-02"); // a Monday
const horizon = { today, dayCount: 42, kitDays: 1 };
const position = (over: Partial<ItemPosition> = {}): ItemPosition => ({
  itemCode: "X",
  onHand: 5,
  safetyStock: 0,
  leadTimeDays: 30,
  lotRule: { kind: "lot for lot" },
  ...over,
});
const claim = (visitId: string, quantity: number, promiseDay = 10): VisitClaim => ({
  visitId,
  promiseDay,
  lines: [{ itemCode: "X", quantity }],
});
const due = [{ itemCode: "X", day: 7, quantity: 5, orderCode: "PO-1" }];

describe("what kits may claim", () => {
  it("is a curve by start day where stock does not cover all kits (worked example)", () => {
    const claims = [claim("A", 5), claim("B", 5), claim("C", 5)];
    const { scarce, takes, earliestStart } = kitSupply(claims, [position()], due, horizon);
    const { byDay } = scarce[0]!;
    // Picked one working day before: the order of Monday, day 7, serves starts from Tuesday on.
    expect([...byDay.slice(0, 8)]).toEqual(Array(8).fill(5));
    expect([...byDay.slice(8, 31)]).toEqual(Array(23).fill(10));
    expect(byDay.slice(31).every((q) => q === Number.POSITIVE_INFINITY)).toBe(true);
    expect(takes.get("B")).toEqual([{ item: 0, quantity: 5 }]);
    expect([...earliestStart]).toEqual([]);
  });

  it("binds nobody while stock covers all kits", () => {
    const { scarce, takes } = kitSupply([claim("A", 2), claim("B", 3)], [position()], due, horizon);
    expect(scarce).toEqual([]);
    expect(takes.get("A")).toEqual([]);
  });

  it("keeps a kit that needs more than has come until it has, alone or not", () => {
    const { earliestStart, lastItem } = kitSupply(
      [claim("A", 7), claim("B", 11)],
      [position()],
      due,
      horizon,
    );
    expect([...lastItem]).toEqual([
      ["A", position().itemCode],
      ["B", position().itemCode],
    ]);
    expect(earliestStart.get("A")).toBe(8);
    expect(earliestStart.get("B")).toBe(31);
  });

  it("shares lots that expire out by promise", () => {
    const lots = [{ quantity: 5, lastDay: 20 }];
    const claims = [claim("late", 5, 20), claim("early", 5, 3)];
    const { scarce, earliestStart } = kitSupply(claims, [position({ lots })], due, horizon);
    expect(scarce).toEqual([]);
    expect(earliestStart.get("early")).toBeUndefined();
    expect(earliestStart.get("late")).toBe(8);
  });
});
