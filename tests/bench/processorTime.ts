/** A time budget in processor seconds of this process, so that other work on the machine does not change a figure. */
export class ProcessorBudget {
  readonly #processor = processorSeconds();
  readonly #wall = performance.now();
  #spent = 0;

  constructor(readonly seconds: number) {}

  /** Reads the clock, which costs about as much as a step of a search. */
  readonly shouldStop = (): boolean => {
    this.#spent = processorSeconds() - this.#processor;
    return this.#spent > this.seconds;
  };

  /** Share used when `shouldStop` was last asked. */
  readonly share = (): number => this.#spent / this.seconds;

  spent(): { processorS: number; wallS: number } {
    return {
      processorS: processorSeconds() - this.#processor,
      wallS: (performance.now() - this.#wall) / 1000,
    };
  }
}

function processorSeconds(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}
