/** One of several searches, in a thread of its own: see seedThreads.ts. */
import { type MessagePort, parentPort, workerData } from "node:worker_threads";
import { schedule } from "@/lib/schedule";
import { CLOCK, type SeedWork } from "./seedClock";

const port = workerData as MessagePort;

port.on("message", ({ problem, seed, maxIterations, startFrom, isTimed, clock, index }: SeedWork) => {
  const share = new Float64Array(clock, CLOCK.shareAt, 1);
  const stopped = new Int32Array(clock, CLOCK.stopAt, 1);
  const ended = new Int32Array(clock, CLOCK.endedAt);
  try {
    port.postMessage(
      schedule(problem, {
        seed,
        maxIterations,
        startFrom,
        shouldStop: () => Atomics.load(stopped, 0) === 1,
        timeShare: isTimed ? () => share[0]! : undefined,
      }),
    );
  } catch (thrown) {
    // A seed that falls over costs one of several plans, not the job.
    console.error("a search from another seed ended:", thrown);
    port.postMessage(undefined);
  } finally {
    Atomics.store(ended, index, 1);
    Atomics.notify(ended, index);
  }
});

parentPort!.postMessage("loaded");
