import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { writeSheets } from "@/lib/exchange/workbook";
import { tableOf } from "./files";

const text = fc
  .oneof(
    fc.string({
      unit: fc.constantFrom("_", "x", "0", "D", "\r", "\n", "\t", "\0", "\u0007", "<", "&", '"', "a", " "),
      maxLength: 8,
    }),
    fc.string({ unit: "grapheme", maxLength: 8 }),
    fc.constantFrom("_x000D_", "_x005F_x000D_", "007", "=1+1", "1e5", "2027-01-01"),
  )
  .filter((t) => t.trim() !== "");

describe("writeSheets", () => {
  it("keeps every text cell as it is: escapes of the file format, control characters, leading zeros", () =>
    fc.assert(
      fc.asyncProperty(fc.array(text, { minLength: 1, maxLength: 6 }), async (cells) => {
        const columns = cells.map((_, i) => ({ header: `c${i}`, isText: true }));
        const table = await tableOf(await writeSheets([{ name: "Data", columns, rows: [cells] }]), "t.xlsx");
        expect(table.rows[0]!.cells).toEqual(cells);
      }),
      { numRuns: 40 },
    ));

  it("keeps numbers and dates", async () => {
    const day = new Date(Date.UTC(2027, 2, 1));
    const columns = ["a", "b", "c"].map((header) => ({ header, isText: false }));
    const table = await tableOf(
      await writeSheets([
        {
          name: "Data",
          columns,
          rows: [
            [-3.5, day, null],
            [1e-7, null, 0],
          ],
        },
      ]),
      "t.xlsx",
    );
    expect(table.rows.map((r) => r.cells)).toEqual([
      [-3.5, day],
      [1e-7, null, 0],
    ]);
  });
});
