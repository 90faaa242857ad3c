/**
 * Effects of several levels at once: Henderson's mixed model equations. The first level is fixed, the others are random
 * with the weight of their prior; their solution is the best linear unbiased prediction, which here is the posterior
 * mean. Solved exactly, by Cholesky: going round from level to level would creep where levels overlap.
 */

/** One level as the equations see it: the group of each value, how many groups, and the prior's weight. */
export interface EquationLevel {
  groupOf: readonly number[];
  groupCount: number;
  /** 0 = a fixed effect. */
  k: number;
}

/** Keeps the equations solvable where fixed effects cannot be told from random ones. */
const LEAST_WEIGHT = 1e-9;

/** @returns the effects of each level, by group */
export function effectsTogether(levels: readonly EquationLevel[], values: readonly number[]): number[][] {
  const offsets: number[] = [];
  let size = 0;
  for (const level of levels) {
    offsets.push(size);
    size += level.groupCount;
  }
  const a = new Float64Array(size * size);
  const b = new Float64Array(size);
  values.forEach((value, i) => {
    const at = levels.map((level, l) => offsets[l]! + level.groupOf[i]!);
    for (const row of at) {
      b[row]! += value;
      for (const column of at) a[row * size + column]! += 1;
    }
  });
  levels.forEach((level, l) => {
    for (let g = 0; g < level.groupCount; g++) {
      const at = offsets[l]! + g;
      a[at * size + at]! += Math.max(LEAST_WEIGHT, level.k);
    }
  });
  solveInPlace(a, b, size);
  return levels.map((level, l) => [...b.subarray(offsets[l]!, offsets[l]! + level.groupCount)]);
}

/** Cholesky: `a` becomes its lower factor, `b` the solution. `a` must be symmetric and positive definite. */
function solveInPlace(a: Float64Array, b: Float64Array, size: number): void {
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * size + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * size + k]! * a[j * size + k]!;
      a[i * size + j] = i === j ? Math.sqrt(sum) : sum / a[j * size + j]!;
    }
  }
  for (let i = 0; i < size; i++) {
    for (let k = 0; k < i; k++) b[i]! -= a[i * size + k]! * b[k]!;
    b[i]! /= a[i * size + i]!;
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let k = i + 1; k < size; k++) b[i]! -= a[k * size + i]! * b[k]!;
    b[i]! /= a[i * size + i]!;
  }
}
