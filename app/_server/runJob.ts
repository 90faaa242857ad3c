/** One job from claim to end. */
import type { Db } from "@/db/open";
import { claimNextJob, endJob, isCancelRequested, type Job, reportJobProgress } from "@/db/queries/jobs";
import { machineNow } from "./clock";
import { HANDLERS, type Handler } from "./handlers";
import { isJobKind, JOB_KINDS, type JobKindName } from "./jobKinds";

/** How often `shouldStop` really looks, ms. Well under the 200 ms within which a cancel must take hold. */
const LOOK_EVERY_MILLIS = 50;
const REPORT_EVERY_MILLIS = 400;

/** Runs the oldest queued job to its end; undefined when the queue is empty. Never throws for the job's faults. */
export async function runNextJob(db: Db, pid = process.pid): Promise<Job["id"] | undefined> {
  const job = claimNextJob(db, pid, machineNow());
  if (!job) return undefined;
  try {
    const { result, stopped } = await work(db, job);
    endJob(db, job.id, { state: stopped ? "cancelled" : "done", result, now: machineNow() });
  } catch (thrown) {
    console.error(`job ${job.id} (${job.kind}) failed:`, thrown);
    const error = thrown instanceof Error ? thrown.message : String(thrown);
    endJob(db, job.id, { state: "failed", error, now: machineNow() });
  }
  return job.id;
}

async function work(db: Db, job: Job): Promise<{ result: unknown; stopped: boolean }> {
  if (!isJobKind(job.kind)) throw new Error(`there is no job of kind "${job.kind}"`);
  const input = JOB_KINDS[job.kind].input.parse(job.input);
  const handler = HANDLERS[job.kind] as Handler<JobKindName>;

  let stopped = false;
  let lookAt = 0;
  const shouldStop = () => {
    const now = performance.now();
    if (stopped || now < lookAt) return stopped;
    lookAt = now + LOOK_EVERY_MILLIS;
    stopped = isCancelRequested(db, job.id);
    return stopped;
  };

  let reportAt = 0;
  let waiting: { progress: unknown } | undefined;
  const report = (progress: unknown) => {
    const now = performance.now();
    waiting = { progress };
    if (now < reportAt) return;
    reportAt = now + REPORT_EVERY_MILLIS;
    reportJobProgress(db, job.id, progress);
    waiting = undefined;
  };

  const result = await handler(input as never, { db, report, shouldStop });
  if (waiting) reportJobProgress(db, job.id, waiting.progress);
  // Stopped: the handler was told and gave what it had. Asked too late for it to notice: it is simply done.
  return { result: result ?? null, stopped };
}
