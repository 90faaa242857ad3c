/**
 * A number that rises whenever a row of the programme is written, by whatever process: what was reckoned from all rows
 * is good for as long as it stays. Triggers count, so that no writer can forget to.
 */
import type { Db } from "./open";

/** Tables whose rows no page sums up: accounts' sessions, the progress of jobs, bytes of files under way. */
export const UNCOUNTED_TABLES: ReadonlySet<string> = new Set([
  "__drizzle_migrations",
  "account",
  "data_state",
  "idempotency_key",
  "import_file",
  "import_run",
  "job",
  "past_weather",
  "session",
  "sign_in_failure",
  "user",
  "verification",
]);

/** Has every table counted. Run after each migration: one that lays a table anew drops its triggers. */
export function countWrites(db: Db): void {
  const tables = db.$client
    .prepare("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[];
  for (const table of tables.filter((name) => !UNCOUNTED_TABLES.has(name))) {
    for (const write of ["INSERT", "UPDATE", "DELETE"]) {
      db.$client.exec(
        `CREATE TRIGGER IF NOT EXISTS data_state_${table}_${write.toLowerCase()} AFTER ${write} ON "${table}"
         BEGIN UPDATE data_state SET revision = revision + 1; END`,
      );
    }
  }
}

interface Remembered {
  revision: number;
  value: unknown;
}

// Next bundles this module more than once; the process keeps one store for each connection.
const shared = globalThis as typeof globalThis & {
  bothendsRemembered?: WeakMap<object, Map<string, Remembered>>;
};
/** Views of one revision are asked for again and again, those of an older one never: few places are enough. */
const MOST_REMEMBERED = 60;

/**
 * `make()` as the data are now: made once, then handed out again until any row changes. Callers share the value and
 * must not change it.
 * @param key all that `make` depends on besides the data: what is shown, of which plan, as of which day
 */
export function remembered<T>(db: Db, key: string, make: () => T): T {
  // Inside a transaction the data may yet be rolled back, and the number with them.
  if (db.$client.inTransaction) return make();
  const revision = db.$client.prepare("SELECT revision FROM data_state").pluck().get() as number;
  shared.bothendsRemembered ??= new WeakMap();
  let store = shared.bothendsRemembered.get(db.$client);
  if (!store) {
    store = new Map();
    shared.bothendsRemembered.set(db.$client, store);
  }
  const known = store.get(key);
  if (known?.revision === revision) return known.value as T;
  const value = make();
  store.delete(key);
  const oldest = store.keys().next();
  if (store.size >= MOST_REMEMBERED && !oldest.done) store.delete(oldest.value);
  store.set(key, { revision, value });
  return value;
}
