import { describe, expect, it } from "vitest";
import { criticalPath, pathProbability, precedenceOrder } from "../../../lib/hours/cpm";

describe("criticalPath", () => {
  it("of no tasks has length 0", () => {
    expect(criticalPath([], []).length).toBe(0);
  });

  it("does not care how the tasks are numbered", () => {
    const forward = criticalPath([3, 4, 5], [[], [0], [1]]);
    const shuffled = criticalPath([5, 3, 4], [[2], [], [1]]);
    expect(forward.length).toBe(12);
    expect(shuffled.length).toBe(12);
    expect(shuffled.earliestStart).toEqual([7, 0, 3]);
  });

  it("gives slack to the shorter of two branches", () => {
    const path = criticalPath([2, 10, 4, 1], [[], [0], [0], [1, 2]]);
    expect(path.slack).toEqual([0, 0, 6, 0]);
    expect(path.latestStart).toEqual([0, 2, 8, 12]);
    expect(path.critical).toEqual([true, true, false, true]);
  });

  it("refuses a cycle and names the tasks in it", () => {
    expect(() => criticalPath([1, 1, 1], [[], [2], [1]])).toThrow(/cycle among tasks 1, 2/);
  });
});

describe("precedenceOrder", () => {
  it("puts every task behind what it waits for", () => {
    const after = [[3], [0, 3], [], [2]];
    const order = precedenceOrder(after);
    for (const [i, list] of after.entries()) {
      for (const p of list) expect(order.indexOf(p)).toBeLessThan(order.indexOf(i));
    }
  });
});

describe("pathProbability", () => {
  it("is one half at the mean, and a step when nothing varies", () => {
    expect(pathProbability(50, 9, 50)).toBeCloseTo(0.5, 7);
    expect(pathProbability(50, 0, 49.9)).toBe(0);
    expect(pathProbability(50, 0, 50)).toBe(1);
  });

  it("refuses a negative variance", () => {
    expect(() => pathProbability(50, -1, 50)).toThrow(RangeError);
  });
});
