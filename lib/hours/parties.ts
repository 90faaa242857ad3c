import { matchPeople } from "./crew";
import { worksAloft } from "./taskOrder";
import type { CrewComposition, EndTask, Skill } from "./types";

/** More than this in one place on a structure get in each other's way (from memory). */
const MOST_ALOFT = 4;

/**
 * Who may go up: groups of climbers that leave the people on the ground that the work aloft asks for.
 *
 * A group counts once however its members are named, and not at all when one of its members could be swapped for a
 * climber on the ground who has fewer of the skills that are asked for there: the swap never lengthens the work.
 */
export function partiesOf(
  tasks: readonly EndTask[],
  crew: CrewComposition,
  climbersAloft: number,
): number[][] {
  const aloft = tasks.filter(worksAloft);
  if (aloft.length === 0) return [[]];
  const wanted = new Set(tasks.flatMap(wantsOnGround));
  const skillsDown = crew.people.map((p) => p.filter((s) => wanted.has(s)));
  const climbers = crew.people.flatMap((p, i) => (p.includes("climber") ? [i] : []));
  const wants = new Map(aloft.map((t) => [wantsOnGround(t).join(), wantsOnGround(t)]));
  const parties: number[][] = [];
  for (let size = climbersAloft; size <= Math.min(climbers.length, MOST_ALOFT); size++) {
    for (const party of groupsOf(climbers, size, skillsDown)) {
      const down = crew.people.flatMap((_, i) => (party.includes(i) ? [] : [i]));
      if ([...wants.values()].every((w) => matchPeople(w, down, crew.people))) parties.push(party);
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

function groupsOf(
  climbers: readonly number[],
  size: number,
  skillsDown: readonly (readonly Skill[])[],
): number[][] {
  const seen = new Set<string>();
  const groups: number[][] = [];
  const choose = (from: number, chosen: readonly number[]): void => {
    if (chosen.length < size) {
      for (let k = from; k < climbers.length; k++) choose(k + 1, [...chosen, climbers[k]!]);
      return;
    }
    const skills = chosen.map((i) => [...skillsDown[i]!].sort().join("+"));
    const key = skills.sort().join("|");
    const down = climbers.filter((i) => !chosen.includes(i));
    if (
      !seen.has(key) &&
      !chosen.some((up) => down.some((d) => isSkillSubset(skillsDown[d]!, skillsDown[up]!)))
    ) {
      groups.push([...chosen]);
    }
    seen.add(key);
  };
  choose(0, []);
  return groups;
}

const isSkillSubset = (few: readonly Skill[], many: readonly Skill[]): boolean =>
  few.length < many.length && few.every((s) => many.includes(s));
