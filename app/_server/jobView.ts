/** What a watcher of a job is told, and who may watch. */
import type { Db } from "@/db/open";
import { endLostJobs, HEARTBEAT_STALE_MILLIS, type Job, jobById } from "@/db/queries/jobs";
import type { Problem, Result } from "@/lib/result";
import { ok, refused } from "@/lib/result";
import { refusalOf, type Visitor } from "./carryOut";
import { machineNow } from "./clock";
import { isJobKind, JOB_KINDS } from "./jobKinds";

export interface JobView {
  id: string;
  kind: string;
  label: string;
  state: Job["state"];
  progress: unknown;
  result: unknown;
  /** Why it failed, as a sentence. */
  error: string | null;
  /** Asked to stop, not stopped yet. */
  stopping: boolean;
  createdAt: number;
  startedAt: number | null;
  endedAt: number | null;
}

const noSuchJob: Problem = {
  path: "id",
  rule: "no-such-job",
  message: "There is no such job; ended ones are forgotten after 30 days.",
  remedy: "Start it again.",
};

/** The job, when it exists and this visitor's role may see its kind. */
export function jobFor(db: Db, id: string, visitor: Visitor): Result<Job> {
  let job = jobById(db, id);
  if (!job || !isJobKind(job.kind)) return refused(noSuchJob);
  const refusal = refusalOf(visitor, JOB_KINDS[job.kind].roles);
  if (refusal) return refused(refusal);
  // Whoever looks finds a dead worker out, even when no worker is left to say so.
  if (job.state === "running" && (job.heartbeatAt ?? 0) < machineNow() - HEARTBEAT_STALE_MILLIS) {
    endLostJobs(db, machineNow());
    job = jobById(db, id) as Job;
  }
  return ok(job);
}

export function viewOf(job: Job): JobView {
  const { id, kind, state, progress, result, error, createdAt, startedAt, endedAt } = job;
  return {
    id,
    kind,
    label: isJobKind(kind) ? JOB_KINDS[kind].label : kind,
    state,
    progress,
    result,
    error,
    stopping: job.cancelRequested && state === "running",
    createdAt,
    startedAt,
    endedAt,
  };
}
