/** The offcut report as a file: a row for each month, cable and reason. */
import { z } from "zod";
import { defineRoute } from "@/app/_server/action";
import { homeToday } from "@/app/_server/clock";
import { fileAnswer } from "@/app/_server/fileAnswer";
import { loadOffcuts } from "@/db/queries/offcuts";
import { writeTableCsv, writeTableXlsx } from "@/lib/exchange";
import { sumOffcuts } from "@/lib/stock";
import { daysOf } from "../words";

const HEAD = ["month", "cable", "reason", "pieces", "length [m]", "value [minor units]", "currency"];

export const GET = defineRoute({
  roles: ["logistics", "manager", "administrator"],
  input: z.object({
    from: z.string().max(10).optional(),
    to: z.string().max(10).optional(),
    format: z.enum(["csv", "xlsx"]).default("csv"),
  }),
  run: async ({ format, ...asked }, { db }) => {
    const { from, to } = daysOf(asked, homeToday(db));
    const rows = sumOffcuts(loadOffcuts(db, from, to), ["month", "itemCode", "reason"]).map((s) => [
      s.month,
      s.itemCode,
      s.reason,
      s.pieces,
      s.lengthC / 100,
      s.valueMinor,
      s.currency,
    ]);
    const bytes = format === "xlsx" ? await writeTableXlsx("Offcuts", HEAD, rows) : writeTableCsv(HEAD, rows);
    return fileAnswer(`offcuts-${from}-${to}`, format, bytes);
  },
});
