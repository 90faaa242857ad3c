import { handsOfParty, wantsOnGround } from "./parties";
import { ascentSpans } from "./peopleResources";
import { indexById, worksAloft } from "./taskOrder";
import type { CrewComposition, EndTask } from "./types";

/**
 * One end's tasks and one crew in numbers, for the walks that run thousands of times: people are bits, the person
 * with the fewest skills first, so that the lowest free bit is the one to take.
 */
export interface EndModel {
  tasks: readonly EndTask[];
  durationsMin: readonly number[];
  followers: readonly (readonly number[])[];
  waitsFor: readonly number[];
  /** Per task: for each person wanted besides the party, who may be it. */
  wants: readonly (readonly number[])[];
  isAloft: readonly boolean[];
  /** Bit of each person of the crew. */
  bitOf: readonly number[];
  everyone: number;
  /** Ascents, as the climb and the descent. */
  spans: readonly { first: number; last: number }[];
  longestSpellMin: number;
}

/** @throws RangeError above 30 people: they are bits of one number */
export function endModel(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  longestSpellMin: number,
): EndModel {
  const count = crew.people.length;
  if (count > 30) throw new RangeError(`a crew has at most 30 people, got ${count}`);
  const byFewestSkills = crew.people
    .map((_, p) => p)
    .sort((a, b) => crew.people[a]!.length - crew.people[b]!.length || a - b);
  const bitOf = crew.people.map(() => 0);
  for (const [rank, p] of byFewestSkills.entries()) bitOf[p] = 1 << rank;
  const index = indexById(tasks);
  const followers: number[][] = tasks.map(() => []);
  for (const [i, t] of tasks.entries()) for (const id of t.after) followers[index.get(id)!]!.push(i);
  return {
    tasks,
    durationsMin,
    followers,
    waitsFor: tasks.map((t) => t.after.length),
    wants: tasks.map((t) =>
      wantsOnGround(t).map((skill) =>
        crew.people.reduce((bits, skills, p) => (skills.includes(skill) ? bits | bitOf[p]! : bits), 0),
      ),
    ),
    isAloft: tasks.map(worksAloft),
    bitOf,
    everyone: 2 ** count - 1,
    spans: ascentSpans(tasks),
    longestSpellMin,
  };
}

/** Hands of a party of that size that each task takes. */
export function handsPerTask(model: EndModel, partySize: number): number[] {
  return model.tasks.map((t) => handsOfParty(t, partySize));
}

/** People of the crew whose bits are set. */
export function peopleOf(bits: number, model: EndModel): number[] {
  return model.bitOf.flatMap((bit, p) => (bits & bit ? [p] : []));
}

/**
 * Distinct people for the wants out of `free`, as bits; -1 = there are none. Wants are few, so plain backtracking.
 */
export function pickPeople(wants: readonly number[], free: number, k = 0): number {
  if (k === wants.length) return 0;
  let able = wants[k]! & free;
  while (able !== 0) {
    const bit = able & -able;
    const rest = pickPeople(wants, free & ~bit, k + 1);
    if (rest >= 0) return bit | rest;
    able &= ~bit;
  }
  return -1;
}
