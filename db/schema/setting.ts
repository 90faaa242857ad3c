/** Single values of the installation, e.g. `demoLoadedOn`; each key has one typed reader in db/queries/settings.ts. */
import { integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { json } from "./columns";

export const setting = sqliteTable("setting", {
  key: text().primaryKey(),
  value: json<unknown>().notNull(),
});

/** How often rows of each group of tables were written. Kept by triggers (db/dataState.ts). */
export const dataGroup = sqliteTable("data_group", {
  name: text().primaryKey(),
  revision: integer().notNull(),
});
