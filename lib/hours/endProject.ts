/** One end's tasks and one crew: who does what when, shortest make-span. Minutes, whole. */
import type { Random } from "@/lib/random";
import { lowerBound } from "./bounds";
import { type EndModel, endModel, peopleOf } from "./endModel";
import { type PreparedProject, prepareProject } from "./generation";
import { partiesOf } from "./parties";
import { projectFor } from "./peopleResources";
import { pertMeanMin } from "./pert";
import type { ProjectBudget } from "./project";
import { proveShortest } from "./proof";
import { Staffing } from "./staffing";
import type { CrewComposition, EndTask, HourNorms } from "./types";
import { ForwardWalker, type Walked } from "./walkForward";

export interface StaffedSchedule {
  startsMin: readonly number[];
  durationsMin: readonly number[];
  /** Indices into the crew's people, per task. */
  people: readonly (readonly number[])[];
  makespanMin: number;
  /** Minutes by which people are up longer than the longest spell, all ascents together; 0 = kept. */
  overSpellMin: number;
}

export interface EndSolution extends StaffedSchedule {
  lowerBoundMin: number;
  proved: boolean;
  /** Dead ends that the proof met. */
  nodes: number;
}

/** One choice of who goes up, with what is known about it. */
interface Attempt {
  party: readonly number[];
  partyBits: number;
  project: PreparedProject;
  walker: ForwardWalker;
  /** Tasks that the best schedule holds back. */
  notBefore: number[];
  bound: number;
  best: Kept;
}

/** A walked schedule, copied, with its minutes over the longest spell. */
interface Kept extends Walked {
  overSpellMin: number;
}

/** Choices of who goes up that get more than the priority rules. */
const MOST_IMPROVED = 3;

/**
 * Schedules the tasks of one end for one crew.
 *
 * For every group of climbers that may go up: schedules with names by walking forward in time under several priority
 * rules, and a lower bound. Then, for the best of them and where the bound is not reached, the proof search on the
 * project without names (projectFor); its schedule counts when it can be staffed. What the search cannot settle is
 * reported as the gap. A schedule that keeps the longest spell aloft is better than any that does not.
 *
 * @param crew must have the people that the tasks ask for (completeCrew)
 */
export function solveEnd(
  tasks: readonly EndTask[],
  crew: CrewComposition,
  norms: HourNorms,
  budget: ProjectBudget,
  random: Random,
): EndSolution {
  const durationsMin = tasks.map((t) => Math.round(pertMeanMin(t.duration)));
  const model = endModel(tasks, durationsMin, crew, norms.climb.longestSpellMin);
  const parties = partiesOf(tasks, crew, norms.climbersAloft);
  const attempts = parties.map((party) => firstAttempt(model, crew, party));
  const byBest = (a: Attempt, b: Attempt): number => compare(a.best, b.best) || a.bound - b.bound;
  attempts.sort(byBest);
  for (const a of attempts.slice(0, MOST_IMPROVED)) improve(a, model, budget.passes, random);
  attempts.sort(byBest);
  let best = named(attempts[0]!.best, model);
  let nodes = 0;
  for (const a of attempts) {
    const isSettled = best.overSpellMin === 0 && a.bound >= best.makespanMin;
    if (isSettled || nodes >= budget.nodes) continue;
    const left = { ...budget, nodes: budget.nodes - nodes };
    const proof = prove(a, model, best, left);
    nodes += proof.nodes;
    best = proof.best;
  }
  const lowerBoundMin = Math.min(best.makespanMin, ...attempts.map((a) => a.bound));
  const proved = best.makespanMin === lowerBoundMin && best.overSpellMin === 0;
  return { ...best, lowerBoundMin, proved, nodes };
}

/**
 * A first schedule by one priority rule with the first choice of who goes up: quick, to compare task lists by.
 *
 * @param crew must have the people that the tasks ask for (completeCrew)
 */
export function sketchEnd(
  tasks: readonly EndTask[],
  crew: CrewComposition,
  norms: HourNorms,
): Pick<EndSolution, "makespanMin" | "overSpellMin"> {
  const durationsMin = tasks.map((t) => Math.round(pertMeanMin(t.duration)));
  const model = endModel(tasks, durationsMin, crew, norms.climb.longestSpellMin);
  const party = partiesOf(tasks, crew, norms.climbersAloft)[0]!;
  const walker = new ForwardWalker(model, partyBitsOf(party, model), party.length);
  const wayToEndMin = tasks.map(() => 0);
  for (let i = tasks.length - 1; i >= 0; i--) {
    for (const j of model.followers[i]!) wayToEndMin[i] = Math.max(wayToEndMin[i]!, wayToEndMin[j]!);
    wayToEndMin[i]! += durationsMin[i]!;
  }
  return walkTwice(
    walker,
    model,
    inOrderOf((i) => -wayToEndMin[i]!, model),
  );
}

const partyBitsOf = (party: readonly number[], model: EndModel): number =>
  party.reduce((sum, p) => sum | model.bitOf[p]!, 0);

/** Kept spells first, then the shorter. */
function compare(
  a: Pick<StaffedSchedule, "makespanMin" | "overSpellMin">,
  b: Pick<StaffedSchedule, "makespanMin" | "overSpellMin">,
): number {
  return a.overSpellMin - b.overSpellMin || a.makespanMin - b.makespanMin;
}

function firstAttempt(model: EndModel, crew: CrewComposition, party: readonly number[]): Attempt {
  const { tasks, durationsMin, longestSpellMin } = model;
  const project = prepareProject(projectFor(tasks, durationsMin, crew, party, longestSpellMin));
  const partyBits = partyBitsOf(party, model);
  const walker = new ForwardWalker(model, partyBits, party.length);
  let best: Kept | undefined;
  for (const rule of endRules(project)) {
    const found = walkTwice(walker, model, inOrderOf(rule, model));
    if (!best || compare(found, best) < 0) best = found;
  }
  const notBefore = model.tasks.map(() => 0);
  return { party, partyBits, project, walker, notBefore, bound: lowerBound(project), best: best! };
}

/** Longest way to the end first, most followers first, and the working order. */
function endRules(p: PreparedProject): ((i: number) => number)[] {
  return [(i) => -p.tail[i]! - p.durations[i]!, (i) => -p.followers[i]!, (i) => i];
}

function inOrderOf(key: (i: number) => number, model: EndModel): number[] {
  const keys = model.tasks.map((_, i) => key(i));
  return keys.map((_, i) => i).sort((a, b) => keys[a]! - keys[b]! || a - b);
}

/**
 * Shakes the order of the best schedule so far, and holds one task back for a while: starting whatever can start is
 * not always best (a long job on the ground keeps the hands that a lift needs soon). Equal length is accepted, so
 * that it wanders.
 */
function improve(a: Attempt, model: EndModel, passes: number, random: Random): void {
  for (let pass = 0; pass < passes && (a.best.makespanMin > a.bound || a.best.overSpellMin > 0); pass++) {
    const from = a.best.startsMin;
    const shake = random.between(0.02, 0.2) * a.best.makespanMin;
    const order = inOrderOf((i) => from[i]! + shake * random.next(), model);
    const notBefore = a.notBefore.slice();
    const held = random.below(model.tasks.length);
    notBefore[held] = Math.round(from[held]! + random.between(-0.5, 1) * shake);
    const found = keep(a.walker.walk(order, notBefore), model);
    if (compare(found, a.best) > 0) continue;
    a.best = found;
    a.notBefore = notBefore;
  }
}

/** Walks forward, then once more with each climb held back until its first work can follow at once. */
function walkTwice(walker: ForwardWalker, model: EndModel, order: readonly number[]): Kept {
  const early = keep(walker.walk(order), model);
  const late = keep(walker.walk(order, climbLate(model, early.startsMin)), model);
  return compare(late, early) <= 0 ? late : early;
}

const keep = (w: Walked, model: EndModel): Kept => ({
  startsMin: w.startsMin.slice(),
  people: w.people.slice(),
  makespanMin: w.makespanMin,
  overSpellMin: overSpellMin(model, w.startsMin),
});

function overSpellMin(model: EndModel, startsMin: ArrayLike<number>): number {
  let over = 0;
  for (const { first, last } of model.spans) {
    const spellMin = startsMin[last]! + model.durationsMin[last]! - startsMin[first]!;
    over += Math.max(0, spellMin - model.longestSpellMin);
  }
  return over;
}

function named(w: Named, model: EndModel): StaffedSchedule {
  const startsMin = Array.from(w.startsMin);
  return {
    startsMin,
    durationsMin: model.durationsMin,
    people: Array.from(w.people, (bits) => peopleOf(bits, model)),
    makespanMin: Math.max(0, ...startsMin.map((s, i) => s + model.durationsMin[i]!)),
    overSpellMin: overSpellMin(model, startsMin),
  };
}

/** Starts and people by task, people as bits of the model. */
interface Named {
  startsMin: ArrayLike<number>;
  people: ArrayLike<number>;
}

/**
 * The proof search for one choice of who goes up. A schedule that cannot be staffed is refused, with the tasks that
 * are to blame. Raises the attempt's bound, unless the search for names gave up on the way.
 */
function prove(
  a: Attempt,
  model: EndModel,
  known: StaffedSchedule,
  budget: ProjectBudget,
): { best: StaffedSchedule; nodes: number } {
  const staffing = new Staffing(model, a.partyBits, a.party.length);
  let best = known;
  let isComplete = true;
  const refuse = (startsMin: readonly number[]): readonly number[] | null => {
    for (const starts of [climbLate(model, startsMin), startsMin]) {
      const outcome = staffing.find(starts);
      if (outcome === "found") {
        best = named({ startsMin: starts, people: staffing.people }, model);
        return null;
      }
    }
    const blame = staffing.blame();
    if (!blame) isComplete = false;
    return blame ?? exactly(startsMin);
  };
  // One after the other is a schedule too, and the longest worth looking at.
  const oneByOneMin = model.durationsMin.reduce((sum, d) => sum + d, 0);
  const { lowerBound, conflicts } = proveShortest(
    a.project,
    a.bound,
    best.overSpellMin === 0 ? best.makespanMin : oneByOneMin + 1,
    budget.nodes,
    budget.shouldStop,
    refuse,
  );
  if (isComplete) a.bound = lowerBound;
  return { best, nodes: conflicts };
}

/** Bounds that hold for these starts and no others. */
const exactly = (startsMin: readonly number[]): number[] =>
  startsMin.flatMap((s, i) => [2 * i, s, 2 * i + 1, -s]);

/** Starts with each climb as late as its first work allows: nobody waits aloft for the ground. */
function climbLate(model: EndModel, starts: ArrayLike<number>): number[] {
  return model.tasks.map((t, i) => {
    if (t.moves !== "climb") return starts[i]!;
    let needed = Number.POSITIVE_INFINITY;
    for (const j of model.followers[i]!) needed = Math.min(needed, starts[j]!);
    return Number.isFinite(needed) ? Math.max(starts[i]!, needed - model.durationsMin[i]!) : starts[i]!;
  });
}
