/** Brings a database to the newest schema. Safe to run at every start: what is applied is skipped. */
import path from "node:path";
import { fileURLToPath } from "node:url";
import { migrate } from "drizzle-orm/better-sqlite3/migrator";
import { readMigrationFiles } from "drizzle-orm/migrator";
import { countWrites } from "./dataState";
import { type Db, openDatabase } from "./open";

const MIGRATIONS = path.join(path.dirname(fileURLToPath(import.meta.url)), "migrations");

/**
 * Foreign keys rest meanwhile: a migration that lays a parent table anew drops the old one, which would take all its
 * children along. The pragma does nothing inside the migration's own transaction, so it stands here.
 *
 * @throws Error when rows point at nothing afterwards; the database is as the migrations left it
 */
export function migrateDatabase(db: Db, folder: string = MIGRATIONS): void {
  const changes = hasPendingMigrations(db, folder);
  db.$client.pragma("foreign_keys = OFF");
  try {
    migrate(db, { migrationsFolder: folder });
  } finally {
    db.$client.pragma("foreign_keys = ON");
  }
  if (changes) refuseDangling(db);
  countWrites(db);
}

function refuseDangling(db: Db): void {
  const dangling = db.$client.pragma("foreign_key_check") as { table: string; parent: string }[];
  const first = dangling[0];
  if (!first) return;
  throw new Error(
    `After the migration ${dangling.length} rows point at nothing, the first from ${first.table} to ${first.parent}.`,
  );
}

/** Whether the schema of a database that has one already is about to change. */
export function hasPendingMigrations(db: Db, folder: string = MIGRATIONS): boolean {
  const kept = db.$client.prepare("select 1 from sqlite_master where name = '__drizzle_migrations'").get();
  if (!kept) return false;
  const last = db.$client.prepare("select max(created_at) as at from __drizzle_migrations").get() as {
    at: number;
  };
  return readMigrationFiles({ migrationsFolder: folder }).some(({ folderMillis }) => folderMillis > last.at);
}

/** A migrated, empty database in memory: for tests and for trial runs that must leave nothing behind. */
export function memoryDatabase(): Db {
  const db = openDatabase(":memory:");
  migrateDatabase(db);
  return db;
}
