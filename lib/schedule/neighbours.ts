/** For every place the places nearest to it by travel time both ways, nearest first, itself included. */
import type { Model } from "./model";

/** Lists are made when first asked for: a cancelled run must not wait for all of them. */
export function nearestPlaces(m: Model, most: number): (place: number) => Int32Array {
  const n = m.placeCount;
  const withVisits = Array.from({ length: n }, (_, p) => p).filter(
    (p) => m.atPlaceFrom[p + 1]! > m.atPlaceFrom[p]!,
  );
  // Key and place in one number: the sort of a typed array without a comparator is many times faster.
  const packed = new Float64Array(withVisits.length);
  const lists: (Int32Array | undefined)[] = new Array(n).fill(undefined);
  return (p) => {
    let list = lists[p];
    if (list === undefined) {
      withVisits.forEach((q, i) => {
        packed[i] = (q === p ? 0 : 1 + m.travelMin[p * n + q]! + m.travelMin[q * n + p]!) * n + q;
      });
      packed.sort();
      list = Int32Array.from(packed.subarray(0, most), (x) => x % n);
      lists[p] = list;
    }
    return list;
  };
}

/** Crews of one depot are equally near to a place: each place has an order of its own, so that none is left out. */
const mixed = (place: number, crew: number) => (((place + 1) * 7919) ^ ((crew + 1) * 104_729)) % 9973;

/** For every place the crews, at most `most`, those whose depot is nearest by travel time both ways first. Made when first asked for. */
export function nearestCrews(m: Model, most: number): (place: number) => Int32Array {
  const n = m.placeCount;
  const lists: (Int32Array | undefined)[] = new Array(n).fill(undefined);
  return (p) => {
    let list = lists[p];
    if (list === undefined) {
      const far = (c: number) => m.travelMin[p * n + m.depot[c]!]! + m.travelMin[m.depot[c]! * n + p]!;
      list = Int32Array.from({ length: m.crewCount }, (_, c) => c)
        .sort((a, b) => far(a) - far(b) || mixed(p, a) - mixed(p, b) || a - b)
        .slice(0, most);
      lists[p] = list;
    }
    return list;
  };
}

/** For every hop the hops whose two ends lie nearest to its own by travel time, nearest first, itself included. Made when first asked for. */
export function nearestHops(m: Model, most: number): (hop: number) => Int32Array {
  const n = m.placeCount;
  const ends = new Int32Array(2 * m.hopCount).fill(-1);
  for (let h = 0; h < m.hopCount; h++)
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) {
      const p = m.place[m.hopVisits[i]!]!;
      if (ends[2 * h]! < 0) ends[2 * h] = ends[2 * h + 1] = p;
      else if (p !== ends[2 * h]) ends[2 * h + 1] = p;
    }
  const withVisits = Array.from({ length: m.hopCount }, (_, h) => h).filter((h) => ends[2 * h]! >= 0);
  const packed = new Float64Array(withVisits.length);
  const lists: (Int32Array | undefined)[] = new Array(m.hopCount).fill(undefined);
  const apart = (p: number, q: number) => (p === q ? 0 : m.travelMin[p * n + q]! + m.travelMin[q * n + p]!);
  return (h) => {
    let list = lists[h];
    if (list === undefined) {
      const a = ends[2 * h]!;
      const b = ends[2 * h + 1]!;
      withVisits.forEach((g, i) => {
        const c = ends[2 * g]!;
        const d = ends[2 * g + 1]!;
        const far = g === h ? 0 : 1 + Math.min(apart(a, c) + apart(b, d), apart(a, d) + apart(b, c));
        packed[i] = far * m.hopCount + g;
      });
      packed.sort();
      list = Int32Array.from(packed.subarray(0, most), (x) => x % m.hopCount);
      lists[h] = list;
    }
    return list;
  };
}
