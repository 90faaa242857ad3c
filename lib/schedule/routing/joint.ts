/**
 * Visits that need one crew, or two at once or one after the other, in the engine's own loop: skills, wishes for a
 * time that may be missed at a price, one day, one depot. It is how joint work is measured against published cases
 * of home care (D. S. Mankowska, F. Meisel, C. Bierwirth, Health Care Management Science 17, 2014).
 *
 * Method: docs/methods/routing.md, "Joint visits".
 */
import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { annealing } from "../accept";
import { improve } from "../improve";
import { Statistics } from "../statistics";
import { afterIterations, anyOf, whenTold } from "../stop";
import { checkJointCase } from "./jointCheck";
import { JointRoutes } from "./jointRoutes";
import { JointSearch } from "./jointSearch";

/** One crew's share of a visit. */
export interface JointPart {
  duration: number;
  /** Crews that have the skill. */
  crews: readonly number[];
}

export interface JointVisit {
  /** Index of the place in the distance table. */
  place: number;
  /** No part starts before `ready`; a part that starts after `due` is late by so much. */
  ready: number;
  due: number;
  /** One part, or two by different crews. */
  parts: readonly [JointPart] | readonly [JointPart, JointPart];
  /** The second part starts so much after the first: 0 and 0 = at once. Without a second part it says nothing. */
  gap: { least: number; most: number };
}

/** Times and distances in one unit of the case's own. */
export interface JointCase {
  name: string;
  crews: number;
  /** places x places, from row to column, time = distance; place 0 is where all crews begin and end. */
  places: number;
  distance: Float64Array;
  visits: readonly JointVisit[];
}

export interface JointStop {
  visit: number;
  /** 0 or 1: which part. */
  part: number;
  start: number;
}

export interface JointPlan {
  /** Of every crew, in order. */
  routes: JointStop[][];
  travel: number;
  /** Sum and largest lateness of parts. */
  tardiness: number;
  largestTardiness: number;
  /** A third of each of the three. */
  cost: number;
  iterations: number;
}

export interface JointOptions {
  seed: string;
  maxIterations: number;
  shouldStop?: () => boolean;
  /** Share of the time budget used, 0..1, for cooling. */
  timeShare?: () => number;
}

/** Temperatures as shares of the mean way between visits. */
const HOT = 1;
const COLD = 0.01;
const FIRST_ROUND = 5_000;

/** Who visits whom when, at the least cost: a third each of travel, all tardiness and the largest tardiness. */
export function routeJointVisits(problem: JointCase, options: JointOptions): Result<JointPlan, Problem> {
  const problems = checkJointCase(problem);
  if (problems.length > 0) return { ok: false, problems };
  const { maxIterations, shouldStop = () => false, timeShare } = options;
  const random = new Random(options.seed);
  const routes = new JointRoutes(problem);
  const search = new JointSearch(routes, random.fork("search"));
  search.recreate(); // every visit is out: this is the first plan
  const mean = meanWay(problem);
  const statistics = new Statistics();
  improve(
    search,
    annealing(random.fork("accept"), { hot: HOT * mean, cold: COLD * mean }, FIRST_ROUND, timeShare),
    anyOf(afterIterations(maxIterations), whenTold(shouldStop, 16)),
    statistics,
  );
  return ok({ ...routes.read(), iterations: statistics.iterations });
}

function meanWay(c: JointCase): number {
  const at = c.visits.map((visit) => visit.place);
  let sum = 0;
  for (const a of at) for (const b of at) sum += c.distance[a * c.places + b]!;
  return sum / Math.max(1, at.length * (at.length - 1));
}
