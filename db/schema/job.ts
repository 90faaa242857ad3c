/** Long work (solve, import, netting) that the worker process takes from this table. */
import { index, integer, sqliteTable, text } from "drizzle-orm/sqlite-core";
import { id, instant, json, oneOf, yesNo } from "./columns";

export const JOB_STATES = ["queued", "running", "done", "failed", "cancelled"] as const;
export type JobState = (typeof JOB_STATES)[number];

export const job = sqliteTable(
  "job",
  {
    id: id(),
    /** A key of app/_server/jobKinds.ts. */
    kind: text().notNull(),
    input: json<unknown>().notNull(),
    state: oneOf(JOB_STATES).notNull(),
    progress: json<unknown>(),
    result: json<unknown>(),
    /** Why it failed, as a sentence. */
    error: text(),
    /** User id; null when the system itself asked. */
    createdBy: text(),
    createdAt: instant().notNull(),
    startedAt: instant(),
    endedAt: instant(),
    /** Written once a second while the worker's process is alive, busy or not. */
    heartbeatAt: instant(),
    workerPid: integer(),
    cancelRequested: yesNo().notNull().default(false),
    cancelRequestedAt: instant(),
    /** Rises with every write, so that a watcher knows without comparing whether anything changed. */
    revision: integer().notNull().default(0),
  },
  (t) => [
    index("job_state_created").on(t.state, t.createdAt),
    index("job_kind_created").on(t.kind, t.createdAt),
  ],
);

/**
 * Answers of actions that were sent with a key, so that a phone which sends twice is answered twice and heard
 * once. A key belongs to the user and the action that used it first.
 */
export const idempotencyKey = sqliteTable("idempotency_key", {
  key: text().primaryKey(),
  userId: text().notNull(),
  action: text().notNull(),
  result: json<unknown>().notNull(),
  createdAt: instant().notNull(),
});
