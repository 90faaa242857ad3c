/**
 * The worker process: takes jobs from the table, one at a time, so that a solve never keeps a page waiting.
 * Started and restarted by start.mjs; `node --import tsx app/_server/worker.ts` starts one by hand.
 */
import { existsSync, readdirSync } from "node:fs";
import { constants, setPriority } from "node:os";
import { Worker } from "node:worker_threads";
import { database, databasePath } from "@/db/open";
import { forgetAnswers } from "@/db/queries/idempotency";
import { endLostJobs, forgetJobs } from "@/db/queries/jobs";
import { countLedger } from "@/db/queries/ledger";
import type { InstantMillis } from "@/lib/time";
import { machineNow } from "./clock";
import { reconcile } from "./reconcile";
import { runNextJob } from "./runJob";

const POLL_MILLIS = 100;
/** How long a job that was asked to stop may take before the process is ended. */
const STOP_GRACE_MILLIS = 8_000;
const KEEP_MILLIS = 30 * 86_400_000;

// A search takes all the time it is given: pages come first where they want the same core. On Linux each thread has a
// priority of its own, and the garbage collector's are there already.
const threads = existsSync("/proc/self/task") ? readdirSync("/proc/self/task") : [process.pid];
for (const thread of threads) setPriority(Number(thread), constants.priority.PRIORITY_LOW);

const db = database();
const started = machineNow();
// One worker per data folder (start.mjs sees to it), so whatever is running now has lost its process.
const lost = endLostJobs(db, started, "all");
if (lost > 0) console.log(`worker: ${lost} job(s) had lost their process`);
forgetJobs(db, (started - KEEP_MILLIS) as InstantMillis);
forgetAnswers(db, (started - KEEP_MILLIS) as InstantMillis);

if (countLedger(db, {}) > 0) reconcile(db, null);

const heartbeat = new Worker(new URL("./heartbeat.mjs", import.meta.url), {
  workerData: { file: databasePath(), pid: process.pid, graceMillis: STOP_GRACE_MILLIS },
  execArgv: [],
});
heartbeat.on("error", (thrown) => {
  console.error("worker: the heartbeat thread died:", thrown);
  process.exit(1); // without it every job would look lost
});

let stopping = false;
const parent = process.ppid;
for (const signal of ["SIGTERM", "SIGINT"] as const)
  process.on(signal, () => {
    // A job under way is lost and marked so; waiting for it would keep the whole programme from stopping.
    if (stopping) return;
    stopping = true;
    endLostJobs(db, machineNow(), "all");
    process.exit(0);
  });

console.log(`worker: ready (process ${process.pid})`);
while (!stopping) {
  const ran = await runNextJob(db);
  // A supervisor that was killed outright cannot end its children; they notice and go.
  if (process.ppid !== parent) process.exit(0);
  if (!ran) await new Promise((resolve) => setTimeout(resolve, POLL_MILLIS));
}
