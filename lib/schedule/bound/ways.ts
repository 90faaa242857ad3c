/** The least that it takes and costs to go from a depot to a place and back, whoever goes. */
import type { Model } from "../model";

export interface Ways {
  /** Minutes, and what they and the kilometres cost, per place. */
  awayMin: Float64Array;
  cost: Float64Array;
}

/** One search from all depots at once: there are as many depots as regions, and millions of ways. */
export function depotWays(m: Model): Ways {
  const w = m.problem.weights;
  const isSameBack = isSymmetric(m.placeCount, m.travelMin) && isSymmetric(m.placeCount, m.travelKm);
  return {
    awayMin: thereAndBack(m, 0, 1, isSameBack),
    cost: thereAndBack(m, w.travelKm, w.travelMin, isSameBack),
  };
}

function isSymmetric(n: number, way: Float32Array | Uint16Array): boolean {
  for (let a = 0; a < n; a++) for (let b = 0; b < a; b++) if (way[a * n + b] !== way[b * n + a]) return false;
  return true;
}

/** Cheapest way from any depot to every place and back to any, over other places, at prices for a km and a minute. */
function thereAndBack(m: Model, perKm: number, perMin: number, isSameBack: boolean): Float64Array {
  const there = cheapest(m, perKm, perMin, m.placeCount, 1);
  const back = isSameBack ? there : cheapest(m, perKm, perMin, 1, m.placeCount);
  return there.map((far, p) => far + back[p]!);
}

/** Cheapest ways from the depots (E. W. Dijkstra's method, 1959); that from u to p stands at `u * row + p * column`. */
function cheapest(
  { placeCount: n, travelKm, travelMin, depot }: Model,
  perKm: number,
  perMin: number,
  row: number,
  column: number,
): Float64Array {
  const far = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  const open = Int32Array.from({ length: n }, (_, p) => p);
  for (const place of depot) far[place] = 0;
  for (let left = n; left > 0; ) {
    let nearest = 0;
    for (let i = 1; i < left; i++) if (far[open[i]!]! < far[open[nearest]!]!) nearest = i;
    const u = open[nearest]!;
    open[nearest] = open[--left]!;
    const reached = far[u]!;
    for (let i = 0; i < left; i++) {
      const p = open[i]!;
      const at = u * row + p * column;
      const over = reached + perKm * travelKm[at]! + perMin * travelMin[at]!;
      if (over < far[p]!) far[p] = over;
    }
  }
  return far;
}
