import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, expect, test } from "vitest";
import { migrateDatabase } from "@/db/migrate";
import { openDatabase } from "@/db/open";

const folders: string[] = [];
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true });
});

const FIRST = `CREATE TABLE data_group (name text PRIMARY KEY, revision integer NOT NULL);
--> statement-breakpoint
CREATE TABLE tower (code text PRIMARY KEY);
--> statement-breakpoint
CREATE TABLE dish (label text PRIMARY KEY, tower_code text REFERENCES tower(code) ON DELETE CASCADE);
--> statement-breakpoint
INSERT INTO tower VALUES ('T1');
--> statement-breakpoint
INSERT INTO dish VALUES ('D1', 'T1');`;

/** As a schema change writes it that SQLite cannot alter in place. */
const LAID_ANEW = `CREATE TABLE __new_tower (code text PRIMARY KEY, height_m real CHECK (height_m > 0));
--> statement-breakpoint
INSERT INTO __new_tower (code) SELECT code FROM tower;
--> statement-breakpoint
DROP TABLE tower;
--> statement-breakpoint
ALTER TABLE __new_tower RENAME TO tower;`;

function folderWith(files: readonly string[]): string {
  const folder = mkdtempSync(path.join(tmpdir(), "migrations-"));
  folders.push(folder);
  mkdirSync(path.join(folder, "meta"));
  files.forEach((sql, i) => {
    writeFileSync(path.join(folder, `000${i}_step.sql`), sql);
  });
  const entries = files.map((_, idx) => ({
    idx,
    version: "6",
    when: 1000 + idx,
    tag: `000${idx}_step`,
    breakpoints: true,
  }));
  writeFileSync(
    path.join(folder, "meta", "_journal.json"),
    JSON.stringify({ version: "7", dialect: "sqlite", entries }),
  );
  return folder;
}

test("a parent table that is laid anew keeps its children, and their keys hold again", () => {
  const db = openDatabase(":memory:");
  migrateDatabase(db, folderWith([FIRST]));
  migrateDatabase(db, folderWith([FIRST, LAID_ANEW]));

  expect(db.$client.prepare("SELECT label, tower_code AS tower FROM dish").all()).toEqual([
    { label: "D1", tower: "T1" },
  ]);
  expect(db.$client.pragma("foreign_keys", { simple: true })).toBe(1);
  expect(() => db.$client.exec("INSERT INTO dish VALUES ('D2', 'nowhere')")).toThrow(/FOREIGN KEY/);
});

test("a migration that leaves rows pointing at nothing is refused by name", () => {
  const db = openDatabase(":memory:");
  migrateDatabase(db, folderWith([FIRST]));
  expect(() => migrateDatabase(db, folderWith([FIRST, "DELETE FROM tower;"]))).toThrow(
    "1 rows point at nothing, the first from dish to tower",
  );
});
