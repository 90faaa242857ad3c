/** Job "worker-check": see jobKinds.ts. */
import type { JobTools } from "./handlers";
import type { JobInput } from "./jobKinds";

export interface WorkerCheck {
  step: number;
  steps: number;
}

export function checkWorker(input: JobInput<"worker-check">, { report, shouldStop }: JobTools): WorkerCheck {
  const { steps, stepMillis, failAt } = input;
  let step = 0;
  while (step < steps && !shouldStop()) {
    // Busy rather than waiting: a solve does not yield either, and that is what is checked here.
    const until = performance.now() + stepMillis;
    while (performance.now() < until && !shouldStop());
    step++;
    if (step === failAt) throw new Error(`stopped at step ${step}, as asked`);
    report({ step, steps } satisfies WorkerCheck);
  }
  return { step, steps };
}
