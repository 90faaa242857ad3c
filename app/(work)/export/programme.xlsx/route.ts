/** The whole programme as one workbook, a sheet per kind. Weather hours are files of their own: they are too many. */
import { defineRoute } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { tableRows } from "@/db/queries/existingRows";
import { KIND_NAMES, type KindName, writeWorkbook } from "@/lib/exchange";
import { IMPORTERS } from "../../import/kinds";

export const GET = defineRoute({
  roles: IMPORTERS,
  run: async (_input, { db }) => {
    const rows = tableRows(db);
    const kinds = KIND_NAMES.filter((kind): kind is Exclude<KindName, "weather"> => kind !== "weather");
    const bytes = await writeWorkbook(kinds.map((kind) => ({ kind, rows: rows[kind] })));
    return fileAnswer(`programme-${homeToday(db)}`, "xlsx", bytes);
  },
});
