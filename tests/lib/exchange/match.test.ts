import { describe, expect, it } from "vitest";
import { headerOf } from "@/lib/exchange/columns";
import { KIND_NAMES, kindOf } from "@/lib/exchange/kinds";
import { applyMatching, matchColumns, overrideMatching } from "@/lib/exchange/match";
import type { KindName } from "@/lib/exchange/rows";
import { lines, parsedOf, tableOf } from "./files";

const match = (kind: KindName, ...header: string[]) => {
  const matching = matchColumns(header, kind);
  return Object.fromEntries(matching.columns.map((c) => [c.header, `${c.key} ${c.confidence}`]));
};

describe("matchColumns", () => {
  it.each(KIND_NAMES)("knows every header that %s export with", (kind) => {
    const { columns } = kindOf(kind);
    const matching = matchColumns(columns.map(headerOf), kind);
    expect(matching.columns.map((c) => c.key)).toEqual(columns.map((c) => c.key));
    expect(matching.columns.every((c) => c.confidence === "exact")).toBe(true);
    expect(matching.missing).toEqual([]);
  });

  it.each(KIND_NAMES)("knows the field names of %s too", (kind) => {
    const { columns } = kindOf(kind);
    const matching = matchColumns(
      columns.map((c) => c.key),
      kind,
    );
    expect(matching.columns.map((c) => c.key)).toEqual(columns.map((c) => c.key));
    expect(matching.columns.every((c) => c.conversion === undefined)).toBe(true);
  });

  it("tells exact, alias and normalised names apart", () => {
    expect(match("hops", "Hop", "site a", "FAR_SITE_CODE", "Band (GHz)", "PROTECTION  scheme")).toEqual({
      Hop: "code exact",
      "site a": "nearSiteCode alias",
      FAR_SITE_CODE: "farSiteCode normalised",
      "Band (GHz)": "bandGhz exact",
      "PROTECTION  scheme": "scheme normalised",
    });
  });

  it.each([
    ["Mount height (ft)", "ft to m: x 0.3048"],
    ["Height [ft]", "ft to m: x 0.3048"],
    ["height_ft", "ft to m: x 0.3048"],
    ["mountHeightFt", "ft to m: x 0.3048"],
    ["Height, feet", "ft to m: x 0.3048"],
    ["antenna height (cm)", "cm to m: x 0.01"],
  ])("proposes a conversion for %j and shows it", (header, text) => {
    const [column] = matchColumns([header], "antennas").columns;
    expect(column).toMatchObject({ key: "mountHeightM", confidence: "unit", conversion: { text } });
  });

  it.each(["height_m", "Mount height [m]", "mount height m", "Height (metres)", "mountHeightM"])(
    "takes %j as metres without a conversion",
    (header) => {
      const [column] = matchColumns([header], "antennas").columns;
      expect(column?.key).toBe("mountHeightM");
      expect(column?.conversion).toBeUndefined();
    },
  );

  it("says so when a header states no unit", () => {
    const [column] = matchColumns(["Height"], "antennas").columns;
    expect(column).toMatchObject({ key: "mountHeightM", note: "states no unit and is read as m" });
  });

  it("knows temperature in °F and wind in knots, km/h and mph", () => {
    const { columns } = matchColumns(
      ["Temp (°F)", "Wind speed (km/h)", "Gust kn", "Weather place", "time"],
      "weather",
    );
    expect(columns.map((c) => [c.key, c.conversion?.from])).toEqual([
      ["tempC", "degF"],
      ["windMs", "km/h"],
      ["gustMs", "kn"],
      ["placeCode", undefined],
      ["startsAtMillis", undefined],
    ]);
  });

  it("takes Time for the time of day beside a Date, and for the hour itself without one", () => {
    expect(match("weather", "Date", "Time", "Weather place")).toMatchObject({
      Date: "date exact",
      Time: "time alias",
    });
    expect(match("weather", "time", "Weather place")).toMatchObject({ time: "startsAtMillis alias" });
    expect(match("weather", "Date", "Weather place")).toMatchObject({ Date: "startsAtMillis alias" });
  });

  it("lists what it does not know, with the reason and a suggestion that it never applies", () => {
    const matching = matchColumns(["Hop", "Schem", "Band (stories)", "Foreman", "Band (kg)"], "hops");
    expect(matching.unmatched).toEqual([
      {
        index: 1,
        header: "Schem",
        reason: "no column of that name",
        suggestion: { key: "scheme", label: "Protection scheme" },
      },
      {
        index: 2,
        header: "Band (stories)",
        reason: '"stories" is not a unit that is known for Band',
        suggestion: { key: "bandGhz", label: "Band" },
      },
      { index: 3, header: "Foreman", reason: "no column of that name" },
      {
        index: 4,
        header: "Band (kg)",
        reason: "Band cannot be given in kg",
        suggestion: { key: "bandGhz", label: "Band" },
      },
    ]);
    expect(matching.missing.filter((m) => m.required).map((m) => m.key)).toEqual(["scheme", "bandGhz"]);
  });

  it("gives a column to the surest header and lists the rival", () => {
    const matching = matchColumns(["Height (ft)", "Mount height (m)"], "antennas");
    expect(matching.columns.map((c) => [c.header, c.key])).toEqual([["Mount height (m)", "mountHeightM"]]);
    expect(matching.unmatched[0]).toMatchObject({
      header: "Height (ft)",
      reason: '"Mount height (m)" already stands for Mount height',
    });
  });
});

describe("overrideMatching", () => {
  const header = ["Hop", "Sch", "Far", "GHz"];

  it("moves columns where a person wants them, with a unit, and leaves others out", () => {
    const changed = overrideMatching(matchColumns(header, "hops"), header, [
      { index: 1, key: "scheme" },
      { index: 3, key: "bandGhz", unit: "MHz" },
      { index: 2, key: null },
    ]);
    expect(changed.columns.map((c) => [c.header, c.key, c.confidence])).toEqual([
      ["Hop", "code", "exact"],
      ["Sch", "scheme", "chosen"],
      ["GHz", "bandGhz", "chosen"],
    ]);
    expect(changed.columns[2]!.conversion?.text).toBe("MHz to GHz: x 0.001");
    expect(changed.unmatched).toEqual([{ index: 2, header: "Far", reason: "left out" }]);
  });

  it("displaces the column that stood there", () => {
    const both = ["Hop", "Link"];
    const changed = overrideMatching(matchColumns(both, "hops"), both, [{ index: 1, key: "code" }]);
    expect(changed.columns.map((c) => c.header)).toEqual(["Link"]);
    expect(changed.unmatched.map((u) => u.header)).toEqual(["Hop"]);
  });

  it("throws on a column or unit that cannot be", () => {
    const matching = matchColumns(header, "hops");
    expect(() => overrideMatching(matching, header, [{ index: 9, key: "scheme" }])).toThrow(RangeError);
    expect(() => overrideMatching(matching, header, [{ index: 1, key: "nope" }])).toThrow(RangeError);
    expect(() => overrideMatching(matching, header, [{ index: 3, key: "bandGhz", unit: "kg" }])).toThrow(
      RangeError,
    );
  });
});

describe("applyMatching", () => {
  it("refuses a file without its key columns and names the header it wants", async () => {
    const table = await tableOf(lines("Name", "x"));
    const result = applyMatching(table, "antennas", matchColumns(table.header, "antennas"));
    if (result.ok) throw new Error("expected a refusal");
    expect(result.problems.map((p) => [p.rule, p.column])).toEqual([
      ["key-column-missing", "Hop"],
      ["key-column-missing", "End"],
      ["key-column-missing", "Antenna"],
    ]);
    expect(result.problems[0]!.remedy).toContain('"Hop"');
  });

  it("refuses two file columns for one", async () => {
    const table = await tableOf(lines("Hop,Link", "a,b"));
    const matching = matchColumns(table.header, "hops");
    const twice = {
      ...matching,
      columns: [...matching.columns, { ...matching.columns[0]!, index: 1, header: "Link" }],
    };
    const result = applyMatching(table, "hops", twice);
    expect(result.ok || result.problems.map((p) => p.rule)).toEqual(["column-matched-twice"]);
  });

  it("refuses prices without a currency column, unless a person states the currency for all rows", async () => {
    const table = await tableOf(lines("Item,Unit price", "a,1.25"));
    const matching = matchColumns(table.header, "items");
    const result = applyMatching(table, "items", matching);
    expect(result.ok || result.problems.map((p) => p.rule)).toEqual(["price-without-currency-column"]);
    const parsed = await parsedOf("items", lines("Item,Unit price", "a,125"), {
      constants: { currency: "JPY" },
    });
    expect(parsed.rows[0]!.values).toMatchObject({ code: "a", currency: "JPY", priceMinor: 125 });
  });

  it("puts conversions, unread columns and columns without a header into the notices", async () => {
    const table = await tableOf(lines("Hop,End,Antenna,,Height (ft),Foreman", "a,near,A1,y,100,x"));
    const result = applyMatching(table, "antennas", matchColumns(table.header, "antennas"));
    if (!result.ok) throw new Error("unexpected refusal");
    expect(result.value.notices).toEqual([
      '"Height (ft)" is converted from ft to m: x 0.3048.',
      'Column "Foreman" is not read: no column of that name.',
      "Column 4 has no header and is not read.",
    ]);
  });

  it("reads a constant as a cell, and says when it cannot", async () => {
    const table = await tableOf(lines("Antenna,Height (m)", "A1,40"));
    const base = matchColumns(table.header, "antennas");
    const good = applyMatching(table, "antennas", { ...base, constants: { hopCode: "MW-1", side: "A" } });
    expect(good.ok && good.value.constants).toEqual({ hopCode: "MW-1", side: "near" });
    const bad = applyMatching(table, "antennas", { ...base, constants: { hopCode: "MW-1", side: "left" } });
    expect(bad.ok || bad.problems.map((p) => p.rule)).toContain("not-a-choice");
  });
});
