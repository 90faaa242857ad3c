/**
 * Makes the data folder ready for a start, and says on its last line, as JSON, what the person who starts it must
 * know. Run by app/_server/start.mjs while nothing else has the database open; `npm run seed` runs it with
 * `--fresh`, which replaces the database by the demonstration.
 */
import { createHash, randomBytes } from "node:crypto";
import { existsSync, mkdirSync, renameSync, rmSync } from "node:fs";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { hasPendingMigrations, migrateDatabase } from "@/db/migrate";
import { type Db, databasePath, dataFolder, openDatabase } from "@/db/open";
import { countAccounts } from "@/db/queries/accounts";
import { readSetting, writeSetting } from "@/db/queries/settings";
import { type CalendarDate, localOf } from "@/lib/time";
import { DEMO_ACCOUNTS, DEMO_PASSWORD } from "./accounts";
import { DEMO_ZONE, loadDemo } from "./load";

export type Prepared =
  | { kind: "demo"; loadedOn: CalendarDate; password: string; people: { email: string; role: string }[] }
  | { kind: "setup"; token: string }
  | { kind: "own" };

const demoWanted = () => process.env.BOTHENDS_DEMO !== "0";

/** The calendar's date, whatever week the demonstration's clock is held in. */
function calendarToday(): CalendarDate {
  const stopped = process.env.BOTHENDS_NOW;
  return localOf(stopped ? Date.parse(stopped) : Date.now(), DEMO_ZONE).date;
}

function remove(file: string): void {
  for (const suffix of ["", "-wal", "-shm"]) rmSync(file + suffix, { force: true });
}

/** Builds the demonstration beside the database and swaps it in whole: a load that fails leaves what was there. */
function swapInDemo(day: CalendarDate): void {
  const file = databasePath();
  const beside = `${file}.loading`;
  remove(beside);
  const db = openDatabase(beside);
  migrateDatabase(db);
  loadDemo(db, day);
  db.$client.pragma("wal_checkpoint(TRUNCATE)");
  db.$client.close();
  remove(file);
  renameSync(beside, file);
}

/** A copy before the schema changes under somebody's own data. */
function keepCopyBeforeMigration(db: Db): void {
  if (!hasPendingMigrations(db)) return;
  const folder = path.join(dataFolder(), "copies");
  mkdirSync(folder, { recursive: true });
  const second = new Date().toISOString().slice(0, 19).replaceAll(":", "");
  const copy = path.join(folder, `before-migration-${second}.sqlite`);
  db.$client.prepare("vacuum into ?").run(copy);
  console.log(`The database gets a newer schema; a copy of the old one is kept in ${copy}`);
}

function demoIsStale(db: Db): boolean {
  const loadedOn = readSetting(db, "demoLoadedOn");
  return loadedOn !== undefined && loadedOn !== calendarToday() && readSetting(db, "demoTouched") === false;
}

export function prepare({ fresh = false } = {}): Prepared {
  const file = databasePath();
  if (fresh) swapInDemo(calendarToday());
  const existed = existsSync(file);
  let db = openDatabase(file);
  if (existed) keepCopyBeforeMigration(db);
  migrateDatabase(db);

  const empty = countAccounts(db) === 0;
  if ((empty && demoWanted()) || demoIsStale(db)) {
    db.$client.close();
    swapInDemo(calendarToday());
    db = openDatabase(file);
  }
  try {
    if (countAccounts(db) === 0) return { kind: "setup", token: newSetupToken(db) };
    const loadedOn = readSetting(db, "demoLoadedOn");
    if (!loadedOn) return { kind: "own" };
    const people = DEMO_ACCOUNTS.map(({ email, role }) => ({ email, role }));
    return { kind: "demo", loadedOn, password: DEMO_PASSWORD, people };
  } finally {
    db.$client.close();
  }
}

/** A new token at every start until it is used; only its hash is kept. */
function newSetupToken(db: Db): string {
  const token = randomBytes(15).toString("base64url");
  writeSetting(db, "setupTokenHash", createHash("sha256").update(token).digest("hex"));
  return token;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const prepared = prepare({ fresh: process.argv.includes("--fresh") });
  console.log(JSON.stringify(prepared));
}
