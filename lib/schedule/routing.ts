/**
 * Plain vehicle routing with time windows in the engine's own loop: one day, vehicles all alike, one depot. It is how
 * the loop is measured against published cases; the crew plan uses the same loop, acceptance and stop rules with
 * crew-days in place of routes (crewSearch.ts).
 */
import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { annealing } from "./accept";
import { improve } from "./improve";
import { checkRoutingCase } from "./routing/check";
import { Routes } from "./routing/routes";
import { routeSearch } from "./routing/search";
import { Statistics } from "./statistics";
import { afterIterations, anyOf, whenTold } from "./stop";

/** Customers 1..n, the depot 0. Distances and times in one unit of the case's own; whole numbers keep sums exact. */
export interface RoutingCase {
  name: string;
  vehicles: number;
  /** Load of one vehicle; Infinity = no limit. */
  capacity: number;
  demand: readonly number[];
  /** Earliest and latest start of service; of the depot: departure and latest return. Infinity = open. */
  ready: readonly number[];
  due: readonly number[];
  service: readonly number[];
  /** (n + 1) x (n + 1), from row to column; time = distance. */
  distance: Float64Array;
}

export interface RoutingPlan {
  /** Customers in order, empty routes left out. */
  routes: number[][];
  distance: number;
  /** Customers that found no place. */
  unserved: number[];
  iterations: number;
}

export interface RoutingOptions {
  seed: string;
  maxIterations: number;
  shouldStop?: () => boolean;
  /** Share of the time budget used, 0..1, for cooling. */
  timeShare?: () => number;
}

/** Temperatures as shares of the mean distance between customers. */
const HOT = 0.5;
const COLD = 0.005;
const FIRST_ROUND = 20_000;

/** Routes of least total distance that serve every customer, if they can be found. */
export function routeVisits(problem: RoutingCase, options: RoutingOptions): Result<RoutingPlan, Problem> {
  const problems = checkRoutingCase(problem);
  if (problems.length > 0) return { ok: false, problems };
  const random = new Random(options.seed);
  const routes = new Routes(problem);
  const search = routeSearch(routes, random.fork("search"));
  search.recreate(); // everything is out: this is the first plan
  const mean = routes.meanDistance();
  const statistics = new Statistics();
  improve(
    search,
    annealing(random.fork("accept"), { hot: HOT * mean, cold: COLD * mean }, FIRST_ROUND, options.timeShare),
    anyOf(afterIterations(options.maxIterations), whenTold(options.shouldStop ?? (() => false), 64)),
    statistics,
  );
  return ok({ ...routes.read(), iterations: statistics.iterations });
}
