import { describe, expect, it } from "vitest";
import { columnStyle, findSeparator, markOf, provedMark, usualMark } from "@/lib/exchange/separator";

describe("findSeparator", () => {
  it.each([
    ["Site,Name,Height\r\nA,b,1\r\n", ","],
    ["Site;Name;Height\r\nA;b;1,5\r\nB;c;2,5\r\n", ";"],
    ["Site\tName\tHeight\r\nA\tb, c\t1\r\n", "\t"],
    ['"Site, code";Name;Height\r\n"A,a";b;1\r\n', ";"],
    ["Name;Note\r\na;x, y, z\r\nb;p, q\r\n", ";"],
    ["Code\r\nA\r\nB\r\n", ","],
    ["", ","],
  ])("of %j is %j", (text, separator) => {
    expect(findSeparator(text)).toEqual({ separator, skipsFirstLine: false });
  });

  it("follows a first line that states it", () => {
    expect(findSeparator("sep=;\r\nA,B;C\r\n1;2\r\n")).toEqual({ separator: ";", skipsFirstLine: true });
  });
});

describe("the decimal mark", () => {
  it.each([
    ["12,5", "comma"],
    ["12.5", "point"],
    ["1.234,5", "comma"],
    ["1,234.5", "point"],
    ["1.234.567", "comma"],
    ["1,234,567", "point"],
    ["0.125", "point"],
    ["0,125", "comma"],
    ["1234.567", "point"],
    ["-1.5e3", "point"],
    ["1.234", undefined],
    ["1,234", undefined],
    ["-1,234", undefined],
    ["1234", undefined],
    ["1'234", undefined],
    ["abc.5", undefined],
    ["", undefined],
  ])("that %j proves is %s", (text, mark) => {
    expect(markOf(text)).toBe(mark);
  });

  it("is both when the cells of a column contradict each other", () => {
    expect(provedMark(["1.5", "2,5"])).toBe("both");
    expect(provedMark(["1.234", 3, null, "7,25"])).toBe("comma");
    expect(columnStyle(["1.5", "2,5"], "point")).toEqual({ isSure: true });
  });

  it("trusts an answer before the column, the column before the file, the file before what is usual", () => {
    expect(columnStyle(["1,5"], "point", "point", "comma")).toEqual({ decimal: "comma", isSure: true });
    expect(columnStyle(["1,5"], "point", "point")).toEqual({ decimal: "comma", isSure: true });
    expect(columnStyle(["1.234"], "point", "comma")).toEqual({ decimal: "comma", isSure: true });
    expect(columnStyle(["1.234"], "point")).toEqual({ decimal: "point", isSure: false });
  });

  it("is usually the comma in files with semicolons", () => {
    expect(usualMark(";")).toBe("comma");
    expect(usualMark(",")).toBe("point");
    expect(usualMark("\t")).toBe("point");
    expect(usualMark(undefined)).toBe("point");
  });
});
