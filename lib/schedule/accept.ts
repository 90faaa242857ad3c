/** Whether a changed plan replaces the current one. */
import type { Random } from "@/lib/random";

export type Acceptance = (total: number, current: number, best: number, iteration: number) => boolean;

export interface Cooling {
  /** Temperatures in the units of the weighted sum: about the size of a worsening that is taken one time in three. */
  hot: number;
  cold: number;
}

/**
 * Simulated annealing (S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, "Optimization by Simulated Annealing", Science
 * 220, 1983). With `share` (0..1 of the budget used) it cools once along it. Without, it cools in rounds of
 * `firstRound` iterations, then twice as many, and so on: a stop at any time then comes soon after a cold end, and
 * the course of the search does not depend on the number of iterations allowed.
 */
export function annealing(
  random: Random,
  cooling: Cooling,
  firstRound: number,
  share?: () => number,
): Acceptance {
  const ratio = cooling.cold / cooling.hot;
  let temperature = cooling.hot;
  return (total, current, _best, iteration) => {
    if (iteration % READ_EVERY === 0) {
      const t = share ? Math.min(1, Math.max(0, share())) : shareOfRound(iteration, firstRound);
      temperature = cooling.hot * ratio ** t;
    }
    return total < current - temperature * Math.log(1 - random.next());
  };
}

const READ_EVERY = 16;

/** How far the round that holds `iteration` has gone, 0..1; the rounds are n, 2n, 4n, ... long. */
function shareOfRound(iteration: number, n: number): number {
  const round = Math.floor(Math.log2(iteration / n + 1));
  const begins = n * (2 ** round - 1);
  return (iteration - begins) / (n * 2 ** round);
}
