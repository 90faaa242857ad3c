import type { PreparedProject } from "./generation";

/**
 * Lower bound on the make-span: the longest path, and for each resource the energy of the tasks that cannot start
 * before some head nor end after some tail: head + ceil(energy / capacity) + tail over every pair of thresholds.
 * Durations in whole units.
 */
export function lowerBound(p: PreparedProject): number {
  let bound = 0;
  for (let i = 0; i < p.count; i++) bound = Math.max(bound, p.head[i]! + p.durations[i]! + p.tail[i]!);
  for (let r = 0; r < p.capacities.length; r++) bound = Math.max(bound, energyBound(p, r));
  return bound;
}

function energyBound(p: PreparedProject, r: number): number {
  const users: number[] = [];
  for (let i = 0; i < p.count; i++) if (p.demands[i]![r]! > 0 && p.durations[i]! > 0) users.push(i);
  users.sort((a, b) => p.tail[b]! - p.tail[a]!);
  const heads = new Set(users.map((i) => p.head[i]!));
  const capacity = p.capacities[r]!;
  let bound = 0;
  for (const head of heads) {
    let energy = 0;
    for (const i of users) {
      if (p.head[i]! < head) continue;
      energy += p.durations[i]! * p.demands[i]![r]!;
      bound = Math.max(bound, head + Math.ceil(energy / capacity) + p.tail[i]!);
    }
  }
  return bound;
}
