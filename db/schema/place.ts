/** Where stock lies. */
import { sql } from "drizzle-orm";
import { check, real, sqliteTable, text } from "drizzle-orm/sqlite-core";

/** A hold keeps what is faulty or doubtful, a repair is where it is mended: neither counts as on hand for any kit. */
export type PlaceKind = "warehouse" | "vehicle" | "site" | "hold" | "repair";

export const place = sqliteTable(
  "place",
  {
    code: text("code").primaryKey(),
    name: text("name").notNull(),
    kind: text("kind").$type<PlaceKind>().notNull(),
    latDeg: real("lat_deg"),
    lonDeg: real("lon_deg"),
  },
  (t) => [
    check("place_kind", sql`${t.kind} IN ('warehouse','vehicle','site','hold','repair')`),
    check("place_position", sql`(${t.latDeg} IS NULL) = (${t.lonDeg} IS NULL)`),
  ],
);
