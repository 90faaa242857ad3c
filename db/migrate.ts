/** Brings a database to the newest schema. Safe to run at every start: what is applied is skipped. */
import path from "node:path";
import { fileURLToPath } from "node:url";
import { migrate } from "drizzle-orm/better-sqlite3/migrator";
import { readMigrationFiles } from "drizzle-orm/migrator";
import { type Db, openDatabase } from "./open";

const MIGRATIONS = path.join(path.dirname(fileURLToPath(import.meta.url)), "migrations");

export function migrateDatabase(db: Db): void {
  migrate(db, { migrationsFolder: MIGRATIONS });
}

/** How many migrations this database has had, and how many there are. */
export function migrationState(db: Db): { applied: number; known: number } {
  const known = readMigrationFiles({ migrationsFolder: MIGRATIONS }).length;
  const kept = db.$client.prepare("select 1 from sqlite_master where name = '__drizzle_migrations'").get();
  if (!kept) return { applied: 0, known };
  const row = db.$client.prepare("select count(*) as n from __drizzle_migrations").get() as { n: number };
  return { applied: row.n, known };
}

/** A migrated, empty database in memory: for tests and for trial runs that must leave nothing behind. */
export function memoryDatabase(): Db {
  const db = openDatabase(":memory:");
  migrateDatabase(db);
  return db;
}
