/** How much work an improvement may do, counted so that it is the same on every machine. */

/** Candidate moves between two questions whether to stop. */
const ASK_EVERY = 20_000;

/** Counts candidate moves, so that the same allowance gives the same plan on every machine. */
export class Effort {
  left: number;
  readonly #shouldStop: () => boolean;
  readonly #parent: Effort | undefined;
  #sinceAsked = 0;

  constructor(allowance: number, shouldStop: () => boolean = () => false, parent?: Effort) {
    this.left = allowance;
    this.#shouldStop = shouldStop;
    this.#parent = parent;
  }

  /** A part of this effort for one attempt; what it spends is spent here too. */
  slice(allowance: number): Effort {
    return new Effort(Math.min(allowance, this.left), undefined, this);
  }

  spend(candidates: number): void {
    this.left -= candidates;
    if (this.#parent) {
      this.#parent.spend(candidates);
      if (this.#parent.left <= 0) this.left = 0;
      return;
    }
    this.#sinceAsked += candidates;
    if (this.#sinceAsked < ASK_EVERY) return;
    this.#sinceAsked = 0;
    if (this.#shouldStop()) this.left = 0;
  }
}
