/**
 * Fewer vehicles first (Christiaens and Vanden Berghe 2020): a route is taken out, and its customers are put back
 * with all routes in use closed to new ones. Each customer counts how often it was left out; a change is taken when
 * those left out count less together, or as much and the way is not too much longer. So customers that are hard to
 * place get their place first, and the easy ones wait.
 */
import type { Random } from "@/lib/random";
import { annealing, type Cooling } from "../accept";
import type { RouteSearch } from "./search";

const FIRST_ROUND = 20_000;

/**
 * Leaves `search` at the plan with the fewest vehicles found, its routes closed to a further vehicle.
 *
 * @returns iterations used
 */
export function fewerVehicles(
  search: RouteSearch,
  random: Random,
  cooling: Cooling,
  stop: (iteration: number) => boolean,
): number {
  const { routes } = search;
  const accepts = annealing(random.fork("accept"), cooling, FIRST_ROUND);
  const absent = new Float64Array(routes.places);
  const absence = () => {
    let sum = 0;
    for (let i = 0; i < routes.outCount; i++) sum += absent[routes.out[i]!]!;
    return sum;
  };
  const bound = leastVehicles(search);
  search.accept();
  search.keepAsBest();
  let fewest = routes.usedCount;
  if (routes.outCount === 0 && fewest > bound) takeOne();
  let distance = routes.total;
  let missing = absence();
  let iteration = 0;
  for (; routes.outCount > 0 && !stop(iteration); iteration++) {
    search.ruin();
    search.recreate();
    const sum = absence();
    const isShort = accepts(routes.total, distance, distance, iteration);
    const isTaken = sum < missing || (sum === missing && isShort);
    for (let i = 0; i < routes.outCount; i++) absent[routes.out[i]!]! += 1;
    if (isTaken) {
      if (routes.outCount === 0) {
        search.accept();
        search.keepAsBest();
        fewest = routes.usedCount;
        if (fewest <= bound) break;
        takeOne();
      } else search.accept();
      distance = routes.total;
    } else search.undo();
    missing = absence();
  }
  search.returnToBest();
  search.routeLimit = fewest;
  return iteration;

  /** The route whose customers were left out least. */
  function takeOne(): void {
    let chosen = -1;
    let least = Number.POSITIVE_INFINITY;
    for (let k = 0; k < routes.routeCount; k++) {
      if (routes.size[k] === 0) continue;
      let sum = 0;
      for (let v = routes.next[routes.startOf(k)]!; v !== routes.endOf(k); v = routes.next[v]!)
        sum += absent[v]!;
      if (sum < least) {
        least = sum;
        chosen = k;
      }
    }
    if (chosen >= 0) search.emptyRoute(chosen);
    search.routeLimit = routes.usedCount;
    search.accept();
  }
}

/** No plan has fewer vehicles than carry the load, the largest first. */
function leastVehicles(search: RouteSearch): number {
  const { routes } = search;
  let left = routes.demand.subarray(routes.firstCustomer, routes.places).reduce((a, b) => a + b, 0);
  const largest = routes.capacity.slice().sort((a, b) => b - a);
  let count = 0;
  while (left > 1e-9 && count < largest.length) left -= largest[count++]!;
  return Math.max(1, count);
}
