import { describe, expect, it } from "vitest";
import { grown, holds, joined, MOST_CREW_DAYS, type Reach, rowsIn } from "@/app/_ui/board/reach";

const allOf = (start: Reach, dayCount: number, rowCount: number): Reach[] => {
  const steps = [start];
  for (;;) {
    const next = grown(steps.at(-1)!, dayCount, rowCount, 7);
    if (next === steps.at(-1)) return steps;
    steps.push(next);
  }
};

describe("what is drawn ahead of a scroll", () => {
  it("grows by weeks to both sides and then by rows, until the whole board is drawn", () => {
    const steps = allOf({ fromDay: 28, toDay: 98, fromRow: 4, toRow: 20 }, 182, 40);
    expect(steps[1]).toEqual({ fromDay: 21, toDay: 105, fromRow: 4, toRow: 20 });
    expect(steps.at(-1)).toEqual({ fromDay: 0, toDay: 182, fromRow: 0, toRow: 40 });
    for (let at = 1; at < steps.length; at++) expect(holds(steps[at]!, steps[at - 1]!)).toBe(true);
    const wide = steps.find((step) => step.fromRow !== 4)!;
    expect([wide.fromDay, wide.toDay]).toEqual([0, 182]);
  });
  it("stops where drawing all would cost more than it saves", () => {
    const last = allOf({ fromDay: 0, toDay: 84, fromRow: 0, toRow: 20 }, 364, 150).at(-1)!;
    expect((last.toDay - last.fromDay) * (last.toRow - last.fromRow)).toBeLessThanOrEqual(MOST_CREW_DAYS);
    expect(last).toEqual({ fromDay: 0, toDay: 364, fromRow: 0, toRow: 21 });
  });
  it("does nothing for a board without rows or days", () => {
    const none = { fromDay: 0, toDay: 0, fromRow: 0, toRow: 0 };
    expect(grown(none, 0, 0, 7)).toBe(none);
  });
});

describe("rows that a stretch of pixels touches", () => {
  it("are those that reach into it", () => {
    const tops = [0, 44, 132, 176];
    expect(rowsIn(tops, 50, 140)).toEqual({ from: 1, to: 3 });
    expect(rowsIn(tops, -180, 10)).toEqual({ from: 0, to: 1 });
    expect(rowsIn(tops, 500, 600)).toEqual({ from: 3, to: 3 });
    expect(rowsIn([0], 0, 900)).toEqual({ from: 0, to: 0 });
  });
});

describe("a scroll beyond what is drawn ahead", () => {
  const drawn: Reach = { fromDay: 0, toDay: 28, fromRow: 0, toRow: 10 };
  it("takes in what comes beside it and keeps the rest", () => {
    expect(joined(drawn, { fromDay: 14, toDay: 42, fromRow: 2, toRow: 12 })).toEqual({
      fromDay: 0,
      toDay: 42,
      fromRow: 0,
      toRow: 12,
    });
    expect(joined(drawn, { fromDay: 7, toDay: 14, fromRow: 2, toRow: 5 })).toBe(drawn);
  });
  it("begins anew after a jump, and where it would be too much", () => {
    const far: Reach = { fromDay: 70, toDay: 98, fromRow: 0, toRow: 10 };
    expect(joined(drawn, far)).toBe(far);
    const long: Reach = { fromDay: 28, toDay: MOST_CREW_DAYS, fromRow: 0, toRow: 10 };
    expect(joined(drawn, long)).toBe(long);
  });
});
