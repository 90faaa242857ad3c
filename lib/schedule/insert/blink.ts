/**
 * Blinks (Christiaens and Vanden Berghe 2020): now and then a place is not looked at, so that insertion does not
 * always do the obvious. The gap to the next blink is drawn at once, which costs one draw per blink instead of one
 * per place.
 */
import type { Random } from "@/lib/random";

export class Blink {
  #left: number;

  constructor(
    readonly random: Random,
    /** Share of places skipped, 0 <= rate < 1. */
    readonly rate: number,
  ) {
    this.#left = this.#gap();
  }

  now(): boolean {
    if (--this.#left >= 0) return false;
    this.#left = this.#gap();
    return true;
  }

  #gap(): number {
    if (this.rate <= 0) return Number.MAX_SAFE_INTEGER;
    return Math.floor(Math.log(1 - this.random.next()) / Math.log(1 - this.rate));
  }
}
