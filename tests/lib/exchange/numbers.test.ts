import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readNumber } from "@/lib/exchange/numbers";
import type { NumberStyle } from "@/lib/exchange/separator";

const usualPoint: NumberStyle = { decimal: "point", isSure: false };
const usualComma: NumberStyle = { decimal: "comma", isSure: false };
const surePoint: NumberStyle = { decimal: "point", isSure: true };
const sureComma: NumberStyle = { decimal: "comma", isSure: true };
const mixed: NumberStyle = { isSure: true };

describe("readNumber", () => {
  it.each([
    ["42", usualPoint, 42],
    [" -3.5 ", usualPoint, -3.5],
    ["+41", usualPoint, 41],
    ["\u22123.5", usualPoint, -3.5],
    [".5", usualPoint, 0.5],
    ["5.", usualPoint, 5],
    ["1e-7", usualPoint, 1e-7],
    ["-0", usualPoint, 0],
    ["12,5", usualPoint, 12.5],
    ["12.5", sureComma, 12.5],
    ["1,234.5", usualPoint, 1234.5],
    ["1.234,5", usualPoint, 1234.5],
    ["1.234.567", usualPoint, 1234567],
    ["1'234.5", usualPoint, 1234.5],
    ["1\u00a0234,5", usualComma, 1234.5],
    ["12 345", usualPoint, 12345],
    ["1.234", usualPoint, 1.234],
    ["1.234", surePoint, 1.234],
    ["1.234", sureComma, 1234],
    ["1,234", usualComma, 1.234],
    ["1,234", sureComma, 1.234],
    ["1,234", surePoint, 1234],
    ["0,125", usualPoint, 0.125],
  ])("reads %j under %j as %d", (text, style, value) => {
    expect(readNumber(text, style)).toEqual({ state: "number", value });
  });

  it("asks when one mark before three digits is not the usual decimal mark and nothing decides", () => {
    expect(readNumber("1,234", usualPoint)).toEqual({ state: "ambiguous", asPoint: 1234, asComma: 1.234 });
    expect(readNumber("1.234", usualComma)).toEqual({ state: "ambiguous", asPoint: 1.234, asComma: 1234 });
  });

  it("refuses only the doubtful cells of a column that has both marks", () => {
    expect(readNumber("1.234", mixed)).toEqual({ state: "mixed" });
    expect(readNumber("1.5", mixed)).toEqual({ state: "number", value: 1.5 });
    expect(readNumber("7", mixed)).toEqual({ state: "number", value: 7 });
  });

  it.each([
    "",
    "abc",
    "12 m",
    "1.2.3",
    "1,2,3",
    "12ft",
    "5%",
    "--1",
    "1.2,3.4",
    "Infinity",
    "NaN",
    "0x10",
    "1 2",
  ])("takes %j for no number", (text) => {
    expect(readNumber(text, usualPoint)).toEqual({ state: "not a number" });
  });

  it("reads back every number that a program prints, with either mark", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (any) => {
        const n = any + 0; // no negative zero
        const point = readNumber(String(n), usualPoint);
        const comma = readNumber(String(n).replace(".", ","), usualComma);
        expect(point).toEqual({ state: "number", value: n });
        expect(comma).toEqual({ state: "number", value: n });
      }),
    );
  });
});
