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
