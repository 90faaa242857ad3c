/**
 * Routes under edit. Every route is a chain from its own start to its own end; both stand for the depot, so that no
 * place in a route is special. Each node knows the earliest start of its service and the latest one that still lets
 * the rest of the route be in time: whether a customer fits between two others is then a matter of a few additions.
 *
 * Nodes: 0 unused, customers 1..n, then starts, then ends of the routes.
 */
import type { RoutingCase } from "../routing";

export class Routes {
  readonly customers: number;
  readonly routeCount: number;
  readonly places: number;
  readonly ready: Float64Array;
  readonly due: Float64Array;
  readonly service: Float64Array;
  readonly demand: Float64Array;
  readonly distance: Float64Array;
  /** Row of a node in the distance table, and its column. */
  readonly row: Int32Array;
  readonly column: Int32Array;

  readonly ints: Int32Array;
  readonly reals: Float64Array;
  readonly next: Int32Array;
  readonly prev: Int32Array;
  /** Route of a customer; -1 = not served. */
  readonly route: Int32Array;
  /** Customers on each route. */
  readonly size: Int32Array;
  readonly early: Float64Array;
  readonly late: Float64Array;
  readonly load: Float64Array;
  /** [0] total distance, [1] unserved customers. */
  readonly sums: Float64Array;
  readonly capacity: number;

  constructor(c: RoutingCase) {
    const places = c.demand.length;
    const n = places - 1;
    const r = Math.min(c.vehicles, Math.max(1, n));
    const nodes = n + 1 + 2 * r;
    this.customers = n;
    this.routeCount = r;
    this.places = places;
    this.capacity = c.capacity;
    const spread = (of: readonly number[]) =>
      Float64Array.from({ length: nodes }, (_, i) => of[i <= n ? i : 0]!);
    this.ready = spread(c.ready);
    this.due = spread(c.due);
    this.service = spread(c.service);
    this.demand = spread(c.demand);
    this.distance = c.distance;
    this.column = Int32Array.from({ length: nodes }, (_, i) => (i <= n ? i : 0));
    this.row = this.column.map((i) => i * places);

    this.ints = new Int32Array(3 * nodes + r);
    this.next = this.ints.subarray(0, nodes);
    this.prev = this.ints.subarray(nodes, 2 * nodes);
    this.route = this.ints.subarray(2 * nodes, 3 * nodes).fill(-1);
    this.size = this.ints.subarray(3 * nodes);
    this.reals = new Float64Array(2 * nodes + r + 2);
    this.early = this.reals.subarray(0, nodes);
    this.late = this.reals.subarray(nodes, 2 * nodes);
    this.load = this.reals.subarray(2 * nodes, 2 * nodes + r);
    this.sums = this.reals.subarray(2 * nodes + r);
    this.sums[1] = n;
    for (let k = 0; k < r; k++) {
      const start = this.startOf(k);
      const end = this.endOf(k);
      this.next[start] = end;
      this.prev[end] = start;
      this.route[start] = this.route[end] = k;
      this.early[start] = this.ready[start]!;
      this.service[start] = 0;
      this.late[end] = this.due[end]!;
      this.#forward(start);
      this.#backward(end);
    }
  }

  startOf(route: number): number {
    return this.customers + 1 + route;
  }

  endOf(route: number): number {
    return this.customers + 1 + this.routeCount + route;
  }

  way(a: number, b: number): number {
    return this.distance[this.row[a]! + this.column[b]!]!;
  }

  insert(v: number, after: number): void {
    const before = this.next[after]!;
    const k = this.route[after]!;
    this.sums[0]! +=
      this.way(after, v) + this.way(v, before) - (this.size[k] === 0 ? 0 : this.way(after, before));
    this.sums[1]! -= 1;
    this.next[after] = v;
    this.prev[v] = after;
    this.next[v] = before;
    this.prev[before] = v;
    this.route[v] = k;
    this.size[k]! += 1;
    this.load[k]! += this.demand[v]!;
    this.#forward(after);
    this.#backward(before);
  }

  /** Takes a customer out; the times of its route are set right by `settle`. */
  remove(v: number): void {
    const before = this.prev[v]!;
    const after = this.next[v]!;
    const k = this.route[v]!;
    this.size[k]! -= 1;
    this.sums[0]! +=
      (this.size[k] === 0 ? 0 : this.way(before, after)) - this.way(before, v) - this.way(v, after);
    this.sums[1]! += 1;
    this.next[before] = after;
    this.prev[after] = before;
    this.route[v] = -1;
    this.load[k]! -= this.demand[v]!;
  }

  settle(route: number): void {
    this.#forward(this.startOf(route));
    this.#backward(this.endOf(route));
  }

  /** Earliest starts from the node behind `from` on, until nothing changes. */
  #forward(from: number): void {
    const end = this.endOf(this.route[from]!);
    for (let a = from; a !== end; ) {
      const b = this.next[a]!;
      const arrives = this.early[a]! + this.service[a]! + this.way(a, b);
      const early = arrives > this.ready[b]! ? arrives : this.ready[b]!;
      this.early[b] = early;
      a = b;
    }
  }

  #backward(from: number): void {
    const start = this.startOf(this.route[from]!);
    for (let b = from; b !== start; ) {
      const a = this.prev[b]!;
      const latest = this.late[b]! - this.way(a, b) - this.service[a]!;
      this.late[a] = latest < this.due[a]! ? latest : this.due[a]!;
      b = a;
    }
  }

  meanDistance(): number {
    let sum = 0;
    for (let a = 0; a < this.places; a++)
      for (let b = 0; b < this.places; b++) sum += this.distance[a * this.places + b]!;
    return sum / Math.max(1, this.places * (this.places - 1));
  }

  read(): { routes: number[][]; distance: number; unserved: number[] } {
    const routes: number[][] = [];
    for (let k = 0; k < this.routeCount; k++) {
      const list: number[] = [];
      for (let v = this.next[this.startOf(k)]!; v !== this.endOf(k); v = this.next[v]!) list.push(v);
      if (list.length > 0) routes.push(list);
    }
    const unserved = Array.from({ length: this.customers }, (_, i) => i + 1).filter(
      (v) => this.route[v] === -1,
    );
    return { routes, distance: this.sums[0]!, unserved };
  }
}
