/**
 * Routes under edit. Every route is a chain from its own start to its own end, so that no place in a route is special.
 * Each node knows the earliest start of its service and the latest one that still lets the rest of the route be in
 * time: whether a customer fits between two others is then a matter of a few additions. Where a duty may not be longer
 * than so much, each node also knows the shortest duty before and behind it (T. Vidal, T. G. Crainic, M. Gendreau,
 * C. Prins, Computers & Operations Research 40, 2013: parts of routes that can be joined in constant time).
 *
 * Nodes: customers by their place, then starts, then ends of the routes; the depots' own numbers are unused.
 */
import type { Route, RoutingCase } from "../routing";

export class Routes {
  readonly case: RoutingCase;
  /** Customers are the nodes firstCustomer..places-1. */
  readonly firstCustomer: number;
  readonly places: number;
  readonly customers: number;
  readonly routeCount: number;
  readonly ready: Float64Array;
  readonly due: Float64Array;
  readonly service: Float64Array;
  readonly demand: Float64Array;
  readonly distance: Float64Array;
  /** The same, from column to row. */
  readonly distanceTo: Float64Array;
  /** Row of a node in the distance table, and its column. */
  readonly row: Int32Array;
  readonly column: Int32Array;
  /** Of a route: its kind of vehicle, load and longest duty allowed. */
  readonly kind: Int32Array;
  readonly capacity: Float64Array;
  readonly longest: Float64Array;
  /** kinds x places: 1 = the kind may serve the customer. */
  readonly mayServe: Uint8Array;
  /** Whether any duty is limited. */
  readonly isTimed: boolean;

  readonly next: Int32Array;
  readonly prev: Int32Array;
  /** Route of a node; -1 = a customer not served. */
  readonly route: Int32Array;
  /** Way to the next node; 0 from the start of an empty route. */
  readonly leg: Float64Array;
  readonly early: Float64Array;
  readonly late: Float64Array;
  /** Shortest duty from the start until service here is done, and the latest start of it. */
  readonly dutyBefore: Float64Array;
  readonly startBefore: Float64Array;
  /** Shortest duty from the beginning of service here to the end, and the earliest beginning of it. */
  readonly dutyBehind: Float64Array;
  readonly startBehind: Float64Array;
  /** Customers on each route, and their load. */
  readonly size: Int32Array;
  readonly load: Float64Array;
  /** Customers not served, in no order; the first `outCount` of `out`. */
  readonly out: Int32Array;
  outCount = 0;
  usedCount = 0;
  total = 0;
  /** Load over what the vehicles carry, of all routes together. */
  over = 0;

  constructor(c: RoutingCase) {
    const places = c.demand.length;
    this.case = c;
    this.firstCustomer = c.depots;
    this.places = places;
    this.customers = places - c.depots;
    const kinds = c.fleet.flatMap((kind, i) =>
      new Array<number>(Math.min(kind.count, Math.max(1, this.customers))).fill(i),
    );
    const r = kinds.length;
    this.routeCount = r;
    const nodes = places + 2 * r;
    const depotOf = (node: number) => c.fleet[kinds[(node - places) % r]!]!.depot;
    this.column = Int32Array.from({ length: nodes }, (_, i) => (i < places ? i : depotOf(i)));
    this.row = this.column.map((i) => i * places);
    const spread = (of: readonly number[]) => Float64Array.from(this.column, (i) => of[i]!);
    this.ready = spread(c.ready);
    this.due = spread(c.due);
    this.service = spread(c.service);
    this.demand = spread(c.demand);
    this.distance = c.distance;
    this.distanceTo = c.distance.map((_, i) => c.distance[(i % places) * places + Math.floor(i / places)]!);
    this.kind = Int32Array.from(kinds);
    this.capacity = Float64Array.from(kinds, (i) => c.fleet[i]!.capacity);
    this.longest = Float64Array.from(kinds, (i) => c.fleet[i]!.longest);
    this.isTimed = this.longest.some((x) => x < Number.POSITIVE_INFINITY);
    this.mayServe = new Uint8Array(c.fleet.length * places);
    c.fleet.forEach((kind, i) => {
      if (kind.serves === undefined) this.mayServe.fill(1, i * places, (i + 1) * places);
      else for (const v of kind.serves) this.mayServe[i * places + v] = 1;
    });

    this.next = new Int32Array(nodes);
    this.prev = new Int32Array(nodes);
    this.route = new Int32Array(nodes).fill(-1);
    this.size = new Int32Array(r);
    this.load = new Float64Array(r);
    this.leg = new Float64Array(nodes);
    this.early = new Float64Array(nodes);
    this.late = new Float64Array(nodes);
    this.dutyBefore = new Float64Array(nodes);
    this.startBefore = new Float64Array(nodes);
    this.dutyBehind = new Float64Array(nodes);
    this.startBehind = new Float64Array(nodes);
    this.out = new Int32Array(this.customers);
    for (let v = c.depots; v < places; v++) this.out[this.outCount++] = v;
    for (let k = 0; k < r; k++) {
      const start = this.startOf(k);
      const end = this.endOf(k);
      this.service[start] = this.service[end] = 0;
      this.next[start] = end;
      this.prev[end] = start;
      this.route[start] = this.route[end] = k;
      this.early[start] = this.ready[start]!;
      this.startBefore[start] = this.due[start]!;
      this.late[end] = this.due[end]!;
      this.startBehind[end] = this.ready[end]!;
      this.forward(start, end);
      this.backward(end, start);
    }
  }

  startOf(route: number): number {
    return this.places + route;
  }

  endOf(route: number): number {
    return this.places + this.routeCount + route;
  }

  way(a: number, b: number): number {
    return this.distance[this.row[a]! + this.column[b]!]!;
  }

  /** Puts a customer behind a node; the caller takes it off `out`. */
  insert(v: number, after: number): void {
    const before = this.next[after]!;
    const k = this.route[after]!;
    if (this.size[k] === 0) this.usedCount++;
    const toV = this.way(after, v);
    const fromV = this.way(v, before);
    this.total += toV + fromV - this.leg[after]!;
    this.leg[after] = toV;
    this.leg[v] = fromV;
    this.next[after] = v;
    this.prev[v] = after;
    this.next[v] = before;
    this.prev[before] = v;
    this.route[v] = k;
    this.size[k]! += 1;
    this.#addLoad(k, this.demand[v]!);
    this.forward(after, before);
    this.backward(before, after);
  }

  /** Takes a customer out; the times of its route are then set right by `forward` and `backward`. */
  remove(v: number): void {
    const before = this.prev[v]!;
    const after = this.next[v]!;
    const k = this.route[v]!;
    this.size[k]! -= 1;
    const isEmpty = this.size[k] === 0;
    if (isEmpty) this.usedCount--;
    const way = isEmpty ? 0 : this.way(before, after);
    this.total += way - this.leg[before]! - this.leg[v]!;
    this.leg[before] = way;
    this.next[before] = after;
    this.prev[after] = before;
    this.route[v] = -1;
    this.#addLoad(k, -this.demand[v]!);
    this.out[this.outCount++] = v;
  }

  #addLoad(k: number, by: number): void {
    const load = this.load[k]!;
    const capacity = this.capacity[k]!;
    const then = load + by;
    this.load[k] = then;
    this.over += (then > capacity ? then - capacity : 0) - (load > capacity ? load - capacity : 0);
  }

  /** Times from the node behind `from` on, at least up to `until`, then until nothing changes. */
  forward(from: number, until: number): void {
    const { next, early, service, ready, due, row, column, distance, dutyBefore, startBefore, isTimed } =
      this;
    const end = this.endOf(this.route[from]!);
    let isPast = false;
    for (let a = from; a !== end; ) {
      const b = next[a]!;
      const way = distance[row[a]! + column[b]!]!;
      const arrives = early[a]! + service[a]! + way;
      const starts = arrives > ready[b]! ? arrives : ready[b]!;
      let isSame = early[b] === starts;
      early[b] = starts;
      if (isTimed) {
        const takes = dutyBefore[a]! + way;
        const waits = ready[b]! - takes - startBefore[a]!;
        const duty = takes + service[b]! + (waits > 0 ? waits : 0);
        const latest = due[b]! - takes;
        const start = latest < startBefore[a]! ? latest : startBefore[a]!;
        isSame &&= dutyBefore[b] === duty && startBefore[b] === start;
        dutyBefore[b] = duty;
        startBefore[b] = start;
      }
      isPast ||= b === until;
      if (isPast && isSame) return;
      a = b;
    }
  }

  /** Times from the node before `from` back, at least down to `until`, then until nothing changes. */
  backward(from: number, until: number): void {
    const { prev, late, service, ready, due, row, column, distance, dutyBehind, startBehind, isTimed } = this;
    const start = this.startOf(this.route[from]!);
    let isPast = false;
    for (let b = from; b !== start; ) {
      const a = prev[b]!;
      const takes = service[a]! + distance[row[a]! + column[b]!]!;
      const latest = late[b]! - takes;
      const at = latest < due[a]! ? latest : due[a]!;
      let isSame = late[a] === at;
      late[a] = at;
      if (isTimed) {
        const waits = startBehind[b]! - takes - due[a]!;
        const wait = waits > 0 ? waits : 0;
        const duty = takes + dutyBehind[b]! + wait;
        const reaches = startBehind[b]! - takes;
        const begins = (reaches > ready[a]! ? reaches : ready[a]!) - wait;
        isSame &&= dutyBehind[a] === duty && startBehind[a] === begins;
        dutyBehind[a] = duty;
        startBehind[a] = begins;
      }
      isPast ||= a === until;
      if (isPast && isSame) return;
      b = a;
    }
  }

  /** Shortest duty of the route of `a` with `v` put behind it; windows are known to hold. */
  dutyWith(v: number, a: number, toV: number, fromV: number): number {
    const b = this.next[a]!;
    const takes = this.dutyBefore[a]! + toV;
    const start = this.startBefore[a]!;
    const waits = this.ready[v]! - takes - start;
    const wait = waits > 0 ? waits : 0;
    const latest = this.due[v]! - takes;
    const until = takes + this.service[v]! + wait + fromV;
    const waitsThen = this.startBehind[b]! - until - (latest < start ? latest : start);
    return until + this.dutyBehind[b]! + (waitsThen > 0 ? waitsThen : 0);
  }

  /** Mean way between customers, the scale of worsenings. */
  meanDistance(): number {
    let sum = 0;
    for (let a = 0; a < this.places; a++)
      for (let b = 0; b < this.places; b++) sum += this.distance[a * this.places + b]!;
    return sum / Math.max(1, this.places * (this.places - 1));
  }

  read(): { routes: Route[]; distance: number; unserved: number[] } {
    const routes: Route[] = [];
    let distance = 0;
    for (let k = 0; k < this.routeCount; k++) {
      const stops: number[] = [];
      for (let v = this.next[this.startOf(k)]!; v !== this.endOf(k); v = this.next[v]!) stops.push(v);
      if (stops.length === 0) continue;
      for (let a = this.startOf(k); a !== this.endOf(k); a = this.next[a]!)
        distance += this.way(a, this.next[a]!);
      routes.push({ kind: this.kind[k]!, stops });
    }
    return { routes, distance, unserved: [...this.out.subarray(0, this.outCount)].sort((a, b) => a - b) };
  }
}
