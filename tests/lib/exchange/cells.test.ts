import { describe, expect, it } from "vitest";
import type { CellContext } from "@/lib/exchange/cellReading";
import { cleanText, limitsText, readCell, showCell } from "@/lib/exchange/cells";
import { columnOf, KIND_NAMES, kindOf } from "@/lib/exchange/kinds";
import type { KindName } from "@/lib/exchange/rows";
import type { Cell } from "@/lib/exchange/types";

const context: CellContext = {
  style: { decimal: "point", isSure: false },
  dateOrder: undefined,
  currencyDigits: 2,
};
const read = (kind: KindName, key: string, cell: Cell, over: Partial<CellContext> = {}) => {
  const reading = readCell(columnOf(kind, key), cell, { ...context, ...over });
  return reading.ok ? reading.value : reading.fault.rule;
};

describe("readCell", () => {
  it("takes blank cells, white space and a lone guard mark's absence for blank", () => {
    for (const cell of [null, "", "  ", "\u00a0", "\t"]) expect(read("hops", "code", cell)).toBeUndefined();
  });

  it("leaves text that starts with = in a foreign file as it is: it is text, never a formula", () => {
    expect(read("hops", "code", "=1+1")).toBe("=1+1");
    expect(read("hops", "code", "'=1+1")).toBe("=1+1");
    expect(read("hops", "weight", "=1+1")).toBe("not-a-number");
  });

  it("writes numbers, booleans and dates of a workbook as text where text belongs", () => {
    expect(read("hops", "code", 101)).toBe("101");
    expect(read("hops", "code", true)).toBe("true");
    expect(read("hops", "code", new Date(Date.UTC(2027, 2, 1)))).toBe("2027-03-01");
    expect(read("hops", "code", new Date(Date.UTC(2027, 2, 1, 7, 30)))).toBe("2027-03-01 07:30");
  });

  it("composes accents, so that one code is not two", () => {
    expect(read("sites", "code", "ZU\u0308-1")).toBe("Z\u00dc-1");
    expect(cleanText(" a\r\nb\rc ")).toBe("a\nb\nc");
  });

  it.each([
    ["yes", true],
    ["Y", true],
    ["TRUE", true],
    ["x", true],
    [1, true],
    ["no", false],
    ["0", false],
    [false, false],
    ["maybe", "not-yes-or-no"],
    [2, "not-yes-or-no"],
  ])("reads %j as %j where yes or no belongs", (cell, value) => {
    expect(read("sites", "hasEarthingBar", cell)).toBe(value);
  });

  it("reads choices in any case, by other names, and none where an alias means none", () => {
    expect(read("hops", "scheme", "1+1  HSB")).toBe("1+1 hot standby");
    expect(read("hops", "scheme", "2+0 DUAL-POLAR")).toBe("2+0 dual-polar");
    expect(read("sites", "terrain", 2)).toBe("II");
    expect(read("gates", "side", "both")).toBeUndefined();
    expect(read("gates", "side", "middle")).toBe("not-a-choice");
  });

  it("refuses fractions where whole numbers belong, after converting", () => {
    expect(read("sites", "noticeDays", "2.5")).toBe("outside-limits");
    const conversion = { from: "h", to: "min", text: "" } as const;
    expect(read("crews", "restMin", "10.5", { conversion })).toBe(630);
  });

  it("keeps the limits that lie at the edge and refuses beyond", () => {
    expect(read("antennas", "mountHeightM", 700)).toBe(700);
    expect(read("antennas", "mountHeightM", 700.01)).toBe("outside-limits");
    expect(read("antennas", "mountHeightM", 0)).toBe("outside-limits");
    expect(read("hops", "code", "x".repeat(60))).toHaveLength(60);
    expect(read("hops", "code", "x".repeat(61))).toBe("outside-limits");
  });

  it("names the part of a list that cannot be read, in the remedy what can", () => {
    const reading = readCell(columnOf("sites", "accessWeekdays"), "Mon; Never", context);
    expect(reading).toMatchObject({
      ok: false,
      fault: {
        rule: "list-part-unknown",
        message: 'Access days: "Never" cannot be read.',
        remedy: "Write days such as Mon; Tue or Mon-Fri.",
      },
    });
  });
});

describe("days in a list", () => {
  const fault = (key: "leave" | "skills", text: string) => {
    const reading = readCell(columnOf("crew members", key), text, context);
    return reading.ok ? "ok" : [reading.fault.rule, reading.fault.message, reading.fault.remedy];
  };

  it("that do not exist are named, and a span that ends before it begins", () => {
    expect(fault("leave", "2026-12-01 to 2026-12-24")).toBe("ok");
    expect(fault("leave", "2026-12-24 to 2026-12-01 holiday")).toEqual([
      "ends-before-begin",
      expect.stringMatching(/"2026-12-24 to 2026-12-01 holiday" ends before it begins\.$/),
      "Write the earlier day first.",
    ]);
    for (const [key, text] of [
      ["skills", "climber until 2026-13-01; ground"],
      ["leave", "2026-12-24 to 2026-13-01"],
    ] as const)
      expect(fault(key, text)).toEqual([
        "not-a-date",
        expect.stringMatching(/there is no day "2026-13-01"\.$/),
        "Look at month and day: they are written as YYYY-MM-DD.",
      ]);
    expect(fault("skills", "acrobat until 2026-13-01")).toContain("list-part-unknown");
  });
});

describe("showCell", () => {
  it("writes what readCell reads", () => {
    expect(showCell(columnOf("items", "priceMinor"), 135, 2)).toBe("1.35");
    expect(showCell(columnOf("items", "priceMinor"), 135, 0)).toBe("135");
    expect(showCell(columnOf("sites", "accessFromMin"), 450)).toBe("07:30");
    expect(showCell(columnOf("sites", "hasEarthingBar"), false)).toBe("no");
    expect(showCell(columnOf("sites", "hasEarthingBar"), undefined)).toBe("");
  });
});

describe("limitsText", () => {
  it("says something for every column", () => {
    for (const kind of KIND_NAMES) {
      for (const column of kindOf(kind).columns)
        expect(limitsText(column).length, column.key).toBeGreaterThan(5);
    }
    expect(limitsText(columnOf("antennas", "diameterM"))).toBe("a number at least 0.1 m and at most 5 m");
  });
});
