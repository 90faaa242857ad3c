import { describe, expect, it } from "vitest";
import { ascentMin, ascentsFor, DEFAULT_NORMS, descentMin, pauseMin } from "@/lib/hours";
import { climbRange, workPerAscentMin } from "../../../lib/hours/climb";

const model = DEFAULT_NORMS.climb;

describe("climbing", () => {
  it("takes height over speed, and rest for every metre above the threshold", () => {
    expect(ascentMin(30, "lattice", model)).toBeCloseTo(30 / 5, 9);
    expect(ascentMin(50, "lattice", model)).toBeCloseTo(50 / 5 + 20 * 0.1, 9);
    expect(descentMin(70, "lattice", model)).toBeCloseTo(70 / 7, 9);
  });

  it("depends on the structure: a roof's stairs are faster than a mast", () => {
    expect(ascentMin(20, "roof", model)).toBeLessThan(ascentMin(20, "mast", model));
  });

  it("gives a range around the likely time", () => {
    expect(climbRange(10, model)).toEqual({ aMin: 8, mMin: 10, bMin: 16 });
  });

  it("refuses a height below the ground", () => {
    expect(() => ascentMin(-1, "lattice", model)).toThrow(/-1 m/);
    expect(() => descentMin(Number.NaN, "lattice", model)).toThrow(RangeError);
  });
});

describe("ascents", () => {
  it("leave the longest spell less the way, and never less than the floor", () => {
    expect(workPerAscentMin(0, "lattice", model)).toBe(model.longestSpellMin);
    expect(workPerAscentMin(70, "lattice", model)).toBeCloseTo(180 - (14 + 4) - 10, 9);
    expect(workPerAscentMin(2000, "lattice", model)).toBe(model.minWorkPerAscentMin);
  });

  it("grow with the work aloft and with the height", () => {
    expect(ascentsFor(150, 20, "lattice", model)).toBe(1);
    expect(ascentsFor(150, 100, "lattice", model)).toBe(2);
    expect(ascentsFor(500, 20, "lattice", model)).toBe(3);
    expect(ascentsFor(0, 20, "lattice", model)).toBe(0);
  });

  it("cost the way down, kit-up and the way up when work pauses", () => {
    expect(pauseMin(28, "lattice", model)).toBeCloseTo(28 / 7 + 10 + 28 / 5, 9);
  });
});
