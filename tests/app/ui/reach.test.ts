import { describe, expect, it } from "vitest";
import {
  areApart,
  grown,
  holds,
  MOST_CREW_DAYS,
  nextRows,
  type Reach,
  rowDays,
  rowsIn,
  type Stretch,
} from "@/app/_ui/board/reach";

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

describe("the days that a row draws", () => {
  const ahead: Reach = { fromDay: 0, toDay: 28, fromRow: 2, toRow: 10 };
  const beside = { from: 14, to: 42 };
  it("are those in view where nothing is drawn ahead, and of a row out of view none", () => {
    expect(rowDays(true, beside, 12, ahead)).toBe(beside);
    expect(rowDays(true, beside, 3, undefined)).toBe(beside);
    expect(rowDays(false, beside, 12, ahead)).toBeUndefined();
    expect(rowDays(false, beside, 3, undefined)).toBeUndefined();
  });
  it("are with those in view all that is drawn ahead beside them", () => {
    expect(rowDays(true, beside, 2, ahead)).toEqual({ from: 0, to: 42 });
    expect(rowDays(true, { from: 7, to: 14 }, 9, ahead)).toEqual({ from: 0, to: 28 });
    expect(rowDays(false, beside, 2, ahead)).toEqual({ from: 0, to: 28 });
    expect(rowDays(true, beside, 10, ahead)).toBe(beside);
  });
  it("leave out after a jump what was never in view", () => {
    const far = { from: 70, to: 98 };
    expect(rowDays(true, far, 3, ahead)).toBe(far);
    expect(areApart(ahead, { fromDay: 70, toDay: 98, fromRow: 2, toRow: 10 })).toBe(true);
    expect(areApart(ahead, { fromDay: 14, toDay: 42, fromRow: 11, toRow: 20 })).toBe(true);
    expect(areApart(ahead, { fromDay: 14, toDay: 42, fromRow: 9, toRow: 20 })).toBe(false);
  });
});

describe("rows that come into view", () => {
  const until = (shown: Stretch, inView: Stretch): Stretch[] => {
    const steps = [shown];
    for (;;) {
      const next = nextRows(steps.at(-1)!, inView);
      if (next === steps.at(-1)) return steps;
      steps.push(next);
      expect(steps.length).toBeLessThan(100);
    }
  };
  it("come two at a time beside those that stay, and what left goes at once", () => {
    expect(until({ from: 0, to: 10 }, { from: 3, to: 15 })).toEqual([
      { from: 0, to: 10 },
      { from: 3, to: 12 },
      { from: 3, to: 14 },
      { from: 3, to: 15 },
    ]);
    expect(until({ from: 8, to: 20 }, { from: 5, to: 16 })).toEqual([
      { from: 8, to: 20 },
      { from: 6, to: 16 },
      { from: 5, to: 16 },
    ]);
  });
  it("after a jump begin from the top, and end with the view however it went", () => {
    expect(nextRows({ from: 0, to: 10 }, { from: 20, to: 30 })).toEqual({ from: 20, to: 22 });
    for (const inView of [
      { from: 0, to: 1 },
      { from: 4, to: 4 },
      { from: 2, to: 43 },
      { from: 30, to: 43 },
    ])
      expect(until({ from: 3, to: 9 }, inView).at(-1)).toEqual(inView);
    const same = { from: 3, to: 9 };
    expect(nextRows(same, { from: 3, to: 9 })).toBe(same);
  });
});
