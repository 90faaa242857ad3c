import { matchPeople, worksAloft } from "./crew";
import type { CrewComposition, EndTask, Skill } from "./types";

/** More than this in one place on a structure get in each other's way (from memory). */
const MOST_ALOFT = 4;

/**
 * Who may go up: groups of climbers that leave the people on the ground that the work aloft asks for. Groups with
 * the same skills count once; those who leave the most skills on the ground come first.
 */
export function partiesOf(
  tasks: readonly EndTask[],
  crew: CrewComposition,
  climbersAloft: number,
): number[][] {
  const climbers = crew.people.flatMap((p, i) => (p.includes("climber") ? [i] : []));
  const aloft = tasks.filter(worksAloft);
  if (aloft.length === 0) return [[]];
  const parties: number[][] = [];
  for (let size = climbersAloft; size <= Math.min(climbers.length, MOST_ALOFT); size++) {
    for (const party of groupsOf(climbers, size, crew)) {
      const down = crew.people.flatMap((_, i) => (party.includes(i) ? [] : [i]));
      if (aloft.every((t) => matchPeople(wantsOnGround(t), down, crew.people))) parties.push(party);
    }
  }
  return parties;
}

/** The skills that a task asks for besides the climbers who are aloft. */
export function wantsOnGround(task: EndTask): Skill[] {
  const isAloft = worksAloft(task);
  return Object.entries(task.people).flatMap(([skill, n]) =>
    skill === "climber" && (isAloft || task.wholeParty) ? [] : new Array<Skill>(n).fill(skill as Skill),
  );
}

/** Hands of the party that a task takes. */
export function handsOfParty(task: EndTask, partySize: number): number {
  if (task.wholeParty) return partySize;
  return worksAloft(task) ? (task.people.climber ?? 0) : 0;
}

function groupsOf(climbers: readonly number[], size: number, crew: CrewComposition): number[][] {
  const seen = new Set<string>();
  const groups: number[][] = [];
  const choose = (from: number, chosen: readonly number[]): void => {
    if (chosen.length === size) {
      const skills = chosen.map((i) => [...crew.people[i]!].sort().join("+"));
      const key = skills.sort().join("|");
      if (!seen.has(key)) groups.push([...chosen]);
      seen.add(key);
      return;
    }
    for (let k = from; k < climbers.length; k++) choose(k + 1, [...chosen, climbers[k]!]);
  };
  choose(0, []);
  const skillsUp = (party: readonly number[]): number =>
    party.reduce((sum, i) => sum + crew.people[i]!.length, 0);
  return groups.sort((a, b) => skillsUp(a) - skillsUp(b));
}
