/** The log as a file, searched as on screen; what was done stands in it as it is kept, in English. */
import { z } from "zod";
import { defineRoute } from "@/app/_server/action";
import { homeToday, homeZone } from "@/app/_server/clock";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { serverWords } from "@/app/_server/language";
import { formatInstant } from "@/app/_ui/format";
import { actionsSaid } from "@/app/(work)/rules/logAction";
import { searchLog } from "@/db/queries/rules";
import { writeTableCsv, writeTableXlsx } from "@/lib/exchange";

/** A spreadsheet takes a million rows; a log of years stays below this. */
const MOST_ROWS = 200_000;

export const GET = defineRoute({
  roles: [],
  input: z.object({ q: z.string().max(200).optional(), format: z.enum(["csv", "xlsx"]).default("csv") }),
  run: async ({ q, format }, { db }) => {
    const zone = homeZone(db);
    const head = ["id", "when (UTC)", `when (${zone})`, "who", "what", "on", "detail"];
    const rows = searchLog(db, {
      words: q,
      actionsSaid: actionsSaid(await serverWords()),
      limit: MOST_ROWS,
    }).rows.map((r) => [
      r.id,
      new Date(r.at).toISOString(),
      formatInstant(r.at, zone),
      r.userName,
      r.action,
      r.subject,
      JSON.stringify(r.detail),
    ]);
    const bytes = format === "xlsx" ? await writeTableXlsx("Log", head, rows) : writeTableCsv(head, rows);
    return fileAnswer(`log-${homeToday(db)}`, format, bytes);
  },
});
