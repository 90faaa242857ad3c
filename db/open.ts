/**
 * The one SQLite file. Opened at first use, never at import: `next build` imports every route, and a build must
 * not need (or make) a database.
 */
import { mkdirSync } from "node:fs";
import path from "node:path";
import SqliteDatabase from "better-sqlite3";
import { type BetterSQLite3Database, drizzle } from "drizzle-orm/better-sqlite3";
import * as schema from "./schema";

export type Db = BetterSQLite3Database<typeof schema> & { readonly $client: SqliteDatabase.Database };

/** The folder that holds everything this installation must keep: database, secret, process file. */
export function dataFolder(): string {
  return path.resolve(/*turbopackIgnore: true*/ process.env.BOTHENDS_DATA || "data");
}

export function databasePath(): string {
  return path.join(dataFolder(), "bothends.sqlite");
}

/** Opens (and makes, when missing) a database file; `":memory:"` for tests. Does not migrate. */
export function openDatabase(file: string): Db {
  if (file !== ":memory:") mkdirSync(path.dirname(file), { recursive: true });
  const client = new SqliteDatabase(file);
  client.pragma("journal_mode = WAL"); // readers never wait for the writer
  client.pragma("synchronous = NORMAL"); // with WAL: may lose the last commits on power loss, never the file
  client.pragma("foreign_keys = ON");
  client.pragma("busy_timeout = 5000"); // ms that a writer waits for the other process
  client.pragma("cache_size = -32000"); // KiB
  // Every commit of the worker empties the web server's cache: read from the mapped file, pages cost nothing to read again.
  client.pragma("mmap_size = 536870912"); // bytes
  return drizzle(client, { schema, casing: "snake_case" });
}

// Next bundles this module more than once (pages, actions, route handlers); the process still has one connection.
const shared = globalThis as typeof globalThis & { bothendsDatabase?: Db };

/** This process's connection to the installation's database. */
export function database(): Db {
  shared.bothendsDatabase ??= openDatabase(databasePath());
  return shared.bothendsDatabase;
}

/**
 * Runs `work` in a transaction that takes the write lock at once (BEGIN IMMEDIATE), so that what it reads is still
 * true when it writes. Commits on return, rolls back on throw. Inside another `writing` it becomes a savepoint.
 * `work` must be synchronous: a transaction that waits would hold the lock for everybody.
 */
export function writing<T>(db: Db, work: (db: Db) => T extends PromiseLike<unknown> ? never : T): T {
  return db.$client.transaction(() => work(db)).immediate() as T;
}
