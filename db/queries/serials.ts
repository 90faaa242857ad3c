/** One serial in any case: how what is typed is kept, and how what was kept before is found. */
import { type SQL, sql } from "drizzle-orm";
import { serialOf } from "@/lib/stock";
import type { Db } from "../open";

/** The column says that serial. Above "" the index on it serves, so that rows without a serial are not read. */
export const isSerial = (column: unknown, serial: string): SQL =>
  sql`${column} > '' AND ${column} = ${serialOf(serial)} COLLATE NOCASE`;

/**
 * A typed serial as it is written into a row: as the ledger spells it, since its triggers follow a serial letter by
 * letter; else as it hangs, is faulty or lies in a box; a new one in capitals.
 */
export function serialAsKept(db: Db, typed: string): string {
  const serial = serialOf(typed);
  const known = db.$client
    .prepare(
      `SELECT serial FROM (
         SELECT serial, 1 AS turn FROM movement WHERE serial > '' AND serial = @serial COLLATE NOCASE
         UNION ALL SELECT serial, 2 FROM hung_unit WHERE serial = @serial COLLATE NOCASE
         UNION ALL SELECT serial, 3 FROM fault WHERE serial > '' AND serial = @serial COLLATE NOCASE
         UNION ALL SELECT serial, 4 FROM kit_serial WHERE serial = @serial COLLATE NOCASE)
       ORDER BY turn, serial = @typed DESC, serial = @serial DESC LIMIT 1`,
    )
    .pluck()
    .get({ serial, typed: typed.trim() }) as string | undefined;
  return known ?? serial;
}
