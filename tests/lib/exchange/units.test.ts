import { describe, expect, it } from "vitest";
import {
  conversionText,
  convertUnit,
  UNIT_IDS,
  unitNamed,
  unitNamesLike,
  unitsLike,
} from "@/lib/exchange/units";

describe("units", () => {
  it.each([
    [100, "ft", "m", 30.48],
    [36, "km/h", "m/s", 10],
    [10, "kn", "m/s", 5.14444444444],
    [10, "mph", "m/s", 4.4704],
    [32, "degF", "degC", 0],
    [212, "degF", "degC", 100],
    [7500, "MHz", "GHz", 7.5],
    [2, "ft", "mm", 609.6],
    [1, "in/h", "mm/h", 25.4],
    [8, "h", "min", 480],
    [4, "weeks", "days", 28],
    [2.2046226218488, "lb", "kg", 1],
  ] as const)("%d %s is in %s %d", (value, from, to, expected) => {
    expect(convertUnit(value, from, to)).toBeCloseTo(expected, 10);
  });

  it("leaves a value in its own unit untouched", () => {
    expect(convertUnit(0.1 + 0.2, "m", "m")).toBe(0.1 + 0.2);
  });

  it("never converts between families", () => {
    expect(() => convertUnit(1, "ft", "kg")).toThrow(RangeError);
  });

  it("says what it does", () => {
    expect(conversionText("ft", "m")).toBe("ft to m: x 0.3048");
    expect(conversionText("degF", "degC")).toBe("degF to degC: x 0.555556 - 17.7778");
  });

  it("finds a unit by name within a family, so that kn is knots beside wind and kilonewtons beside force", () => {
    expect(unitNamed("kn", "m/s")).toBe("kn");
    expect(unitNamed("kN", "N")).toBe("kN");
    expect(unitNamed("°C", "degC")).toBe("degC");
    expect(unitNamed("feet", "m")).toBe("ft");
    expect(unitNamed("feet", "kg")).toBeUndefined();
  });

  it("has no name twice within one family", () => {
    for (const unit of UNIT_IDS) {
      const names = unitNamesLike(unit);
      expect(new Set(names).size, unit).toBe(names.length);
      expect(unitsLike(unit)[0]).toBe(unit);
    }
  });
});
