/**
 * Numbers that rise whenever rows of a group of tables are written, by whatever process: what was reckoned from them
 * is good for as long as they stay. Triggers count, so that no writer can forget to.
 */
import type { Db } from "./open";

/** Tables that a view reads together. A table that stands in no group counts for every view. */
export const DATA_GROUPS = {
  design: [
    "antenna_position",
    "end_estimate",
    "gate",
    "hop",
    "hop_estimate",
    "item",
    "link_end",
    "odu",
    "route_segment",
    "site",
  ],
  plan: ["plan", "plan_cutting", "plan_edit", "plan_netting", "plan_risk", "plan_transfer", "plan_visit"],
  kits: ["kit", "kit_line", "kit_serial"],
  stock: [
    "balance",
    "count_line",
    "count_session",
    "drum",
    "fault",
    "hung_unit",
    "lot",
    "movement",
    "order_line",
    "purchase_order",
    "run_loss",
    "spare_rule",
    "stock_transfer",
  ],
  crews: ["crew", "crew_member", "leave", "member_skill", "place"],
  reports: ["acceptance_reading", "report_part", "report_use", "revisit", "visit_photo", "visit_report"],
  weather: ["weather_block", "weather_place"],
  rules: ["approval_limit", "calibration_rejection", "policy", "setting"],
  log: ["log_entry"],
} as const;

export type DataGroup = keyof typeof DATA_GROUPS;

/** Tables whose rows no page sums up: accounts' sessions, secret addresses, the progress of jobs, bytes of files under way, what follows from other rows alone. */
export const UNCOUNTED_TABLES: ReadonlySet<string> = new Set([
  "__drizzle_migrations",
  "account",
  "crew_calendar",
  "data_group",
  "failed_attempt",
  "idempotency_key",
  "import_file",
  "import_run",
  "interface_key",
  "invitation",
  "job",
  "pace_minutes",
  "past_weather",
  "saved_view",
  "session",
  "two_factor",
  "user",
  "verification",
]);

const OTHER = "other";
const groupOf = new Map<string, string>(
  Object.entries(DATA_GROUPS).flatMap(([group, tables]) => tables.map((table) => [table, group] as const)),
);

/** Has every table counted. Run after each migration: one that lays a table anew drops its triggers. */
export function countWrites(db: Db): void {
  const tables = db.$client
    .prepare("SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'")
    .pluck()
    .all() as string[];
  const start = db.$client.prepare("INSERT OR IGNORE INTO data_group (name, revision) VALUES (?, 0)");
  for (const group of [...Object.keys(DATA_GROUPS), OTHER]) start.run(group);
  for (const table of tables.filter((name) => !UNCOUNTED_TABLES.has(name))) {
    const group = groupOf.get(table) ?? OTHER;
    for (const write of ["INSERT", "UPDATE", "DELETE"]) {
      const trigger = `data_state_${table}_${write.toLowerCase()}`;
      db.$client.exec(
        `DROP TRIGGER IF EXISTS ${trigger};
         CREATE TRIGGER ${trigger} AFTER ${write} ON "${table}"
         BEGIN UPDATE data_group SET revision = revision + 1 WHERE name = '${group}'; END`,
      );
    }
  }
}

interface Remembered {
  revision: string;
  value: unknown;
}

// Next bundles this module more than once; the process keeps one store for each connection.
const shared = globalThis as typeof globalThis & {
  bothendsRemembered?: WeakMap<object, Map<string, Remembered>>;
};
/** Views of one revision are asked for again and again, those of an older one never: few places are enough. */
const MOST_REMEMBERED = 60;

/**
 * `make()` as the data are now: made once, then handed out again until a row of `groups` changes. Callers share the
 * value and must not change it.
 * @param key all that `make` depends on besides the data: what is shown, of which plan, as of which day
 * @param groups every group of tables that `make` reads
 */
export function remembered<T>(db: Db, key: string, groups: readonly DataGroup[], make: () => T): T {
  // Inside a transaction the data may yet be rolled back, and the numbers with them.
  if (db.$client.inTransaction) return make();
  const revisions = new Map(
    db.$client.prepare("SELECT name, revision FROM data_group").raw().all() as [string, number][],
  );
  const revision = [...groups, OTHER].map((group) => revisions.get(group)).join(" ");
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
