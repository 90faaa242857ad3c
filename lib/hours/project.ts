import type { Random } from "@/lib/random";
import { lowerBound } from "./bounds";
import { type PreparedProject, prepareProject, priorityRules, ScheduleGenerator } from "./generation";
import { proveShortest } from "./proof";

/** Resource-constrained project: renewable resources, no task interrupted. Durations and demands whole numbers. */
export interface Project {
  durations: readonly number[];
  successors: readonly (readonly number[])[];
  /** `demands[task][resource]`. */
  demands: readonly (readonly number[])[];
  capacities: readonly number[];
}

/** Occupies resources from the start of one task to the end of another, whatever lies between. */
export interface ProjectSpan {
  first: number;
  last: number;
  demands: readonly number[];
  /** Most time from the start of the first to the end of the last; undefined = no limit. */
  longest?: number;
}

export interface ProjectBudget {
  /** Conflicts that the proof may meet before it gives up; 0 = heuristics only. */
  nodes: number;
  /** Improvement passes after the priority rules. */
  passes: number;
  /** Read now and then: time limit or cancel. The clock belongs to the caller. */
  shouldStop?: () => boolean;
}

export interface ProjectSolution {
  starts: readonly number[];
  makespan: number;
  lowerBound: number;
  /** makespan = lowerBound. */
  proved: boolean;
  nodes: number;
}

/**
 * Shortest schedule of a project under precedence and resource limits.
 *
 * Priority rules with forward-backward improvement first; where the lower bound is not reached, sampled improvement;
 * where it is still not reached, the proof search, which ends with a proved optimum or a raised bound.
 *
 * @throws RangeError on a cycle, a negative or fractional figure, or a demand above its capacity
 */
export function solveProject(project: Project, budget: ProjectBudget, random: Random): ProjectSolution {
  checkProject(project);
  const prepared = prepareProject(project);
  const generator = new ScheduleGenerator(prepared);
  const bound = lowerBound(prepared);
  let best = byPriorityRules(prepared, generator, bound);
  best = bySampling(generator, best, bound, budget, random);
  const makespan = generator.makespan(best);
  if (makespan === bound || budget.nodes === 0) {
    return { starts: best, makespan, lowerBound: bound, proved: makespan === bound, nodes: 0 };
  }
  const proof = proveShortest(prepared, bound, makespan, budget.nodes, budget.shouldStop);
  const starts = proof.starts ?? best;
  const found = generator.makespan(starts);
  return {
    starts,
    makespan: found,
    lowerBound: proof.lowerBound,
    proved: found === proof.lowerBound,
    nodes: proof.conflicts,
  };
}

function byPriorityRules(p: PreparedProject, generator: ScheduleGenerator, bound: number): number[] {
  let best: number[] | undefined;
  for (const rule of priorityRules(p)) {
    const starts = generator.justify(generator.forward(generator.listBy(rule)));
    if (!best || generator.makespan(starts) < generator.makespan(best)) best = starts;
    if (generator.makespan(best) === bound) break;
  }
  return best!;
}

/** Shakes the order of the best schedule so far and packs it again; equal length is accepted, so that it wanders. */
function bySampling(
  generator: ScheduleGenerator,
  start: number[],
  bound: number,
  budget: ProjectBudget,
  random: Random,
): number[] {
  let current = start;
  let currentSpan = generator.makespan(current);
  const width = Math.max(1, currentSpan);
  for (let pass = 0; pass < budget.passes && currentSpan > bound; pass++) {
    if (budget.shouldStop?.()) break;
    const shake = random.between(0.02, 0.3) * width;
    const keys = current.map((s) => s + shake * random.next());
    const starts = generator.justify(generator.forward(generator.listBy((i) => keys[i]!)));
    const span = generator.makespan(starts);
    if (span <= currentSpan) {
      current = starts;
      currentSpan = span;
    }
  }
  return current;
}

function checkProject(project: Project): void {
  const { durations, successors, demands, capacities } = project;
  if (successors.length !== durations.length || demands.length !== durations.length) {
    throw new RangeError(`durations, successors and demands must be of one length, got ${durations.length}`);
  }
  for (const [i, d] of durations.entries()) {
    if (!Number.isInteger(d) || d < 0) throw new RangeError(`duration of task ${i} must be whole, got ${d}`);
    for (const [r, capacity] of capacities.entries()) {
      const demand = demands[i]![r] ?? Number.NaN;
      if (!Number.isInteger(demand) || demand < 0 || demand > capacity) {
        throw new RangeError(`task ${i} asks for ${demand} of resource ${r}, capacity ${capacity}`);
      }
    }
  }
}
