/**
 * Plain vehicle routing with time windows in the engine's own loop: one day, kinds of vehicles with a depot, a load,
 * a longest duty and the customers they may serve. It is how the loop is measured against published cases; the crew
 * plan uses the same loop, acceptance and stop rules with crew-days in place of routes (crewSearch.ts).
 *
 * Method: docs/methods/routing.md.
 */
import { Random } from "@/lib/random";
import { ok, type Problem, type Result } from "@/lib/result";
import { annealing } from "./accept";
import { improve } from "./improve";
import { checkRoutingCase } from "./routing/check";
import { fewerVehicles } from "./routing/fleet";
import { Routes } from "./routing/routes";
import { RouteSearch } from "./routing/search";
import { Statistics } from "./statistics";
import { afterIterations, anyOf, whenTold } from "./stop";

/** Vehicles that are alike. */
export interface VehicleKind {
  count: number;
  /** Place at which its routes begin and end. */
  depot: number;
  /** Load of one vehicle; Infinity = no limit. */
  capacity: number;
  /** Longest time from departure to return, waiting included; Infinity = no limit. */
  longest: number;
  /** Customers it may serve; left out = all. */
  serves?: readonly number[];
}

/**
 * Places 0..depots-1 are depots, the others customers. Distances and times in one unit of the case's own; whole numbers
 * keep sums exact.
 */
export interface RoutingCase {
  name: string;
  depots: number;
  fleet: readonly VehicleKind[];
  demand: readonly number[];
  /** Earliest and latest start of service; of a depot: departure and latest return. Infinity = open. */
  ready: readonly number[];
  due: readonly number[];
  service: readonly number[];
  /** places x places, from row to column; time = distance. */
  distance: Float64Array;
}

export interface Route {
  /** Index in `fleet`. */
  kind: number;
  /** Customers in order. */
  stops: number[];
}

export interface RoutingPlan {
  /** Empty routes left out. */
  routes: Route[];
  distance: number;
  /** Customers that found no place. */
  unserved: number[];
  iterations: number;
}

export interface RoutingOptions {
  seed: string;
  maxIterations: number;
  /** What counts after every customer is served: the distance alone, or first the number of vehicles. */
  aim?: "distance" | "vehicles";
  shouldStop?: () => boolean;
  /** Share of the time budget used, 0..1, for cooling. */
  timeShare?: () => number;
}

/** Temperatures as shares of the mean distance between places. */
const HOT = 0.5;
const COLD = 0.005;
const FIRST_ROUND = 20_000;
/** First price of a mean load over what a vehicle carries, where vehicles are scarce, as a share of the same. */
const OVERLOAD = 0.1;
/** Share of the effort after which no fewer vehicles are tried. */
const FLEET_SHARE = 0.3;

/** Routes of least total distance that serve every customer, if they can be found. */
export function routeVisits(problem: RoutingCase, options: RoutingOptions): Result<RoutingPlan, Problem> {
  const problems = checkRoutingCase(problem);
  if (problems.length > 0) return { ok: false, problems };
  const { maxIterations, shouldStop = () => false, timeShare, aim = "distance" } = options;
  const random = new Random(options.seed);
  const routes = new Routes(problem);
  const search = new RouteSearch(routes, random.fork("search"));
  search.recreate(); // everything is out: this is the first plan
  const mean = routes.meanDistance();
  const cooling = { hot: HOT * mean, cold: COLD * mean };
  let used = 0;
  let begun = 0;
  if (aim === "vehicles") {
    const share = (i: number) => (timeShare ? timeShare() : i / maxIterations);
    const stop = (i: number) =>
      i >= maxIterations || (i % 64 === 0 && (shouldStop() || share(i) > FLEET_SHARE));
    used = fewerVehicles(search, random.fork("fleet"), cooling, stop);
    begun = timeShare ? timeShare() : 0;
    search.priceOverload(OVERLOAD * mean);
  }
  const left = timeShare && (() => (timeShare() - begun) / (1 - begun));
  const statistics = new Statistics();
  improve(
    search,
    annealing(random.fork("accept"), cooling, FIRST_ROUND, left),
    anyOf(afterIterations(maxIterations - used), whenTold(shouldStop, 64)),
    statistics,
  );
  return ok({ ...routes.read(), iterations: used + statistics.iterations });
}
