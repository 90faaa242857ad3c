import fc from "fast-check";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import { csvText, parseRecords } from "@/lib/exchange/csv";

const hostile = fc.oneof(
  fc.string({
    unit: fc.constantFrom('"', ",", ";", "\t", "\r", "\n", "a", " ", "=", "'", "\0"),
    maxLength: 8,
  }),
  fc.string({ unit: "grapheme", maxLength: 8 }),
);
const table = fc
  .integer({ min: 1, max: 4 })
  .chain((width) =>
    fc.array(fc.array(hostile, { minLength: width, maxLength: width }), { minLength: 1, maxLength: 5 }),
  );

describe("parseRecords", () => {
  it.each([",", ";", "\t"] as const)("gives back every table that csvText wrote with %j", (separator) => {
    fc.assert(
      fc.property(table, (records) => {
        expect(parseRecords(csvText(records, separator), separator)).toEqual({ records });
      }),
    );
  });

  it("agrees with an independent parser", () => {
    fc.assert(
      fc.property(table, (records) => {
        const text = csvText(records, ",");
        const other = Papa.parse<string[]>(text, { delimiter: ",", newline: "\r\n" }).data.slice(0, -1);
        expect(parseRecords(text, ",").records).toEqual(other);
      }),
    );
  });

  it("takes CRLF, LF and CR in one file", () => {
    expect(parseRecords("a,b\nc,d\r\ne,f\rg,h", ",").records).toEqual([
      ["a", "b"],
      ["c", "d"],
      ["e", "f"],
      ["g", "h"],
    ]);
  });

  it("keeps blank lines as records of one empty field, so that row numbers stay", () => {
    expect(parseRecords("a\r\n\r\nb\r\n", ",").records).toEqual([["a"], [""], ["b"]]);
  });

  it("keeps empty fields at both ends", () => {
    expect(parseRecords(",a,\r\n,,", ",").records).toEqual([
      ["", "a", ""],
      ["", "", ""],
    ]);
  });

  it("takes a quote inside a bare field for text", () => {
    expect(parseRecords('3.5" pipe,b\r\n', ",").records).toEqual([['3.5" pipe', "b"]]);
  });

  it("names the row whose quote is never closed", () => {
    const { fault } = parseRecords('a,b\r\n"c,d\r\ne,f\r\n', ",");
    expect(fault).toMatchObject({ row: 2, rule: "quote-not-closed" });
  });

  it("names the row where text follows a closing quote", () => {
    const { fault } = parseRecords('a,b\r\nc,d\r\n"e"x,f\r\n', ",");
    expect(fault).toMatchObject({ row: 3, rule: "quote-misplaced" });
  });
});
