/**
 * Shrinkage of group means toward nothing (docs/methods/calibration.md, "Shrinkage").
 *
 * Model: a value of group g is its group's effect plus noise of variance s2; effects are normal around 0 with variance
 * t2. The posterior mean of an effect with n values of mean m is `n / (n + k) * m` with `k = s2 / t2`, its posterior
 * variance `s2 / (n + k)`: the normal-normal posterior, k the weight of the prior in values.
 */

/** Posterior mean of an effect whose prior is 0 with the weight of `k` values. */
export function shrunkMean(mean: number, n: number, k: number): number {
  if (!(n >= 0)) throw new RangeError(`n must be >= 0, got ${n}`);
  if (!(k >= 0)) throw new RangeError(`k must be >= 0, got ${k}`);
  return n === 0 ? 0 : (mean * n) / (n + k);
}

/** Variances within and between groups. */
export interface Variances {
  within: number;
  between: number;
}

/** Groups and values beyond the groups below which variances are not told from the data. */
const LEAST_GROUPS = 3;
const LEAST_FREEDOM = 6;

/**
 * Variances within and between groups by moments (one-way random effects, unequal group sizes); undefined when there
 * are too few groups or values. The variance between is 0 where the group means differ no more than noise would.
 */
export function variancesOf(groups: readonly (readonly number[])[]): Variances | undefined {
  const filled = groups.filter((g) => g.length > 0);
  const total = filled.reduce((sum, g) => sum + g.length, 0);
  const freedom = total - filled.length;
  if (filled.length < LEAST_GROUPS || freedom < LEAST_FREEDOM) return undefined;
  const means = filled.map(meanOf);
  const within =
    filled.reduce((sum, g, i) => sum + g.reduce((s, x) => s + (x - means[i]!) ** 2, 0), 0) / freedom;
  const grand = filled.reduce((sum, g, i) => sum + g.length * means[i]!, 0) / total;
  const betweenSquare =
    filled.reduce((sum, g, i) => sum + g.length * (means[i]! - grand) ** 2, 0) / (filled.length - 1);
  const size = (total - filled.reduce((sum, g) => sum + g.length ** 2, 0) / total) / (filled.length - 1);
  return { within, between: Math.max(0, (betweenSquare - within) / size) };
}

/** Where groups do not differ, a prior of this weight leaves next to nothing of any group's own mean. */
const HEAVIEST_PRIOR = 1000;

/** Weight of the prior, and whether the data told it. */
export interface PriorWeight {
  k: number;
  isFromData: boolean;
}

/** `k = within / between` where the groups tell it, else `defaultK`. */
export function priorWeight(groups: readonly (readonly number[])[], defaultK: number): PriorWeight {
  const v = variancesOf(groups);
  if (!v) return { k: defaultK, isFromData: false };
  const k = v.between > 0 ? v.within / v.between : HEAVIEST_PRIOR;
  return { k: Math.min(HEAVIEST_PRIOR, k), isFromData: true };
}

export function meanOf(values: readonly number[]): number {
  return values.length === 0 ? 0 : values.reduce((sum, x) => sum + x, 0) / values.length;
}
