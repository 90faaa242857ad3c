/**
 * The search for a plan from several seeds at once, each on a core of its own: searches that chance sends different ways
 * end with plans of different cost, and the best is kept. Runs in the worker process, never beside the web server.
 */
import { once } from "node:events";
import { availableParallelism, freemem } from "node:os";
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from "node:worker_threads";
import type { Problem, Result } from "@/lib/result";
import { type Plan, type ScheduleOptions, type ScheduleProblem, schedule } from "@/lib/schedule";
import { CLOCK, type SeedWork, sharedClock } from "./seedClock";

/** What a search of thousands of visits holds. */
const BYTES_A_SEARCH = 1.5e9;
const MOST_SEEDS = 4;
/** A thread that has not ended so long after this one is left out. */
const LATE_MILLIS = 60_000;

/** As many as there are cores besides the web server's, and memory for. */
export function seedsAtOnce(): number {
  const cores = availableParallelism() - 1;
  return Math.max(1, Math.min(MOST_SEEDS, cores, Math.floor(freemem() / BYTES_A_SEARCH)));
}

export type Scheduler = typeof schedule;

/**
 * Runs `run` with a stand-in for `schedule` that searches from the given seed here, with its progress, and from others in
 * threads, which read the share of time and the stop from this one. Of equal plans the first seed's is taken, so that
 * with a number of iterations and no clock the same seeds give the same plan. The threads are waited for before: once
 * this one searches, it loads nothing for anybody.
 */
export async function withSeedThreads<T>(seeds: number, run: (scheduler: Scheduler) => T): Promise<T> {
  const threads = await Promise.all(Array.from({ length: seeds - 1 }, startThread));
  try {
    return run((problem, options) => scheduleFromSeeds(threads, problem, options));
  } finally {
    for (const { worker, port } of threads) {
      port.close();
      void worker.terminate();
    }
  }
}

interface Thread {
  worker: Worker;
  port: MessagePort;
}

async function startThread(): Promise<Thread> {
  const { port1, port2 } = new MessageChannel();
  const worker = new Worker(new URL("./seedThreadStart.mjs", import.meta.url), {
    workerData: port2,
    transferList: [port2],
  });
  await once(worker, "message"); // it has loaded
  worker.unref();
  port1.unref();
  return { worker, port: port1 };
}

function scheduleFromSeeds(
  threads: readonly Thread[],
  problem: ScheduleProblem,
  options: ScheduleOptions,
): Result<Plan, Problem> {
  const clock = sharedClock();
  for (const [index, { port }] of threads.entries()) {
    const work: SeedWork = {
      problem,
      seed: `${options.seed}, seed ${index + 2}`,
      maxIterations: options.maxIterations,
      startFrom: options.startFrom,
      isTimed: options.timeShare !== undefined,
      clock: clock.buffer,
      index,
    };
    port.postMessage(work);
  }
  const own = schedule(problem, {
    ...options,
    shouldStop: () => {
      const isOver = options.shouldStop?.() ?? false;
      if (isOver) clock.stop();
      return isOver;
    },
    timeShare: options.timeShare && (() => clock.tell(options.timeShare!())),
  });
  if (!own.ok) clock.stop();
  const ended = new Int32Array(clock.buffer, CLOCK.endedAt);
  return threads.reduce<Result<Plan, Problem>>((best, { port }, index) => {
    Atomics.wait(ended, index, 0, LATE_MILLIS);
    const said = receiveMessageOnPort(port) as { message: Result<Plan, Problem> | undefined } | undefined;
    const plan = said?.message;
    return plan?.ok && best.ok && plan.value.cost.total < best.value.cost.total ? plan : best;
  }, own);
}
