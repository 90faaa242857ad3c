/** The refused rows of one table as they stand in the file, each with what is wrong and what to do: to correct and bring in again. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { fileLines, importFileBytes, importFiles } from "@/db/queries/imports";
import { type Cell, readTables, writeTableCsv } from "@/lib/exchange";
import { IMPORTERS } from "../../kinds";

const input = z.object({ seq: z.coerce.number().int(), sheet: z.string().default("") });

export const GET = defineRoute<typeof input, { id: string }>({
  roles: IMPORTERS,
  input,
  run: async ({ seq, sheet }, { db, params }) => {
    const file = importFiles(db, params.id).find((f) => f.seq === seq);
    const bytes = file && importFileBytes(db, params.id, seq);
    const readings = bytes && (await readTables(file.fileName, bytes));
    const reading = readings?.ok ? readings.value.find((r) => (r.sheet ?? "") === sheet) : undefined;
    if (!reading?.table.ok)
      return problemResponse([
        {
          path: "seq",
          rule: "no-such-table",
          message: "This table is not kept any more, or could not be read.",
          remedy: "Look at the page of the import, or bring the file in again.",
        },
      ]);
    const { header, rows } = reading.table.value;
    const cells = new Map(rows.map((r) => [r.rowNumber, r.cells]));
    const refused = (fileLines(db, params.id, seq)?.[sheet] ?? []).filter((l) => l.fate === "refused");
    const out = refused.map((l) => [
      ...header.map((_, i) => cellText(cells.get(l.row)?.[i] ?? null)),
      l.row,
      (l.problems ?? []).map((p) => (p.column ? `${p.column}: ${p.message}` : p.message)).join(" "),
      [...new Set((l.problems ?? []).map((p) => p.remedy))].join(" "),
    ]);
    const head = [...header, "Row in the file", "Why refused", "What to do"];
    return fileAnswer(`refused-${seq}`, "csv", writeTableCsv(head, out));
  },
});

function cellText(cell: Cell): string | number | null {
  if (cell === null || typeof cell === "string" || typeof cell === "number") return cell;
  if (typeof cell === "boolean") return cell ? "yes" : "no";
  if (cell instanceof Date)
    return cell
      .toISOString()
      .replace(/T00:00:00\.000Z$/, "")
      .replace("T", " ")
      .slice(0, 16);
  return cell.fault;
}
