/** Single values of the installation, e.g. `demoLoadedOn`; each key has one typed reader in db/queries/settings.ts. */
import { sql } from "drizzle-orm";
import { check, integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { json } from "./columns";

export const setting = sqliteTable("setting", {
  key: text().primaryKey(),
  value: json<unknown>().notNull(),
});

/** One row: how often rows of the programme were written. Kept by triggers (db/dataState.ts). */
export const dataState = sqliteTable(
  "data_state",
  { id: integer().primaryKey(), revision: integer().notNull() },
  (t) => [check("data_state_one", sql`${t.id} = 1`)],
);
