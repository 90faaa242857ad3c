/**
 * A thread of the worker process that says "alive" once a second for the running job, also while the main thread is
 * deep in a solve and answers nobody. It also ends the process when a job was asked to stop and does not: the
 * supervisor starts a new one, which marks the job as cancelled.
 *
 * Plain JavaScript, because a thread does not inherit the TypeScript loader everywhere.
 */
import { parentPort, workerData } from "node:worker_threads";
import SqliteDatabase from "better-sqlite3";

const { file, pid, graceMillis } = workerData;
const db = new SqliteDatabase(file);
db.pragma("busy_timeout = 2000");

const running = db.prepare(
  "select id, cancel_requested_at as cancelRequestedAt from job where state = 'running' and worker_pid = ?",
);
const beat = db.prepare("update job set heartbeat_at = ? where id = ? and state = 'running'");

const timer = setInterval(() => {
  try {
    for (const job of running.all(pid)) {
      beat.run(Date.now(), job.id);
      if (job.cancelRequestedAt !== null && Date.now() - job.cancelRequestedAt > graceMillis) {
        console.error(`job ${job.id} did not stop within ${graceMillis / 1000} s; ending the worker process`);
        process.kill(pid, "SIGKILL");
      }
    }
  } catch (thrown) {
    // A locked database is no reason to die; the next beat comes in a second.
    console.error("heartbeat missed:", thrown instanceof Error ? thrown.message : thrown);
  }
}, 1000);

parentPort?.on("message", () => {
  clearInterval(timer);
  db.close();
  parentPort?.close();
});
