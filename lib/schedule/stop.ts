/** When to stop: asked before every iteration. */
export type Stop = (iteration: number, best: number) => boolean;

export const afterIterations =
  (most: number): Stop =>
  (iteration) =>
    iteration >= most;

/** Asks the caller (time limit, cancel) every few iterations: a clock is not free. */
export const whenTold =
  (shouldStop: () => boolean, every = 4): Stop =>
  (iteration) =>
    iteration % every === 0 && shouldStop();

/** Nothing left to gain: the best has met a lower bound. */
export const atBound =
  (bound: number): Stop =>
  (_iteration, best) =>
    best <= bound + 1e-6;

export const anyOf =
  (...stops: readonly Stop[]): Stop =>
  (iteration, best) =>
    stops.some((stop) => stop(iteration, best));
