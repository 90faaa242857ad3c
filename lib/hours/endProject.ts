/** One end's tasks and one crew: who does what when, shortest make-span. Minutes, whole. */
import type { Random } from "@/lib/random";
import { lowerBound } from "./bounds";
import { type PreparedProject, prepareProject } from "./generation";
import { partiesOf } from "./parties";
import { projectFor } from "./peopleResources";
import { pertMeanMin } from "./pert";
import type { ProjectBudget } from "./project";
import { proveShortest } from "./proof";
import { assignPeople } from "./staffing";
import type { CrewComposition, EndTask } from "./types";
import { walkForward } from "./walkForward";

export interface StaffedSchedule {
  startsMin: readonly number[];
  durationsMin: readonly number[];
  /** Indices into the crew's people, per task. */
  people: readonly (readonly number[])[];
  /** Who goes up. */
  party: readonly number[];
  makespanMin: number;
}

export interface EndSolution extends StaffedSchedule {
  lowerBoundMin: number;
  proved: boolean;
  nodes: number;
}

/** One choice of who goes up, with what is known about it. */
interface Attempt {
  party: readonly number[];
  project: PreparedProject;
  bound: number;
  best: StaffedSchedule;
}

/**
 * Schedules the tasks of one end for one crew.
 *
 * For every group of climbers that may go up: schedules with names by walking forward in time under several priority
 * rules, and a lower bound. Then, where the bound is not reached, the proof search on the project without names
 * (projectFor); its schedule counts when it can be staffed. What the search cannot settle is reported as the gap.
 *
 * @param crew must have the people that the tasks ask for (completeCrew)
 */
export function solveEnd(
  tasks: readonly EndTask[],
  crew: CrewComposition,
  climbersAloft: number,
  budget: ProjectBudget,
  random: Random,
): EndSolution {
  const durationsMin = tasks.map((t) => Math.round(pertMeanMin(t.duration)));
  const attempts = partiesOf(tasks, crew, climbersAloft).map((party) =>
    attempt(tasks, durationsMin, crew, party, budget, random),
  );
  attempts.sort((a, b) => a.best.makespanMin - b.best.makespanMin || a.bound - b.bound);
  let best = attempts[0]!.best;
  let nodes = 0;
  for (const a of attempts) {
    const left = budget.nodes - nodes;
    if (a.bound >= best.makespanMin || left <= 0) continue;
    const proof = proveShortest(a.project, a.bound, best.makespanMin, left, budget.shouldStop);
    nodes += proof.conflicts;
    a.bound = proof.lowerBound;
    if (!proof.starts) continue;
    const staffed = staff(tasks, durationsMin, crew, a.party, proof.starts);
    if (staffed && staffed.makespanMin < best.makespanMin) best = staffed;
  }
  const lowerBoundMin = Math.min(best.makespanMin, ...attempts.map((a) => a.bound));
  return { ...best, lowerBoundMin, proved: best.makespanMin === lowerBoundMin, nodes };
}

function attempt(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
  budget: ProjectBudget,
  random: Random,
): Attempt {
  const project = prepareProject(projectFor(tasks, durationsMin, crew, party));
  const bound = lowerBound(project);
  let best: StaffedSchedule | undefined;
  const rules = endRules(project);
  for (let pass = 0; pass < rules.length + budget.passes; pass++) {
    if (best?.makespanMin === bound) break;
    const rule = rules[pass];
    const shake = 0.15 * (best?.makespanMin ?? 0);
    const from = best?.startsMin ?? [];
    const keys = rule ? tasks.map((_, i) => rule(i)) : from.map((s) => s + shake * random.next());
    const found = walk(tasks, durationsMin, crew, party, keys);
    if (!best || found.makespanMin <= best.makespanMin) best = found;
  }
  return { party, project, bound, best: best! };
}

/** Longest way to the end first, most followers first, and the working order. */
function endRules(p: PreparedProject): ((i: number) => number)[] {
  return [(i) => -p.tail[i]! - p.durations[i]!, (i) => -p.followers[i]!, (i) => i];
}

/** Walks forward, then once more with each climb held back until its first work can follow at once. */
function walk(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
  keys: readonly number[],
): StaffedSchedule {
  const early = named(tasks, durationsMin, crew, party, keys, undefined);
  const lateStarts = climbLate(tasks, durationsMin, early.startsMin);
  if (lateStarts.every((s, i) => s === early.startsMin[i])) return early;
  const late = named(tasks, durationsMin, crew, party, keys, lateStarts);
  return late.makespanMin <= early.makespanMin ? late : early;
}

function named(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
  keys: readonly number[],
  climbNotBefore: readonly number[] | undefined,
): StaffedSchedule {
  const found = walkForward(tasks, durationsMin, crew, party, keys, climbNotBefore);
  return scheduleOf(found.startsMin, durationsMin, found.people, party);
}

/** Names for a schedule without them, climbs late if that can be staffed; undefined when it cannot. */
function staff(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  party: readonly number[],
  startsMin: readonly number[],
): StaffedSchedule | undefined {
  for (const starts of [climbLate(tasks, durationsMin, startsMin), startsMin]) {
    const people = assignPeople(tasks, durationsMin, starts, crew, party);
    if (people) return scheduleOf(starts, durationsMin, people, party);
  }
  return named(tasks, durationsMin, crew, party, startsMin, startsMin);
}

function scheduleOf(
  startsMin: readonly number[],
  durationsMin: readonly number[],
  people: readonly (readonly number[])[],
  party: readonly number[],
): StaffedSchedule {
  const makespanMin = Math.max(0, ...startsMin.map((s, i) => s + durationsMin[i]!));
  return { startsMin, durationsMin, people, party, makespanMin };
}

/** Nobody waits aloft for the ground: each climb as late as its first work allows. */
function climbLate(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  starts: readonly number[],
): number[] {
  return tasks.map((t, i) => {
    if (t.moves !== "climb") return starts[i]!;
    const needed = tasks.flatMap((u, j) => (u.after.includes(t.id) ? [starts[j]!] : []));
    return needed.length > 0 ? Math.max(starts[i]!, Math.min(...needed) - durationsMin[i]!) : starts[i]!;
  });
}
