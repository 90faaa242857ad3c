/** Which customers lie near which: for taking out together, and for putting one beside another. */
import type { Routes } from "./routes";

/** Weight of a minute's waiting against a minute's way when a neighbour is chosen (Vidal et al. 2013). */
const WAIT_WEIGHT = 0.2;

/** For every customer all customers, itself first, then by distance (both ways); by node. */
export function nearestCustomers(routes: Routes): Int32Array[] {
  const { firstCustomer, customers, places, distance } = routes;
  const far = new Float64Array(places);
  return Array.from({ length: places }, (_, v) => {
    if (v < firstCustomer) return new Int32Array(0);
    for (let u = firstCustomer; u < places; u++)
      far[u] = u === v ? -1 : distance[v * places + u]! + distance[u * places + v]!;
    return Int32Array.from({ length: customers }, (_, i) => firstCustomer + i).sort(
      (a, b) => far[a]! - far[b]! || a - b,
    );
  });
}

/**
 * depots x places: 1 = the depot is no farther from the customer than its `width`-th nearest customer. Such a customer
 * may stand first or last on any route, however far the rest of the route.
 */
export function besideDepots(routes: Routes, near: readonly Int32Array[], width: number): Uint8Array {
  const { firstCustomer, places, distance } = routes;
  const beside = new Uint8Array(firstCustomer * places);
  const far = (a: number, b: number) => distance[a * places + b]! + distance[b * places + a]!;
  for (let v = firstCustomer; v < places; v++) {
    const last = near[v]![Math.min(width, near[v]!.length - 1)]!;
    for (let depot = 0; depot < firstCustomer; depot++)
      if (near[v]!.length <= width || far(depot, v) <= far(last, v)) beside[depot * places + v] = 1;
  }
  return beside;
}

/** Flat lists of neighbours, `width` a node, best first; the first `count` of each are filled. */
export interface Neighbours {
  node: Int32Array;
  /** Way between the neighbour and the node, in the order in which they would be served. */
  way: Float64Array;
  count: Int32Array;
}

/**
 * The `width` customers that may best stand right before each customer, and those right behind it. Best: short way
 * and little waiting; only where the windows let one follow the other.
 */
export function followers(routes: Routes, width: number): { before: Neighbours; behind: Neighbours } {
  const { firstCustomer, places, distance, ready, due, service } = routes;
  const empty = (): Neighbours => ({
    node: new Int32Array(places * width),
    way: new Float64Array(places * width),
    count: new Int32Array(places),
  });
  const cost = new Float64Array(places);
  /** Cost of u right before v; Infinity = never. */
  const follow = (u: number, v: number) => {
    const way = distance[u * places + v]!;
    const takes = service[u]! + way;
    if (u === v || ready[u]! + takes > due[v]!) return Number.POSITIVE_INFINITY;
    return way + WAIT_WEIGHT * Math.max(0, ready[v]! - due[u]! - takes);
  };
  const fill = (list: Neighbours, v: number, of: (u: number) => number, way: (u: number) => number) => {
    const able: number[] = [];
    for (let u = firstCustomer; u < places; u++) {
      cost[u] = of(u);
      if (cost[u]! < Number.POSITIVE_INFINITY) able.push(u);
    }
    able.sort((a, b) => cost[a]! - cost[b]! || a - b);
    list.count[v] = Math.min(width, able.length);
    for (let i = 0; i < list.count[v]!; i++) {
      list.node[v * width + i] = able[i]!;
      list.way[v * width + i] = way(able[i]!);
    }
  };
  const before = empty();
  const behind = empty();
  for (let v = firstCustomer; v < places; v++) {
    fill(
      before,
      v,
      (u) => follow(u, v),
      (u) => distance[u * places + v]!,
    );
    fill(
      behind,
      v,
      (u) => follow(v, u),
      (u) => distance[v * places + u]!,
    );
  }
  return { before, behind };
}
