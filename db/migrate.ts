/** Brings a database to the newest schema. Safe to run at every start: what is applied is skipped. */
import path from "node:path";
import { fileURLToPath } from "node:url";
import { migrate } from "drizzle-orm/better-sqlite3/migrator";
import { readMigrationFiles } from "drizzle-orm/migrator";
import { countWrites } from "./dataState";
import { type Db, openDatabase } from "./open";

const MIGRATIONS = path.join(path.dirname(fileURLToPath(import.meta.url)), "migrations");

export function migrateDatabase(db: Db): void {
  migrate(db, { migrationsFolder: MIGRATIONS });
  countWrites(db);
}

/** Whether the schema of a database that has one already is about to change. */
export function hasPendingMigrations(db: Db): boolean {
  const kept = db.$client.prepare("select 1 from sqlite_master where name = '__drizzle_migrations'").get();
  if (!kept) return false;
  const last = db.$client.prepare("select max(created_at) as at from __drizzle_migrations").get() as {
    at: number;
  };
  return readMigrationFiles({ migrationsFolder: MIGRATIONS }).some(
    ({ folderMillis }) => folderMillis > last.at,
  );
}

/** A migrated, empty database in memory: for tests and for trial runs that must leave nothing behind. */
export function memoryDatabase(): Db {
  const db = openDatabase(":memory:");
  migrateDatabase(db);
  return db;
}
