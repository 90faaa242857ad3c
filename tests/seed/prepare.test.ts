import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { readMigrationFiles } from "drizzle-orm/migrator";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { type Db, databasePath, openDatabase } from "@/db/open";
import { countAccounts, createAccount } from "@/db/queries/accounts";
import { readSetting, writeSetting } from "@/db/queries/settings";
import type { InstantMillis } from "@/lib/time";
import { prepare } from "@/seed/prepare";

let folder: string;

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), "bothends-prepare-"));
  vi.stubEnv("BOTHENDS_DATA", folder);
  vi.stubEnv("BOTHENDS_NOW", "2026-03-16T07:30:00Z");
});

afterEach(() => {
  vi.unstubAllEnvs();
  rmSync(folder, { recursive: true, force: true });
});

function withDatabase<T>(work: (db: Db) => T): T {
  const db = openDatabase(databasePath());
  try {
    return work(db);
  } finally {
    db.$client.close();
  }
}

const loadedOn = () => withDatabase((db) => readSetting(db, "demoLoadedOn"));

test("an empty folder becomes the demonstration for today, and nothing is left beside it", () => {
  expect(prepare()).toMatchObject({ kind: "demo", loadedOn: "2026-03-16" });
  expect(loadedOn()).toBe("2026-03-16");
  expect(readdirSync(folder).filter((name) => name.includes("loading"))).toEqual([]);
});

test("an untouched demonstration is made anew on a later day, a touched one is kept", () => {
  prepare();
  vi.stubEnv("BOTHENDS_NOW", "2026-03-20T07:30:00Z");
  expect(prepare()).toMatchObject({ loadedOn: "2026-03-20" });
  withDatabase((db) => writeSetting(db, "demoTouched", true));
  vi.stubEnv("BOTHENDS_NOW", "2026-03-27T07:30:00Z");
  expect(prepare()).toMatchObject({ loadedOn: "2026-03-20" });
  expect(prepare({ fresh: true })).toMatchObject({ loadedOn: "2026-03-27" });
});

test("without demonstration each start prints another token until somebody has an account", () => {
  vi.stubEnv("BOTHENDS_DEMO", "0");
  const first = prepare();
  const second = prepare();
  expect(first.kind).toBe("setup");
  expect(first).not.toEqual(second);
  expect(withDatabase(countAccounts)).toBe(0);
  withDatabase((db) => {
    const now = 1 as InstantMillis;
    createAccount(db, {
      name: "Iris",
      email: "iris@masts.example",
      passwordHash: "h",
      role: "administrator",
      now,
    });
  });
  expect(prepare()).toEqual({ kind: "own" });
});

test("somebody's own data are never replaced by the demonstration", () => {
  vi.stubEnv("BOTHENDS_DEMO", "0");
  prepare();
  withDatabase((db) => {
    const now = 1 as InstantMillis;
    createAccount(db, {
      name: "Iris",
      email: "iris@masts.example",
      passwordHash: "h",
      role: "administrator",
      now,
    });
  });
  vi.stubEnv("BOTHENDS_DEMO", "1");
  expect(prepare()).toEqual({ kind: "own" });
  expect(withDatabase(countAccounts)).toBe(1);
});

test("before a newer schema is applied, a copy of the old database is kept", () => {
  // A database as the first migration left it.
  withDatabase((db) => {
    const first = readMigrationFiles({ migrationsFolder: "db/migrations" })[0];
    for (const statement of first?.sql ?? []) db.$client.exec(statement);
    db.$client.exec(
      "create table __drizzle_migrations (id integer primary key, hash text, created_at numeric)",
    );
    db.$client
      .prepare("insert into __drizzle_migrations (hash, created_at) values (?, ?)")
      .run(first?.hash, first?.folderMillis);
    writeSetting(db, "demoZone", "Pacific/Auckland");
  });
  prepare();
  const [copy] = readdirSync(path.join(folder, "copies"));
  const old = openDatabase(path.join(folder, "copies", copy ?? ""));
  expect(readSetting(old, "demoZone")).toBe("Pacific/Auckland");
  old.$client.close();
  prepare();
  expect(readdirSync(path.join(folder, "copies")).filter((name) => name.endsWith(".sqlite"))).toHaveLength(1);
});
