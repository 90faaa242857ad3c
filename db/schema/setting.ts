/** Single values of the installation, e.g. `demoLoadedOn`; each key has one typed reader in db/queries/settings.ts. */
import { sqliteTable, text } from "drizzle-orm/sqlite-core";
import { json } from "./columns";

export const setting = sqliteTable("setting", {
  key: text().primaryKey(),
  value: json<unknown>().notNull(),
});
