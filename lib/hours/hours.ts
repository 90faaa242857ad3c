import { Random } from "@/lib/random";
import { composeAlignment, longerWay } from "./alignment";
import { pauseMin } from "./climb";
import { climbTo, composeParts } from "./compose";
import { criticalPath } from "./cpm";
import { completeCrew, crewNeeds } from "./crew";
import { type EndSolution, type StaffedSchedule, sketchEnd, solveEnd } from "./endProject";
import { orderOfWork } from "./orderOfWork";
import { visitParts } from "./parts";
import { ascentSpans } from "./peopleResources";
import { pertMeanMin } from "./pert";
import type { ProjectBudget } from "./project";
import { simulateRange } from "./range";
import { segmentsOf } from "./segments";
import type { CrewComposition, EndEstimate, EndTask, EndWork, HopWork, HourNorms, Skill } from "./types";

export interface EstimateOptions {
  /** Effort on the schedule of one end. */
  budget?: ProjectBudget;
  /** Draws for the range. */
  samples?: number;
}

/** Priority rules and a little shaking only, no proof. */
export const QUICK_BUDGET: ProjectBudget = { nodes: 0, passes: 4 };
/** For whole programmes: some milliseconds an end, about half of the ends proved. */
export const DEFAULT_BUDGET: ProjectBudget = { nodes: 60, passes: 8 };
/** For one end that someone looks at: nearly always proved. */
export const THOROUGH_BUDGET: ProjectBudget = { nodes: 5000, passes: 40 };

/**
 * Hours of one end's install visit with one crew: from design data to a duration range.
 *
 * Composes the tasks, schedules them for the crew's people under the site rules, and draws the range. A crew that
 * lacks people gets the figures of one that has them, and `shortfall` says what is missing.
 *
 * @param random stream for sampling; default: a stream of the work itself, so that equal works get equal figures
 * @returns minutes; no weather, no shift ends, no travel
 *
 * Method: docs/methods/hours.md.
 */
export function estimateHours(
  work: EndWork,
  norms: HourNorms,
  crew: CrewComposition,
  random: Random = new Random(workKey(work)),
  options: EstimateOptions = {},
): EndEstimate {
  const { tasks, plan } = planWithinSpell(work, norms, crew, random, options.budget ?? DEFAULT_BUDGET);
  const pauseCost = pauseMin(work.drivers.maxMountHeightM, work.structure, norms.climb);
  return { endId: work.endId, ...estimateOf(tasks, plan, norms, crew, pauseCost, random, options) };
}

/** Shares of the longest spell that are tried as the work planned into one ascent. */
const ROOM_SHARES = [1, 0.95, 0.9, 0.85, 0.8, 0.75, 0.7, 0.65, 0.6];

/**
 * The end's tasks with ascents that this crew can keep within the longest spell aloft, and their schedule.
 *
 * Waiting for the ground makes a spell longer than the work in it, so ascents with less work are sketched too. In the
 * order of the sketches, the first schedule that keeps the limit is taken, else the one nearest to it.
 */
function planWithinSpell(
  work: EndWork,
  norms: HourNorms,
  crew: CrewComposition,
  random: Random,
  budget: ProjectBudget,
): { tasks: readonly EndTask[]; plan: EndSolution } {
  const parts = composeParts(work, norms);
  const tries: { tasks: readonly EndTask[]; whole: CrewComposition; scoreMin: number }[] = [];
  let fewestKept = Number.POSITIVE_INFINITY;
  for (const share of ROOM_SHARES) {
    const tasks = climbTo(parts, work, norms, share);
    if (tries.some((t) => isSameWork(t.tasks, tasks))) continue;
    if (ascentCount(tasks) > fewestKept) break; // a further ascent costs more than it saves
    const whole = tries[0]?.whole ?? completeCrew(crew, tasks, norms).crew;
    const { makespanMin, overSpellMin } = sketchEnd(tasks, whole, norms);
    tries.push({ tasks, whole, scoreMin: makespanMin + OVER_SPELL_WEIGHT * overSpellMin });
    if (overSpellMin === 0) fewestKept = Math.min(fewestKept, ascentCount(tasks));
  }
  tries.sort((a, b) => a.scoreMin - b.scoreMin);
  let best: { tasks: readonly EndTask[]; plan: EndSolution } | undefined;
  for (const { tasks, whole } of tries) {
    const plan = solveEnd(tasks, whole, norms, budget, random.fork("schedule"));
    if (!best || plan.overSpellMin < best.plan.overSpellMin) best = { tasks, plan };
    if (plan.overSpellMin === 0) break;
  }
  return best!;
}

/** A sketch's minutes over the spell count so much: most can be scheduled away. */
const OVER_SPELL_WEIGHT = 1;

const ascentCount = (tasks: readonly EndTask[]): number => tasks.filter((t) => t.moves === "climb").length;

const isSameWork = (a: readonly EndTask[], b: readonly EndTask[]): boolean =>
  a.length === b.length &&
  a.every(
    (t, i) => t.id === b[i]!.id && t.ascent === b[i]!.ascent && t.duration.mMin === b[i]!.duration.mMin,
  );

/** Longest time from leaving the ground to being back, minutes. */
function longestSpellMin(tasks: readonly EndTask[], plan: StaffedSchedule): number {
  const spells = ascentSpans(tasks).map(
    ({ first, last }) => plan.startsMin[last]! + plan.durationsMin[last]! - plan.startsMin[first]!,
  );
  return Math.max(0, ...spells);
}

/**
 * Hours of a hop's alignment visit, for one of its two crews (both are taken to be alike); `endId` is the hop's id.
 *
 * @returns minutes; no weather, no shift ends, no travel
 */
export function estimateAlignment(
  work: HopWork,
  norms: HourNorms,
  crew: CrewComposition,
  random: Random = new Random(JSON.stringify({ ...work, hopId: "" })),
  options: EstimateOptions = {},
): EndEstimate {
  const tasks = composeAlignment(work, norms);
  const way = longerWay(work, norms);
  const pauseCost = pauseMin(way.heightM, way.structure, norms.climb);
  const whole = completeCrew(crew, tasks, norms).crew;
  const budget = options.budget ?? DEFAULT_BUDGET;
  const plan = solveEnd(tasks, whole, norms, budget, random.fork("schedule"));
  const estimate = estimateOf(tasks, plan, norms, crew, pauseCost, random, options);
  const parts = visitParts(estimate, norms.alignment.longestVisitMin);
  return { endId: work.hopId, ...estimate, ...(parts.length > 1 ? { parts } : {}) };
}

/** The figures of a schedule: range, sequence, segments, idle time, needs. */
function estimateOf(
  tasks: readonly EndTask[],
  plan: EndSolution,
  norms: HourNorms,
  crew: CrewComposition,
  pauseCostMin: number,
  random: Random,
  options: EstimateOptions,
): Omit<EndEstimate, "endId"> {
  const { crew: whole, shortfall } = completeCrew(crew, tasks, norms);
  const more = solveEnd(
    tasks,
    { people: [...whole.people, oneMoreClimber(whole)] },
    norms,
    { ...(options.budget ?? DEFAULT_BUDGET), nodes: 0 },
    random.fork("one more"),
  );
  const after = orderOfWork(tasks, plan);
  const range = simulateRange(
    tasks.map((t) => t.duration),
    after,
    random.fork("range"),
    options.samples,
  );
  const { critical } = criticalPath(plan.durationsMin, after);
  const order = tasks.map((_, i) => i).sort((a, b) => plan.startsMin[a]! - plan.startsMin[b]! || a - b);
  const workMin = plan.people.reduce((sum, people, i) => sum + people.length * plan.durationsMin[i]!, 0);
  return {
    durationMin: plan.makespanMin,
    p10Min: range.p10Min,
    p50Min: range.p50Min,
    p80Min: range.p80Min,
    p90Min: range.p90Min,
    sequence: order.map((i) => ({
      taskId: tasks[i]!.id,
      startMin: plan.startsMin[i]!,
      endMin: plan.startsMin[i]! + plan.durationsMin[i]!,
      people: plan.people[i]!,
      critical: critical[i]!,
    })),
    tasks,
    segments: segmentsOf(tasks, plan.startsMin, plan.durationsMin, pauseCostMin),
    lowerBoundMin: plan.lowerBoundMin,
    proved: plan.proved,
    idleMin: whole.people.length * plan.makespanMin - workMin,
    withOneMoreClimberMin: Math.min(plan.makespanMin, more.makespanMin),
    personHours: workMin / 60,
    setupMin: setupMinOf(tasks, plan),
    needs: crewNeeds(tasks, norms),
    shortfall,
    ascents: ascentCount(tasks),
    longestSpellMin: longestSpellMin(tasks, plan),
    normsVersion: norms.version,
  };
}

/** Equal works have equal keys, so that each is solved once for a crew composition; the end's id plays no part. */
export function workKey(work: EndWork): string {
  const drivers = Object.entries(work.drivers).sort(([a], [b]) => (a < b ? -1 : 1));
  return JSON.stringify([
    work.scheme,
    work.structure,
    work.mounting,
    work.largestDiameterM,
    work.heaviestLiftKg,
    [...work.extraTasks].sort(),
    drivers.map(([, value]) => value),
    ...(work.onlyParts ? [work.onlyParts] : []),
  ]);
}

/** PERT mean of all tasks added up, minutes: the work content, whoever does it. */
export function totalWorkMin(tasks: readonly EndTask[]): number {
  return tasks.reduce((sum, t) => sum + pertMeanMin(t.duration), 0);
}

/** A further climber like those the crew has. */
function oneMoreClimber(crew: CrewComposition): readonly Skill[] {
  return crew.people.find((p) => p.includes("climber")) ?? ["climber"];
}

/** When the last set-up task ends. */
function setupMinOf(tasks: readonly EndTask[], plan: StaffedSchedule): number {
  return Math.max(0, ...tasks.map((t, i) => (t.isSetup ? plan.startsMin[i]! + plan.durationsMin[i]! : 0)));
}
