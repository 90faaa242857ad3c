/** For every place the places nearest to it by travel time both ways, nearest first, itself included. */
import type { Model } from "./model";

export function nearestPlaces(m: Model, most: number): Int32Array[] {
  const n = m.placeCount;
  const has = new Uint8Array(n);
  for (let v = 0; v < m.visitCount; v++) has[m.place[v]!] = 1;
  const withVisits = Array.from({ length: n }, (_, p) => p).filter((p) => has[p] === 1);
  return Array.from({ length: n }, (_, p) => {
    if (has[p] === 0) return new Int32Array(0);
    const key = (q: number) => m.travelMin[p * n + q]! + m.travelMin[q * n + p]!;
    const list = withVisits.map((q) => ({ q, key: q === p ? -1 : key(q) }));
    list.sort((a, b) => a.key - b.key || a.q - b.q);
    return Int32Array.from(list.slice(0, most), (x) => x.q);
  });
}
