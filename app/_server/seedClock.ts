/** What the threads of one search read from the one that has the clock. */
import type { ScheduleOptions, ScheduleProblem } from "@/lib/schedule";

export interface SeedWork {
  problem: ScheduleProblem;
  seed: string;
  maxIterations: number;
  startFrom: ScheduleOptions["startFrom"];
  /** Ends by the shared clock; otherwise by `maxIterations`. */
  isTimed: boolean;
  clock: SharedArrayBuffer;
  /** Its place among the threads. */
  index: number;
}

/** Bytes: the share of time used, the stop, then one sign a thread that it has ended. */
export const CLOCK = { shareAt: 0, stopAt: 8, endedAt: 12, mostThreads: 16 } as const;

export interface SharedClock {
  buffer: SharedArrayBuffer;
  /** Hands the share on to the threads and gives it back. */
  tell: (share: number) => number;
  stop: () => void;
}

export function sharedClock(): SharedClock {
  const buffer = new SharedArrayBuffer(CLOCK.endedAt + 4 * CLOCK.mostThreads);
  const share = new Float64Array(buffer, CLOCK.shareAt, 1);
  const stopped = new Int32Array(buffer, CLOCK.stopAt, 1);
  return {
    buffer,
    tell: (value) => {
      share[0] = value;
      return value;
    },
    stop: () => void Atomics.store(stopped, 0, 1),
  };
}
