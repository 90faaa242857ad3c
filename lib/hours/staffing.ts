import { worksAloft } from "./crew";
import { handsOfParty, wantsOnGround } from "./parties";
import { ascentSpans } from "./peopleResources";
import type { CrewComposition, EndTask, Skill } from "./types";

/** Steps of the search for names before it gives up: staffing is easy or it is impossible. */
const MOST_STEPS = 2000;

/**
 * Names for a schedule: each task keeps its people from start to end, the party does the work aloft and does nothing
 * on the ground between a climb and the descent that follows.
 *
 * @returns people by task, or null when there are none (or the search gave up)
 */
export function assignPeople(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  startsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
): number[][] | null {
  const everyone = crew.people.map((_, p) => p);
  const endMin = (i: number): number => startsMin[i]! + durationsMin[i]!;
  const spans = ascentSpans(tasks).map((s) => ({ from: startsMin[s.first]!, to: endMin(s.last) }));
  const order = tasks.map((_, i) => i).sort((a, b) => startsMin[a]! - startsMin[b]! || a - b);
  const freeFrom = everyone.map(() => 0);
  const people: number[][] = tasks.map(() => []);
  let steps = 0;

  const place = (k: number): boolean => {
    const i = order[k];
    if (i === undefined) return true;
    if (++steps > MOST_STEPS) return false;
    const task = tasks[i]!;
    const isPartyAway = worksAloft(task) || spans.some((s) => startsMin[i]! < s.to && endMin(i) > s.from);
    const free = everyone.filter((p) => freeFrom[p]! <= startsMin[i]!);
    const down = free.filter((p) => !(isPartyAway && party.includes(p)));
    const up = free.filter((p) => party.includes(p));
    const commit = (chosen: readonly number[]): boolean => {
      const before = chosen.map((p) => freeFrom[p]!);
      for (const p of chosen) freeFrom[p] = endMin(i);
      people[i] = [...chosen];
      if (place(k + 1)) return true;
      for (const [n, p] of chosen.entries()) freeFrom[p] = before[n]!;
      return false;
    };
    if (task.everybody) return free.length === everyone.length && commit(everyone);
    const hands = handsOfParty(task, party.length);
    if (up.length < hands) return false;
    const wants = wantsOnGround(task);
    return choices(up, hands).some((handsUp) => fill(wants, handsUp, down, crew, commit));
  };
  return place(0) ? people : null;
}

/** Tries the people for each wanted skill in turn, those with the fewest skills first. */
function fill(
  wants: readonly Skill[],
  chosen: readonly number[],
  free: readonly number[],
  crew: CrewComposition,
  commit: (chosen: readonly number[]) => boolean,
): boolean {
  const want = wants[0];
  if (!want) return commit(chosen);
  const able = free.filter((p) => !chosen.includes(p) && crew.people[p]!.includes(want));
  able.sort((a, b) => crew.people[a]!.length - crew.people[b]!.length || a - b);
  return able.some((p) => fill(wants.slice(1), [...chosen, p], free, crew, commit));
}

/** All ways to take `n` of the list, in its order. */
function choices(list: readonly number[], n: number): number[][] {
  if (n === 0) return [[]];
  return list.flatMap((first, k) => choices(list.slice(k + 1), n - 1).map((rest) => [first, ...rest]));
}
