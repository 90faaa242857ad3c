import { describe, expect, it } from "vitest";
import { readTables } from "@/lib/exchange/readTable";
import { csvRecord, writeCsv, writeTableCsv, writeTableXlsx, writeWorkbook } from "@/lib/exchange/write";

const text = (bytes: Uint8Array) => new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytes);
const gate = { hopCode: "MW-1", kind: "survey", state: "met" } as const;

describe("writeCsv", () => {
  it("starts with a byte order mark unless told not to", () => {
    expect(text(writeCsv("gates", [gate])).startsWith("\uFEFFHop,End,Gate,")).toBe(true);
    expect(text(writeCsv("gates", [gate], { hasMark: false })).startsWith("Hop,")).toBe(true);
  });

  it("writes the header alone when there are no rows", () => {
    expect(text(writeCsv("gates", [], { hasMark: false }))).toBe("Hop,End,Gate,Owner,State,Due on\r\n");
  });

  it("writes decimal commas with semicolons, in number columns only", () => {
    const cells = { code: "1.5", scheme: "1+0", bandGhz: 7.5, weight: 1.25 };
    expect(csvRecord("hops", cells, true)).toEqual(["1.5", "1+0", "7,5", "", "", "", "1,25", "", ""]);
    expect(csvRecord("hops", cells, false)).toEqual(["1.5", "1+0", "7.5", "", "", "", "1.25", "", ""]);
  });
});

describe("writeTableCsv", () => {
  it("guards strings, keeps numbers and leaves null blank", () => {
    const rows = [
      ["=cmd", -3.5, null],
      ["a,b", 2, "-3.5"],
    ];
    expect(text(writeTableCsv(["Name", "=x", "Note"], rows, { hasMark: false }))).toBe(
      "Name,'=x,Note\r\n'=cmd,-3.5,\r\n\"a,b\",2,'-3.5\r\n",
    );
    expect(text(writeTableCsv(["n"], [[-3.5]], { hasMark: false, separator: ";" }))).toBe("n\r\n-3,5\r\n");
  });
});

describe("writeTableXlsx", () => {
  it("guards strings and keeps numbers", async () => {
    const bytes = await writeTableXlsx(
      "Log",
      ["Who", "n"],
      [
        ["=cmd", -3.5],
        ["@x", null],
      ],
    );
    const read = await readTables("log.xlsx", bytes);
    const table = read.ok ? read.value[0]?.table : undefined;
    expect(table?.ok && [table.value.header, ...table.value.rows.map((r) => r.cells)]).toEqual([
      ["Who", "n"],
      ["'=cmd", -3.5],
      ["'@x"],
    ]);
  });
});

describe("writeWorkbook", () => {
  it("has a sheet for each kind, named by its title", async () => {
    const bytes = await writeWorkbook([
      { kind: "gates", rows: [gate] },
      { kind: "crew members", rows: [] },
    ]);
    const readings = await readTables("out.xlsx", bytes);
    expect(readings.ok && readings.value.map((r) => [r.sheet, r.table.ok])).toEqual([
      ["Gates", true],
      ["Crew members", false],
    ]);
  });
});
