/** The worker as a process of its own, on a database file, as start.mjs runs it. */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { migrateDatabase } from "@/db/migrate";
import { type Db, openDatabase } from "@/db/open";
import { cancelJob, enqueueJob, type Job, jobById, WORKER_LOST } from "@/db/queries/jobs";
import type { InstantMillis } from "@/lib/time";

let folder: string;
let db: Db;
const workers: ChildProcess[] = [];

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), "bothends-worker-"));
  db = openDatabase(path.join(folder, "bothends.sqlite"));
  migrateDatabase(db);
});

afterEach(async () => {
  for (const worker of workers.splice(0)) if (await isRunning(worker)) worker.kill("SIGKILL");
  db.$client.close();
  rmSync(folder, { recursive: true, force: true });
});

const isRunning = async (child: ChildProcess) => child.exitCode === null && child.signalCode === null;

function startWorker(): ChildProcess {
  const worker = spawn(process.execPath, ["--import", "tsx", "app/_server/worker.ts"], {
    env: { ...process.env, BOTHENDS_DATA: folder },
    stdio: "ignore",
  });
  workers.push(worker);
  return worker;
}

const now = () => Date.now() as InstantMillis;

const enqueue = (input: { steps: number; stepMillis: number }) =>
  enqueueJob(db, { kind: "worker-check", input, createdBy: null, now: now() });

/** Waits until the job is as wanted; the test's time limit ends a wait in vain. */
async function until(id: string, wanted: (job: Job) => boolean): Promise<Job> {
  for (;;) {
    const job = jobById(db, id);
    if (job && wanted(job)) return job;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

const hasProgress = (job: Job) => job.progress !== null;
const hasEnded = (job: Job) => job.endedAt !== null;

test("it takes a job that comes while it idles, and finishes it", async () => {
  startWorker();
  const id = enqueue({ steps: 4, stepMillis: 1 });
  expect(await until(id, hasEnded)).toMatchObject({ state: "done", result: { step: 4, steps: 4 } });
});

test("a busy job hears that it should stop, gives what it has, and the next one runs", async () => {
  startWorker();
  const long = enqueue({ steps: 1000, stepMillis: 200 });
  const next = enqueue({ steps: 1, stepMillis: 0 });
  await until(long, hasProgress);
  expect(jobById(db, next)?.state).toBe("queued");
  cancelJob(db, long, now());
  const stopped = await until(long, hasEnded);
  expect(stopped.state).toBe("cancelled");
  expect((stopped.result as { step: number }).step).toBeGreaterThan(0);
  expect((await until(next, hasEnded)).state).toBe("done");
});

test("its heart beats while the job is too busy to say anything", async () => {
  startWorker();
  const id = enqueue({ steps: 3, stepMillis: 1000 });
  const claimed = await until(id, (job) => job.state === "running");
  const later = await until(id, (job) => (job.heartbeatAt ?? 0) > (claimed.heartbeatAt ?? 0));
  expect(later.state).toBe("running");
});

test("what a killed worker had under way is failed by the one that follows", async () => {
  const first = startWorker();
  const id = enqueue({ steps: 1000, stepMillis: 200 });
  await until(id, hasProgress);
  first.kill("SIGKILL");
  await new Promise((resolve) => first.once("exit", resolve));
  startWorker();
  expect(await until(id, hasEnded)).toMatchObject({ state: "failed", error: WORKER_LOST });
});
