import ExcelJS from "exceljs";
import { describe, expect, it } from "vitest";
import { headerOf } from "@/lib/exchange/columns";
import { KIND_NAMES, kindOf } from "@/lib/exchange/kinds";
import { applyMatching, matchColumns } from "@/lib/exchange/match";
import { parseRows } from "@/lib/exchange/parseRows";
import { readTables } from "@/lib/exchange/readTable";
import { exampleReads, templateCsv, templateXlsx } from "@/lib/exchange/template";
import { SCHEMES } from "@/lib/site";
import { tableOf } from "./files";

describe.each(KIND_NAMES)("the template of %s", (kind) => {
  it("has the header that exports have and an example that reads without a problem", async () => {
    for (const bytes of [templateCsv(kind), templateCsv(kind, { separator: ";" })]) {
      const table = await tableOf(bytes);
      expect(table.header).toEqual(kindOf(kind).columns.map(headerOf));
      const matched = applyMatching(table, kind, matchColumns(table.header, kind));
      if (!matched.ok) throw new Error(JSON.stringify(matched.problems));
      const example = await parseRows(matched.value, { readsExamples: true });
      expect(example.rows.map((r) => r.problems)).toEqual([[]]);
      expect((await parseRows(matched.value)).rows).toEqual([]);
    }
  });

  it("as a workbook explains every column on a second sheet", async () => {
    const readings = await readTables("template.xlsx", await templateXlsx(kind));
    if (!readings.ok) throw new Error(JSON.stringify(readings.problems));
    const [data, about] = readings.value.map((r) => (r.table.ok ? r.table.value : undefined));
    expect(data?.sheet).toBe(kindOf(kind).title);
    const matched = applyMatching(data!, kind, matchColumns(data!.header, kind));
    if (!matched.ok) throw new Error(JSON.stringify(matched.problems));
    expect((await parseRows(matched.value, { readsExamples: true })).rows.map((r) => r.problems)).toEqual([
      [],
    ]);
    expect(about?.sheet).toBe("Columns");
    expect(about?.rows.map((r) => r.cells[1])).toEqual(kindOf(kind).columns.map(headerOf));
  });

  it("shows examples that can be read, and needs text for every column", () => {
    for (const column of kindOf(kind).columns) {
      expect(exampleReads(column), column.label).toBe(true);
      expect(column.description.length, column.label).toBeGreaterThan(3);
      if (column.required && kind !== "stock" && column.key !== "route")
        expect(column.example, column.label).not.toBe("");
    }
  });
});

it("offers choices as drop-downs below the header", async () => {
  const wb = new ExcelJS.Workbook();
  await wb.xlsx.load((await templateXlsx("hops")) as unknown as ExcelJS.Buffer);
  const ws = wb.worksheets[0]!;
  const scheme = kindOf("hops").columns.findIndex((c) => c.key === "scheme") + 1;
  for (const row of [2, 500, 1000]) {
    expect(ws.getCell(row, scheme).dataValidation).toMatchObject({
      type: "list",
      formulae: [`"${SCHEMES.join(",")}"`],
    });
  }
  expect(ws.getCell(2, 1).dataValidation).toBeUndefined();
});
