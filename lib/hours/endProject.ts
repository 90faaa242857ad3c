/** One end's tasks and one crew as a small project: who does what when, shortest make-span. Minutes, whole. */
import type { Random } from "@/lib/random";
import { matchPeople } from "./crew";
import { pertMeanMin } from "./pert";
import { type Project, type ProjectBudget, solveProject } from "./project";
import { assignPeople } from "./staffing";
import type { CrewComposition, EndTask, Skill } from "./types";
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

/**
 * Schedules the tasks of one end for one crew.
 *
 * First the project without names: people's skills become renewable resources (peopleResources), which is exact at
 * every single moment but lets people swap during a task, so its bound is a bound for the crew. Then names: when the
 * schedule can be staffed with nobody swapped and nobody aloft used on the ground, it is the answer; else schedules
 * with names are generated, and the shortest is taken with the gap reported.
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
  let best: StaffedSchedule | undefined;
  let bound = Number.POSITIVE_INFINITY;
  let nodes = 0;
  for (const size of partySizes(tasks, crew, climbersAloft)) {
    const project = projectOf(tasks, durationsMin, crew, size);
    const bare = solveProject(project, budget, random);
    nodes += bare.nodes;
    bound = Math.min(bound, bare.lowerBound);
    if (best && bare.lowerBound >= best.makespanMin) continue;
    const staffed = staff(tasks, durationsMin, crew, size, bare.starts, bare.lowerBound, budget, random);
    if (!best || staffed.makespanMin < best.makespanMin) best = staffed;
  }
  return { ...best!, lowerBoundMin: bound, proved: best!.makespanMin <= bound, nodes };
}

function staff(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  size: number,
  starts: readonly number[],
  bound: number,
  budget: ProjectBudget,
  random: Random,
): StaffedSchedule {
  const parties = partiesOf(crew, size);
  const late = climbLate(tasks, durationsMin, starts);
  for (const party of parties) {
    const people =
      assignPeople(tasks, durationsMin, late, crew, party) ??
      assignPeople(tasks, durationsMin, starts, crew, party);
    if (people) return schedule(people.startsMin, durationsMin, people.people, party);
  }
  let best: StaffedSchedule | undefined;
  for (let pass = 0; pass <= budget.passes; pass++) {
    const shake = pass === 0 ? 0 : 0.2 * random.next() * schedule(starts, durationsMin, [], []).makespanMin;
    const keys = late.map((s) => s + shake * random.next());
    for (const party of parties) {
      const walked = walkForward(tasks, durationsMin, crew, party, keys);
      const found = walked && schedule(walked.startsMin, durationsMin, walked.people, party);
      if (found && (!best || found.makespanMin < best.makespanMin)) best = found;
    }
    if (best && best.makespanMin <= bound) break;
  }
  if (!best) throw new RangeError(`no party of ${size} climbers leaves the people that the tasks ask for`);
  const shifted = climbLate(tasks, durationsMin, best.startsMin);
  const again = assignPeople(tasks, durationsMin, shifted, crew, best.party);
  return again ? schedule(again.startsMin, durationsMin, again.people, best.party) : best;
}

function schedule(
  startsMin: readonly number[],
  durationsMin: readonly number[],
  people: readonly (readonly number[])[],
  party: readonly number[],
): StaffedSchedule {
  const makespanMin = Math.max(0, ...startsMin.map((s, i) => s + durationsMin[i]!));
  return { startsMin, durationsMin, people, party, makespanMin };
}

/** Nobody waits aloft for the ground: each climb starts as late as its first work allows. */
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

/** How many may go up: two, or more where the crew has more climbers and someone is left for the ground. */
function partySizes(tasks: readonly EndTask[], crew: CrewComposition, climbersAloft: number): number[] {
  const climbers = crew.people.filter((p) => p.includes("climber")).length;
  if (!tasks.some((t) => t.wholeParty)) return [Math.min(climbers, climbersAloft)];
  const sizes: number[] = [];
  for (let size = climbersAloft; size <= Math.min(climbers, MOST_ALOFT); size++) {
    if (partiesOf(crew, size).some((party) => lifts(tasks).every((t) => canLift(t, crew, party)))) {
      sizes.push(size);
    }
  }
  return sizes;
}

/** More than this in one place on a structure get in each other's way (from memory). */
const MOST_ALOFT = 4;

const lifts = (tasks: readonly EndTask[]): EndTask[] => tasks.filter((t) => t.where === "aloft");

function canLift(task: EndTask, crew: CrewComposition, party: readonly number[]): boolean {
  const down = crew.people.flatMap((_, i) => (party.includes(i) ? [] : [i]));
  return matchPeople(wantsOnGround(task), down, crew.people) !== null;
}

/** The skills that a task asks for besides the climbers who are aloft. */
export function wantsOnGround(task: EndTask): Skill[] {
  return Object.entries(task.people).flatMap(([skill, n]) =>
    task.where === "aloft" && skill === "climber" ? [] : new Array<Skill>(n).fill(skill as Skill),
  );
}

/** Parties of a size that differ in skills; those who leave the most skills on the ground first. */
export function partiesOf(crew: CrewComposition, size: number): number[][] {
  const climbers = crew.people.flatMap((p, i) => (p.includes("climber") ? [i] : []));
  const seen = new Set<string>();
  const parties: number[][] = [];
  const choose = (from: number, chosen: number[]): void => {
    if (chosen.length === size) {
      const key = chosen
        .map((i) => [...crew.people[i]!].sort().join())
        .sort()
        .join("|");
      if (!seen.has(key)) parties.push(chosen);
      seen.add(key);
      return;
    }
    for (let k = from; k < climbers.length; k++) choose(k + 1, [...chosen, climbers[k]!]);
  };
  choose(0, []);
  const skillsUp = (party: number[]): number => party.reduce((sum, i) => sum + crew.people[i]!.length, 0);
  return parties.sort((a, b) => skillsUp(a) - skillsUp(b));
}

/**
 * The tasks as a plain project for a party of `size` climbers: resources are the people (peopleResources), the hands
 * aloft, and the drop zone, once for each task at the foot.
 */
export function projectOf(
  tasks: readonly EndTask[],
  durationsMin: readonly number[],
  crew: CrewComposition,
  size: number,
): Project {
  const index = new Map(tasks.map((t, i) => [t.id, i]));
  const successors: number[][] = tasks.map(() => []);
  for (const [i, t] of tasks.entries()) for (const id of t.after) successors[index.get(id)!]!.push(i);
  const capacities: number[] = [];
  const demands: number[][] = tasks.map(() => []);
  const add = (capacity: number, demandOf: (t: EndTask) => number): void => {
    capacities.push(capacity);
    for (const [i, t] of tasks.entries()) demands[i]!.push(demandOf(t));
  };
  for (const people of peopleResources(tasks, crew)) {
    add(people.size, (t) => (t.everybody ? people.size : demandWithin(t, people.skills, size)));
  }
  add(size, (t) => handsAloft(t, size));
  for (const foot of tasks) {
    if (foot.atFoot)
      add(size, (t) => (t === foot ? size : t.usesDropZone ? Math.max(1, handsAloft(t, size)) : 0));
  }
  return { durations: durationsMin, successors, demands, capacities };
}

const handsAloft = (t: EndTask, size: number): number =>
  t.where !== "aloft" ? 0 : t.wholeParty ? size : (t.people.climber ?? 0);

function demandWithin(t: EndTask, skills: ReadonlySet<Skill>, size: number): number {
  let sum = 0;
  for (const [skill, n] of Object.entries(t.people)) {
    if (!skills.has(skill as Skill)) continue;
    sum += skill === "climber" && t.wholeParty ? size : n;
  }
  return sum;
}

/**
 * Skills as renewable resources, by Hall's theorem: tasks can be staffed at one moment exactly when, for every set of
 * skills, they ask for no more people than hold one of them. Only sets with different holders matter.
 */
function peopleResources(
  tasks: readonly EndTask[],
  crew: CrewComposition,
): { size: number; skills: ReadonlySet<Skill> }[] {
  const used = [...new Set(tasks.flatMap((t) => Object.keys(t.people) as Skill[]))].sort();
  const holders = used.map((s) =>
    crew.people.reduce((bits, p, i) => (p.includes(s) ? bits | (1 << i) : bits), 0),
  );
  const everyone = 2 ** crew.people.length - 1;
  const unions = new Set<number>([everyone]);
  for (let set = 1; set < 1 << used.length; set++) {
    unions.add(holders.reduce((bits, h, s) => (set & (1 << s) ? bits | h : bits), 0));
  }
  return [...unions].map((people) => ({
    size: bitCount(people),
    skills: new Set(used.filter((_, s) => (holders[s]! & ~people) === 0)),
  }));
}

function bitCount(bits: number): number {
  let n = 0;
  for (let b = bits; b > 0; b >>>= 1) n += b & 1;
  return n;
}
