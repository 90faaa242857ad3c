/** Filling one drum as tightly as it goes. */

/** Subset of `candidates` (largest first) with the largest sum not above `free`, by bounded depth-first search. */
export function tightest(
  sizes: readonly number[],
  candidates: readonly number[],
  free: number,
  mostNodes: number,
): { chosen: number[]; nodes: number } {
  const length = candidates.map((run) => sizes[run]!);
  const count = candidates.length;
  const suffix = new Float64Array(count + 1);
  /** First later candidate that is shorter: an equal length need not be tried twice in one place. */
  const shorter = new Int32Array(count);
  for (let i = count - 1; i >= 0; i--) {
    suffix[i] = suffix[i + 1]! + length[i]!;
    shorter[i] = i + 1 < count && length[i + 1] === length[i] ? shorter[i + 1]! : i + 1;
  }
  const firstThatFits = (from: number, room: number): number => {
    let lo = from;
    let hi = count;
    while (lo < hi) {
      const mid = (lo + hi) >> 1;
      if (length[mid]! > room) lo = mid + 1;
      else hi = mid;
    }
    return lo;
  };
  let best: number[] = [];
  let bestFree = free;
  let nodes = 0;
  const chosen: number[] = [];
  const search = (from: number, room: number) => {
    if (room < bestFree) {
      bestFree = room;
      best = [...chosen];
    }
    for (let i = firstThatFits(from, room); i < count; i = shorter[i]!) {
      if (bestFree === 0 || nodes > mostNodes || room - suffix[i]! >= bestFree) return;
      nodes++;
      chosen.push(candidates[i]!);
      search(i + 1, room - length[i]!);
      chosen.pop();
    }
  };
  search(0, free);
  return { chosen: best, nodes };
}
