/** The queue of long work: pages put jobs in, the worker process takes them out, both read how far they are. */
import { and, asc, desc, eq, inArray, isNull, lt, or, sql } from "drizzle-orm";
import { type Db, writing } from "@/db/open";
import { type JobState, job } from "@/db/schema";
import type { InstantMillis } from "@/lib/time";

export type Job = typeof job.$inferSelect;

/** States from which a job does not move by itself any more. */
export const ENDED: readonly JobState[] = ["done", "failed", "cancelled"];

export const WORKER_LOST = "the solver process ended; start again";

/** A running job whose worker has not beaten for this long has lost its process, ms. */
export const HEARTBEAT_STALE_MILLIS = 6_000;

/** Order of arrival, for jobs of the same millisecond: SQLite's own row number. */
const ARRIVAL = sql`${job}.rowid`;

const changed = { revision: sql`${job.revision} + 1` };

export interface NewJob {
  kind: string;
  input: unknown;
  createdBy: string | null;
  now: InstantMillis;
  /** Given by tests and demo data only. */
  id?: string;
}

/** Puts a job at the end of the queue and returns its id. */
export function enqueueJob(db: Db, wanted: NewJob): string {
  const id = wanted.id ?? crypto.randomUUID();
  db.insert(job)
    .values({
      id,
      kind: wanted.kind,
      input: wanted.input,
      state: "queued",
      createdBy: wanted.createdBy,
      createdAt: wanted.now,
    })
    .run();
  return id;
}

export function jobById(db: Db, id: string): Job | undefined {
  return db.select().from(job).where(eq(job.id, id)).get();
}

/** Newest first. */
export function jobsOfKind(db: Db, kind: string, limit = 20): Job[] {
  return db
    .select()
    .from(job)
    .where(eq(job.kind, kind))
    .orderBy(desc(job.createdAt), desc(ARRIVAL))
    .limit(limit)
    .all();
}

/** Newest first, of any kind. Without inputs and results, which can be large. */
export function recentJobs(db: Db, limit: number) {
  const { id, kind, state, error, createdBy, createdAt, startedAt, endedAt } = job;
  return db
    .select({ id, kind, state, error, createdBy, createdAt, startedAt, endedAt })
    .from(job)
    .orderBy(desc(createdAt), desc(ARRIVAL))
    .limit(limit)
    .all();
}

/** Jobs of this kind that are queued or running, newest first. */
export function activeJobsOfKind(db: Db, kind: string): Job[] {
  return db
    .select()
    .from(job)
    .where(and(eq(job.kind, kind), inArray(job.state, ["queued", "running"])))
    .orderBy(desc(job.createdAt), desc(ARRIVAL))
    .all();
}

export const activeJobOfKind = (db: Db, kind: string): Job | undefined => activeJobsOfKind(db, kind)[0];

/** Takes the oldest queued job for the worker `pid`; undefined when there is none. */
export function claimNextJob(db: Db, pid: number, now: InstantMillis): Job | undefined {
  // Looking first without the write lock keeps an idle worker from disturbing the writers.
  if (!db.select({ id: job.id }).from(job).where(eq(job.state, "queued")).limit(1).get()) return undefined;
  return writing(db, () => {
    const next = db
      .select({ id: job.id })
      .from(job)
      .where(eq(job.state, "queued"))
      .orderBy(asc(job.createdAt), ARRIVAL)
      .limit(1)
      .get();
    if (!next) return undefined;
    return db
      .update(job)
      .set({ ...changed, state: "running", workerPid: pid, startedAt: now, heartbeatAt: now })
      .where(eq(job.id, next.id))
      .returning()
      .get();
  });
}

/** Stores how far the job is; nothing when it does not run any more. */
export function reportJobProgress(db: Db, id: string, progress: unknown): void {
  db.update(job)
    .set({ ...changed, progress })
    .where(and(eq(job.id, id), eq(job.state, "running")))
    .run();
}

export function isCancelRequested(db: Db, id: string): boolean {
  return db.select({ wanted: job.cancelRequested }).from(job).where(eq(job.id, id)).get()?.wanted ?? true;
}

/** Ends a running job. A job that ended otherwise meanwhile (its worker was taken for lost) stays as it is. */
export function endJob(
  db: Db,
  id: string,
  end: { state: "done" | "failed" | "cancelled"; result?: unknown; error?: string; now: InstantMillis },
): boolean {
  const { changes } = db
    .update(job)
    .set({
      ...changed,
      state: end.state,
      result: end.result ?? null,
      error: end.error ?? null,
      endedAt: end.now,
    })
    .where(and(eq(job.id, id), eq(job.state, "running")))
    .run();
  return changes === 1;
}

/** Asks for an end: a queued job is cancelled at once, a running one is told. False when it had ended before. */
export function cancelJob(db: Db, id: string, now: InstantMillis): boolean {
  return writing(db, () => {
    const queued = db
      .update(job)
      .set({ ...changed, state: "cancelled", cancelRequested: true, cancelRequestedAt: now, endedAt: now })
      .where(and(eq(job.id, id), eq(job.state, "queued")))
      .run();
    if (queued.changes === 1) return true;
    const running = db
      .update(job)
      .set({
        ...changed,
        cancelRequested: true,
        cancelRequestedAt: sql`coalesce(${job.cancelRequestedAt}, ${now})`,
      })
      .where(and(eq(job.id, id), eq(job.state, "running")))
      .run();
    return running.changes === 1;
  });
}

/** A new job with the input of one that ended; undefined when there is no such ended job. */
export function restartJob(db: Db, id: string, by: string | null, now: InstantMillis): string | undefined {
  return writing(db, () => {
    const old = jobById(db, id);
    if (!old || !ENDED.includes(old.state)) return undefined;
    return enqueueJob(db, { kind: old.kind, input: old.input, createdBy: by, now });
  });
}

/**
 * Ends the running jobs whose worker is gone: failed, or cancelled when that was asked for. A worker beats every
 * second; `all` is for a worker that has just started and knows that it is the only one.
 */
export function endLostJobs(db: Db, now: InstantMillis, which: "stale" | "all" = "stale"): number {
  const running = eq(job.state, "running");
  const stale = or(
    isNull(job.heartbeatAt),
    lt(job.heartbeatAt, (now - HEARTBEAT_STALE_MILLIS) as InstantMillis),
  );
  return db
    .update(job)
    .set({
      ...changed,
      state: sql`case when ${job.cancelRequested} = 1 then 'cancelled' else 'failed' end`,
      error: sql`case when ${job.cancelRequested} = 1 then null else ${WORKER_LOST} end`,
      endedAt: now,
    })
    .where(which === "all" ? running : and(running, stale))
    .run().changes;
}

/** Removes ended jobs that ended before `before`; plans keep what they need of a result in their own tables. */
export function forgetJobs(db: Db, before: InstantMillis): number {
  return db
    .delete(job)
    .where(and(inArray(job.state, [...ENDED]), lt(job.endedAt, before)))
    .run().changes;
}
