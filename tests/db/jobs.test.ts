import { describe, expect, test } from "vitest";
import { runNextJob } from "@/app/_server/runJob";
import { memoryDatabase } from "@/db/migrate";
import {
  activeJobOfKind,
  cancelJob,
  claimNextJob,
  endJob,
  endLostJobs,
  enqueueJob,
  forgetJobs,
  HEARTBEAT_STALE_MILLIS,
  jobById,
  jobsOfKind,
  reportJobProgress,
  restartJob,
  WORKER_LOST,
} from "@/db/queries/jobs";
import type { InstantMillis } from "@/lib/time";

const at = (millis: number) => millis as InstantMillis;
const check = (input: object, now = 0) => ({
  kind: "worker-check",
  input: { steps: 3, stepMillis: 0, ...input },
  createdBy: "user-1",
  now: at(now),
});

describe("the queue", () => {
  test("gives the oldest job first, each once", () => {
    const db = memoryDatabase();
    const second = enqueueJob(db, check({}, 2));
    const first = enqueueJob(db, check({}, 1));
    expect(claimNextJob(db, 41, at(5))?.id).toBe(first);
    expect(claimNextJob(db, 42, at(6))?.id).toBe(second);
    expect(claimNextJob(db, 43, at(7))).toBeUndefined();
    expect(jobById(db, first)).toMatchObject({
      state: "running",
      workerPid: 41,
      startedAt: 5,
      heartbeatAt: 5,
    });
  });

  test("lists a kind newest first and knows the one under way", () => {
    const db = memoryDatabase();
    const old = enqueueJob(db, check({}, 1));
    const young = enqueueJob(db, check({}, 2));
    expect(jobsOfKind(db, "worker-check").map((job) => job.id)).toEqual([young, old]);
    expect(activeJobOfKind(db, "worker-check")?.id).toBe(young);
    cancelJob(db, young, at(3));
    cancelJob(db, old, at(3));
    expect(activeJobOfKind(db, "worker-check")).toBeUndefined();
  });

  test("cancels a queued job at once and tells a running one", () => {
    const db = memoryDatabase();
    const id = enqueueJob(db, check({}));
    claimNextJob(db, 1, at(1));
    const queued = enqueueJob(db, check({}));
    expect(cancelJob(db, queued, at(2))).toBe(true);
    expect(jobById(db, queued)).toMatchObject({ state: "cancelled", endedAt: 2 });
    expect(cancelJob(db, id, at(3))).toBe(true);
    expect(cancelJob(db, id, at(9))).toBe(true);
    expect(jobById(db, id)).toMatchObject({ state: "running", cancelRequested: true, cancelRequestedAt: 3 });
    endJob(db, id, { state: "cancelled", result: { step: 1 }, now: at(10) });
    expect(cancelJob(db, id, at(11))).toBe(false);
  });

  test("raises the revision with every write, and only then", () => {
    const db = memoryDatabase();
    const id = enqueueJob(db, check({}));
    const revision = () => jobById(db, id)?.revision;
    expect(revision()).toBe(0);
    claimNextJob(db, 1, at(1));
    expect(revision()).toBe(1);
    reportJobProgress(db, id, { step: 1 });
    expect(revision()).toBe(2);
    endJob(db, id, { state: "done", now: at(2) });
    expect(revision()).toBe(3);
    reportJobProgress(db, id, { step: 2 });
    expect(endJob(db, id, { state: "failed", now: at(3) })).toBe(false);
    expect(revision()).toBe(3);
  });
});

describe("a worker that is gone", () => {
  test("fails its job once the heartbeat is stale, not before", () => {
    const db = memoryDatabase();
    const id = enqueueJob(db, check({}));
    claimNextJob(db, 1, at(1000));
    expect(endLostJobs(db, at(1000 + HEARTBEAT_STALE_MILLIS))).toBe(0);
    expect(endLostJobs(db, at(1001 + HEARTBEAT_STALE_MILLIS))).toBe(1);
    expect(jobById(db, id)).toMatchObject({ state: "failed", error: WORKER_LOST });
  });

  test("leaves a job that was asked to stop as cancelled", () => {
    const db = memoryDatabase();
    const id = enqueueJob(db, check({}));
    claimNextJob(db, 1, at(1));
    cancelJob(db, id, at(2));
    endLostJobs(db, at(3), "all");
    expect(jobById(db, id)).toMatchObject({ state: "cancelled", error: null });
  });

  test("leaves a job that can be started again with the same input", () => {
    const db = memoryDatabase();
    const id = enqueueJob(db, check({ steps: 7 }));
    expect(restartJob(db, id, "user-2", at(1))).toBeUndefined();
    claimNextJob(db, 1, at(1));
    endLostJobs(db, at(2), "all");
    const again = restartJob(db, id, "user-2", at(3)) ?? "";
    expect(jobById(db, again)).toMatchObject({ state: "queued", createdBy: "user-2", input: { steps: 7 } });
  });
});

describe("running a job", () => {
  test("keeps result and last progress", async () => {
    const db = memoryDatabase();
    const id = enqueueJob(db, check({ steps: 5 }));
    expect(await runNextJob(db)).toBe(id);
    expect(jobById(db, id)).toMatchObject({
      state: "done",
      result: { step: 5, steps: 5 },
      progress: { step: 5, steps: 5 },
    });
    expect(await runNextJob(db)).toBeUndefined();
  });

  test("says why it failed, and goes on with the next", async () => {
    const db = memoryDatabase();
    const failing = enqueueJob(db, check({ failAt: 2 }, 1));
    const unknown = enqueueJob(db, { kind: "no-such-kind", input: {}, createdBy: null, now: at(2) });
    const wrong = enqueueJob(db, check({ steps: -1 }, 3));
    const fine = enqueueJob(db, check({}, 4));
    while (await runNextJob(db));
    expect(jobById(db, failing)).toMatchObject({ state: "failed", error: "stopped at step 2, as asked" });
    expect(jobById(db, unknown)).toMatchObject({
      state: "failed",
      error: 'there is no job of kind "no-such-kind"',
    });
    expect(jobById(db, wrong)?.state).toBe("failed");
    expect(jobById(db, fine)?.state).toBe("done");
  });

  test("old ended jobs are forgotten, others stay", () => {
    const db = memoryDatabase();
    const ended = enqueueJob(db, check({}, 1));
    claimNextJob(db, 1, at(1));
    endJob(db, ended, { state: "done", now: at(10) });
    const waiting = enqueueJob(db, check({}, 2));
    expect(forgetJobs(db, at(10))).toBe(0);
    expect(forgetJobs(db, at(11))).toBe(1);
    expect(jobById(db, waiting)?.state).toBe("queued");
  });
});
