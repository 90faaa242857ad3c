import { describe, expect, it } from "vitest";
import { counted, figure, metres, roundUp, tidy } from "@/lib/takeoff/rounding";

describe("roundUp", () => {
  it("gives the next multiple and leaves multiples alone", () => {
    expect(roundUp(46.1, 0.5)).toBe(46.5);
    expect(roundUp(46.5, 0.5)).toBe(46.5);
    expect(roundUp(0, 1)).toBe(0);
    expect(roundUp(2.1, 1)).toBe(3);
  });

  it("does not take binary noise for a need", () => {
    expect(40 * 2 * 1.05).toBeGreaterThanOrEqual(84);
    expect(roundUp(40 * 2 * 1.05, 1)).toBe(84);
    expect(roundUp(0.1 + 0.2, 0.1)).toBe(0.3);
  });

  it("refuses a step that is not above zero", () => {
    expect(() => roundUp(1, 0)).toThrow(RangeError);
    expect(() => roundUp(1, Number.NaN)).toThrow(RangeError);
  });
});

describe("figures in words", () => {
  it("keeps lengths to one decimal unless a second carries something", () => {
    expect(metres(47)).toBe("47.0");
    expect(metres(42.25)).toBe("42.25");
    expect(metres(42.3)).toBe("42.3");
  });

  it("drops trailing zeros and negative zero", () => {
    expect(figure(84)).toBe("84");
    expect(figure(1.23456)).toBe("1.235");
    expect(figure(-0)).toBe("0");
    expect(Object.is(tidy(-0), 0)).toBe(true);
  });

  it("counts one and many", () => {
    expect(counted(1, "run")).toBe("1 run");
    expect(counted(2, "entry", "entries")).toBe("2 entries");
  });
});
