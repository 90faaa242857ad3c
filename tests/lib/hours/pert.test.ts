import { describe, expect, it } from "vitest";
import { addThreePoints, checkThreePoint, pertMeanMin, pertVarianceMin2 } from "../../../lib/hours/pert";

const three = (aMin: number, mMin: number, bMin: number) => ({ aMin, mMin, bMin });

describe("three-point figures", () => {
  it("have no variance and their value as mean when all three are one", () => {
    expect(pertMeanMin(three(7, 7, 7))).toBe(7);
    expect(pertVarianceMin2(three(7, 7, 7))).toBe(0);
  });

  it("add up point by point, the second times a factor", () => {
    expect(addThreePoints(three(1, 2, 3), three(10, 20, 30), 0.5)).toEqual(three(6, 12, 18));
  });

  it("are refused when out of order, negative or not finite, with the part in the message", () => {
    for (const bad of [
      three(3, 2, 4),
      three(1, 5, 4),
      three(-1, 2, 3),
      three(1, 2, Number.POSITIVE_INFINITY),
    ]) {
      expect(() => checkThreePoint(bad, "connect")).toThrow(/connect/);
    }
    expect(() => checkThreePoint(three(0, 0, 0), "connect")).not.toThrow();
  });
});
