/** Brings a database to the newest schema. Safe to run at every start: what is applied is skipped. */
import path from "node:path";
import { fileURLToPath } from "node:url";
import { migrate } from "drizzle-orm/better-sqlite3/migrator";
import { type Db, openDatabase } from "./open";

const MIGRATIONS = path.join(path.dirname(fileURLToPath(import.meta.url)), "migrations");

export function migrateDatabase(db: Db): void {
  migrate(db, { migrationsFolder: MIGRATIONS });
}

/** A migrated, empty database in memory: for tests and for trial runs that must leave nothing behind. */
export function memoryDatabase(): Db {
  const db = openDatabase(":memory:");
  migrateDatabase(db);
  return db;
}
