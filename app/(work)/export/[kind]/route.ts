/** All rows of one kind, as a file that imports again without a change. */
import { z } from "zod";
import { defineRoute, problemResponse } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { fileAnswer } from "@/app/_server/fileAnswer";
import type { Db } from "@/db/open";
import { EXPORTED_SERIES, tableRows, weatherRows, weatherSeries } from "@/db/queries/existingRows";
import { type KindName, type RowOf, writeCsv, writeXlsx } from "@/lib/exchange";
import { IMPORTERS, kindOfSlug } from "../../import/kinds";

/** Hours that one sheet takes and that can be read again (500,000 cells). */
const MOST_HOURS_IN_SHEET = 50_000;

const input = z.object({
  format: z.enum(["csv", "xlsx"]).default("csv"),
  /** With ";" numbers get a decimal comma. */
  separator: z.enum([",", ";"]).default(","),
  /** Weather only. */
  series: z.enum(EXPORTED_SERIES).default("history"),
});

export const GET = defineRoute<typeof input, { kind: string }>({
  roles: IMPORTERS,
  input,
  run: async ({ format, separator, series }, { db, params }) => {
    const kind = kindOfSlug(params.kind);
    if (!kind) return problemResponse([noSuchKind(params.kind)]);
    const rows = rowsOf(db, kind, series);
    const name = `${params.kind}${kind === "weather" ? `-${series}` : ""}-${homeToday(db)}`;
    if (format === "csv") return fileAnswer(name, format, writeCsv(kind, rows, { separator }));
    if (kind === "weather" && rows.length > MOST_HOURS_IN_SHEET)
      return problemResponse([tooManyHours(rows.length)]);
    return fileAnswer(name, format, await writeXlsx(kind, rows));
  },
});

function rowsOf(db: Db, kind: KindName, series: (typeof EXPORTED_SERIES)[number]): RowOf<KindName>[] {
  return kind === "weather" ? weatherRows(weatherSeries(db, series)) : tableRows(db)[kind];
}

const noSuchKind = (value: string) => ({
  path: "kind",
  rule: "no-such-kind",
  value,
  message: `There is no kind of rows called "${value}".`,
  remedy: "Choose one on the page Bring in.",
});

const tooManyHours = (value: number) => ({
  path: "format",
  rule: "too-many-hours",
  value,
  message: `${value} hours are more than a sheet that can be brought in again holds (${MOST_HOURS_IN_SHEET}).`,
  remedy: "Take the CSV file.",
});
