/** What happened in a run, and who is told. */
export class Statistics {
  iterations = 0;
  best = Number.POSITIVE_INFINITY;
  current = Number.POSITIVE_INFINITY;
  /** Iteration at which the best was found. */
  bestAt = 0;

  constructor(
    readonly report: (statistics: Statistics) => void = () => {},
    readonly reportEvery = 100,
  ) {}

  step(iteration: number, best: number, current: number): void {
    if (best < this.best) this.bestAt = iteration;
    this.iterations = iteration;
    this.best = best;
    this.current = current;
    if (iteration % this.reportEvery === 0) this.report(this);
  }
}
