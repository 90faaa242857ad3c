/** The log as CSV, searched as on screen. */
import { z } from "zod";
import { defineRoute } from "@/app/_server/action";
import { homeToday, homeZone } from "@/app/_server/clock";
import { formatInstant } from "@/app/_ui/format";
import { searchLog } from "@/db/queries/rules";
import { writeTableCsv } from "@/lib/exchange";

/** A spreadsheet takes a million rows; a log of years stays below this. */
const MOST_ROWS = 200_000;

export const GET = defineRoute({
  roles: [],
  input: z.object({ q: z.string().max(200).optional() }),
  run: ({ q }, { db }) => {
    const zone = homeZone(db);
    const { rows } = searchLog(db, { words: q, limit: MOST_ROWS });
    const csv = writeTableCsv(
      ["id", "when (UTC)", `when (${zone})`, "who", "what", "on", "detail"],
      rows.map((r) => [
        r.id,
        new Date(r.at).toISOString(),
        formatInstant(r.at, zone),
        r.userName,
        r.action,
        r.subject,
        JSON.stringify(r.detail),
      ]),
    );
    return new Response(csv as BodyInit, {
      headers: {
        "Content-Type": "text/csv; charset=utf-8",
        "Content-Disposition": `attachment; filename="log-${homeToday(db)}.csv"`,
      },
    });
  },
});
