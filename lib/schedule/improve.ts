/**
 * Ruin and recreate: take a part of the plan out, put it back in differently, keep it or not.
 *
 * In the manner of slack induction by string removals (J. Christiaens, G. Vanden Berghe, "Slack Induction by String
 * Removals for Vehicle Routing Problems", Transportation Science 54, 2020), which showed that removing neighbouring
 * strings and inserting greedily with blinks needs no further move. The loop knows neither crews nor days: the crew
 * plan and the published vehicle routing cases (routing.ts) both run in it.
 */
import type { Acceptance } from "./accept";
import type { Statistics } from "./statistics";
import type { Stop } from "./stop";

/** Something that can be improved: it holds one current state, can go back to it, and remembers the best. */
export interface Search {
  /** Takes some work out. */
  ruin(): void;
  /** Puts it back in. */
  recreate(): void;
  /** The weighted sum as it stands. */
  total(): number;
  /** `total` of the current state by the prices of now. Left out = as it was when it was accepted. */
  standing?(): number;
  /** The same as an answer: Infinity where a limit is exceeded that `total` only prices. Left out = `total`. */
  worth?(): number;
  /** The state as it stands becomes the current one. */
  accept(): void;
  /** Back to the current one. */
  undo(): void;
  keepAsBest(): void;
  returnToBest(): void;
}

/**
 * Runs until `stop` says so and leaves `search` at the best state found, never worse than the one it began with.
 * Nothing in a step depends on how many will follow, so a longer run passes through all that a shorter one found.
 */
export function improve(search: Search, acceptance: Acceptance, stop: Stop, statistics: Statistics): void {
  let current = search.total();
  let best = search.worth?.() ?? current;
  search.accept();
  search.keepAsBest();
  for (let iteration = 0; !stop(iteration, best); iteration++) {
    search.ruin();
    search.recreate();
    const total = search.total();
    if (search.standing) current = search.standing();
    if (acceptance(total, current, best, iteration)) {
      search.accept();
      current = total;
      const worth = search.worth?.() ?? total;
      if (worth < best - 1e-6) {
        best = worth;
        search.keepAsBest();
      }
    } else search.undo();
    statistics.step(iteration + 1, best, current);
  }
  search.returnToBest();
}
