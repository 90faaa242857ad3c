import { wantsOnGround } from "./endProject";
import type { CrewComposition, EndTask, Skill } from "./types";

/** Steps of the search for names before it gives up: staffing is easy or it is impossible. */
const MOST_STEPS = 4000;

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
): { startsMin: readonly number[]; people: number[][] } | null {
  const spans = aloftSpans(tasks, durationsMin, startsMin);
  const order = tasks.map((_, i) => i).sort((a, b) => startsMin[a]! - startsMin[b]! || a - b);
  const freeFrom = new Array<number>(crew.people.length).fill(0);
  const people: number[][] = tasks.map(() => []);
  const isUp = (start: number, end: number): boolean => spans.some((s) => start < s.end && end > s.start);
  let steps = 0;

  const place = (k: number): boolean => {
    if (k === order.length) return true;
    if (++steps > MOST_STEPS) return false;
    const i = order[k]!;
    const task = tasks[i]!;
    const start = startsMin[i]!;
    const end = start + durationsMin[i]!;
    const mayUse = (p: number): boolean =>
      freeFrom[p]! <= start && (task.where === "aloft" || !party.includes(p) || !isUp(start, end));
    const commit = (chosen: number[]): boolean => {
      if (new Set(chosen).size < chosen.length || !chosen.every(mayUse)) return false;
      const before = chosen.map((p) => freeFrom[p]!);
      for (const p of chosen) freeFrom[p] = Math.max(freeFrom[p]!, end);
      people[i] = chosen;
      if (place(k + 1)) return true;
      for (const [n, p] of chosen.entries()) freeFrom[p] = before[n]!;
      return false;
    };
    if (task.everybody) return commit(crew.people.map((_, p) => p));
    const fixed = task.wholeParty ? [...party] : [];
    const wants: Wanted[] = task.wholeParty
      ? wantsOnGround({ ...task, people: { ...task.people, climber: 0 } }).map((s) => onGround(s))
      : [
          ...aloftHands(task).map(() => ({ from: party, skill: "climber" as Skill })),
          ...wantsOnGround(task).map((s) => onGround(s)),
        ];
    return choose(wants, fixed, mayUse, commit);
  };

  const onGround = (skill: Skill): Wanted => ({ from: everyone, skill });
  const everyone = crew.people.map((_, p) => p);
  const choose = (
    wants: readonly Wanted[],
    chosen: number[],
    mayUse: (p: number) => boolean,
    commit: (chosen: number[]) => boolean,
  ): boolean => {
    const want = wants[0];
    if (!want) return commit(chosen);
    const able = want.from.filter(
      (p) => !chosen.includes(p) && crew.people[p]!.includes(want.skill) && mayUse(p),
    );
    able.sort((a, b) => crew.people[a]!.length - crew.people[b]!.length || a - b);
    return able.some((p) => choose(wants.slice(1), [...chosen, p], mayUse, commit));
  };

  return place(0) ? { startsMin, people } : null;
}

interface Wanted {
  from: readonly number[];
  skill: Skill;
}

const aloftHands = (task: EndTask): number[] =>
  task.where === "aloft" ? new Array<number>(task.people.climber ?? 0).fill(0) : [];

/** From the start of each climb to the end of the descent of the same ascent. */
function aloftSpans(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  startsMin: readonly number[],
): { start: number; end: number }[] {
  return tasks.flatMap((t, i) => {
    if (t.moves !== "climb") return [];
    const d = tasks.findIndex((u) => u.moves === "descent" && u.ascent === t.ascent);
    return d < 0 ? [] : [{ start: startsMin[i]!, end: startsMin[d]! + durationsMin[d]! }];
  });
}
