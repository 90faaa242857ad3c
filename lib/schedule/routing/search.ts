/**
 * Ruin and recreate on routes as published: adjacent string removal and greedy insertion with blinks (Christiaens and
 * Vanden Berghe 2020, with their parameters: ten customers removed on average, strings of at most ten, half of them
 * split, one place in a hundred not looked at). A customer is tried beside its `WIDTH` best neighbours only, the depot among them; only the
 * routes touched are copied back when a step is undone: a step then costs much the same in large cases as in small.
 */
import type { Random } from "@/lib/random";
import type { Search } from "../improve";
import { Blink } from "../insert/blink";
import { besideDepots, followers, type Neighbours, nearestCustomers } from "./near";
import { sortByKey } from "./order";
import type { Routes } from "./routes";

const MEAN_REMOVED = 10;
const MAX_STRING = 10;
const SPLIT_RATE = 0.5;
const SPLIT_GROWS = 0.99;
const BLINK_RATE = 0.01;
/** Neighbours beside which a customer is tried, before and behind each. */
const WIDTH = 40;
/** A customer is tried first and last on every route when fewer customers than these are nearer than the depot. */
const DEPOT_RANK = 20;
/** Share of the customers that find no place there for whom all other places are looked through. */
const EVERYWHERE_RATE = 0.1;
/** Most load of a vehicle, as a share of what it carries, while overload has a price. */
const MOST_LOADED = 1.1;
/** Load over that counts as none: sums of fractions. */
const CARRIED = 1e-9;
/** Steps after which the price of overload is set anew, up or down: all loads carried in this share of them or not. */
const PRICE_EVERY = 200;
const CARRIED_SHARE = 0.3;
const PRICE_UP = 1.05;
const PRICE_DOWN = 0.96;
/** The price stays between these shares of the first. Dearer, and a customer left out would be the cheaper way. */
const LEAST_PRICE = 1e-3;
const MOST_PRICE = 200;

export class RouteSearch implements Search {
  readonly routes: Routes;
  readonly #random: Random;
  readonly #blink: Blink;
  readonly #near: Int32Array[];
  readonly #before: Neighbours;
  readonly #behind: Neighbours;
  readonly #besideDepot: Uint8Array;
  /** Further places at which the customer in hand is tried: behind these nodes. */
  readonly #spots: Int32Array;
  readonly #key: Float64Array;
  /** An empty route of each kind, when there is one. */
  readonly #emptyHint: Int32Array;
  readonly #kindFrom: number[];
  /** Routes changed since the last state kept, and when each was last changed. */
  readonly #touched: Int32Array;
  #touchedCount = 0;
  readonly #touchedAt: Int32Array;
  #step = 1;
  readonly #ruined: Int32Array;
  #ruin = 0;
  readonly #kept;
  readonly #best;
  /** Most routes that may be in use. */
  routeLimit: number;
  /** Price of a unit of load over what a vehicle carries; 0 = no vehicle is loaded over it. */
  #overPrice = 0;
  #leastPrice = 0;
  #mostPrice = 0;
  /** Steps since the price was last set, and those of them that ended with all loads carried. */
  #pricedSteps = 0;
  #carried = 0;
  /** Price of an unserved customer: more than any plan's distance. */
  readonly #unserved: number;

  constructor(routes: Routes, random: Random) {
    const nodes = routes.next.length;
    this.routes = routes;
    this.#random = random;
    this.#blink = new Blink(random.fork("blink"), BLINK_RATE);
    this.#near = nearestCustomers(routes);
    this.#besideDepot = besideDepots(routes, this.#near, DEPOT_RANK);
    const { before, behind } = followers(routes, WIDTH);
    this.#before = before;
    this.#behind = behind;
    this.#spots = new Int32Array(nodes);
    this.#key = new Float64Array(nodes);
    this.#kindFrom = routes.case.fleet.map((_, i) => routes.kind.indexOf(i));
    this.#emptyHint = Int32Array.from(this.#kindFrom);
    this.#touched = new Int32Array(routes.routeCount);
    this.#touchedAt = new Int32Array(routes.routeCount);
    this.#ruined = new Int32Array(routes.routeCount);
    this.routeLimit = routes.routeCount;
    this.#unserved = 2 * routes.places * routes.distance.reduce((a, b) => Math.max(a, b), 1);
    this.#kept = {
      next: routes.next.slice(),
      prev: routes.prev.slice(),
      leg: routes.leg.slice(),
      early: routes.early.slice(),
      late: routes.late.slice(),
      dutyBefore: routes.dutyBefore.slice(),
      startBefore: routes.startBefore.slice(),
      dutyBehind: routes.dutyBehind.slice(),
      startBehind: routes.startBehind.slice(),
      size: routes.size.slice(),
      load: routes.load.slice(),
      out: routes.out.slice(),
      outCount: routes.outCount,
      usedCount: routes.usedCount,
      total: routes.total,
      over: routes.over,
    };
    this.#best = { next: routes.next.slice() };
  }

  #touch(k: number): void {
    if (this.#touchedAt[k] === this.#step) return;
    this.#touchedAt[k] = this.#step;
    this.#touched[this.#touchedCount++] = k;
  }

  ruin(): void {
    const { routes } = this;
    const served = routes.customers - routes.outCount;
    if (served === 0) return;
    const random = this.#random;
    const longest = Math.min(MAX_STRING, served / routes.usedCount);
    const strings = Math.floor(random.next() * ((4 * MEAN_REMOVED) / (1 + longest))) + 1;
    const near = this.#near[routes.firstCustomer + random.below(routes.customers)]!;
    const ruin = ++this.#ruin;
    for (let i = 0, cut = 0; i < near.length && cut < strings; i++) {
      const v = near[i]!;
      const k = routes.route[v]!;
      if (k === -1 || this.#ruined[k] === ruin) continue;
      this.#ruined[k] = ruin;
      cut++;
      this.#takeString(v, 1 + Math.floor(random.next() * Math.min(routes.size[k]!, longest)));
    }
  }

  /** A string of `length` customers of one route with `v` in it; split: some in the middle stay. */
  #takeString(v: number, length: number): void {
    const { routes } = this;
    const { next, prev, size } = routes;
    const random = this.#random;
    const k = routes.route[v]!;
    this.#touch(k);
    let stay = 0;
    if (length > 1 && random.next() < SPLIT_RATE) {
      const most = size[k]! - length;
      stay = most > 0 ? 1 : 0;
      while (stay < most && random.next() < SPLIT_GROWS * 0.5) stay++;
    }
    const whole = length + stay;
    // Customers before and behind v limit where the string may begin.
    let ahead = 0;
    const start = routes.startOf(k);
    for (let u = prev[v]!; u !== start && ahead < whole - 1; u = prev[u]!) ahead++;
    let after = 0;
    const end = routes.endOf(k);
    for (let u = next[v]!; u !== end && after < whole - 1; u = next[u]!) after++;
    const least = Math.max(0, whole - 1 - after);
    let u = v;
    for (let back = least + random.below(Math.min(ahead, whole - 1) - least + 1); back > 0; back--)
      u = prev[u]!;
    const stayFrom = stay > 0 ? 1 + random.below(length - 1) : whole;
    const from = prev[u]!;
    for (let i = 0; i < whole; i++) {
      const following = next[u]!;
      if (i < stayFrom || i >= stayFrom + stay) routes.remove(u);
      u = following;
    }
    routes.forward(from, u);
    routes.backward(u, from);
  }

  /** Takes a whole route out. */
  emptyRoute(k: number): void {
    const { routes } = this;
    this.#touch(k);
    const start = routes.startOf(k);
    const end = routes.endOf(k);
    while (routes.next[start] !== end) routes.remove(routes.next[start]!);
    routes.forward(start, end);
    routes.backward(end, start);
  }

  recreate(): void {
    const { routes } = this;
    const { out } = routes;
    this.#sortOut();
    const count = routes.outCount;
    routes.outCount = 0;
    for (let i = 0; i < count; i++) {
      const v = out[i]!;
      let after = this.#cheapest(v);
      if (after < 0 && this.#looksEverywhere())
        after = this.#cheapestOf(v, this.#gatherAll(), -1, Number.POSITIVE_INFINITY);
      if (after < 0) out[routes.outCount++] = v;
      else {
        this.#touch(routes.route[after]!);
        routes.insert(v, after);
      }
    }
    this.#followOverload();
  }

  /** Whether a customer without a place beside its neighbours is tried at all others: for the first plan always. */
  #looksEverywhere(): boolean {
    if (this.routes.customers <= WIDTH) return false; // the neighbours are all there are
    return this.#ruin === 0 || this.#random.next() < EVERYWHERE_RATE;
  }

  /** Cheapest place for `v` beside its neighbours, the depot or in an empty vehicle, with blinks; behind which node, or -1. */
  #cheapest(v: number): number {
    const { next, prev, route, leg, row, column, distance, distanceTo } = this.routes;
    const before = this.#before;
    const behind = this.#behind;
    const rowV = row[v]!;
    let bestCost = Number.POSITIVE_INFINITY;
    let bestAfter = -1;
    let blinkedAt = -1;
    const from = v * WIDTH;
    for (let i = from, end = from + before.count[v]!; i < end; i++) {
      const a = before.node[i]!;
      if (route[a]! < 0) continue;
      const toV = before.way[i]!;
      const fromV = distance[rowV + column[next[a]!]!]!;
      let cost = toV + fromV - leg[a]!;
      if (cost >= bestCost) continue;
      if (this.#overPrice > 0) {
        cost += this.#overWith(v, route[a]!);
        if (cost >= bestCost) continue;
      }
      if (!this.#fits(v, a, toV, fromV)) continue;
      if (this.#blink.now()) blinkedAt = a;
      else {
        bestCost = cost;
        bestAfter = a;
      }
    }
    for (let i = from, end = from + behind.count[v]!; i < end; i++) {
      const b = behind.node[i]!;
      if (route[b]! < 0) continue;
      const a = prev[b]!;
      const toV = distanceTo[rowV + column[a]!]!;
      const fromV = behind.way[i]!;
      let cost = toV + fromV - leg[a]!;
      if (this.#overPrice > 0 && cost < bestCost) cost += this.#overWith(v, route[a]!);
      // The same place may have been looked at, or passed over, as the one behind a.
      if (cost >= bestCost || a === blinkedAt || !this.#fits(v, a, toV, fromV) || this.#blink.now()) continue;
      bestCost = cost;
      bestAfter = a;
    }
    const spots = this.#gatherEmpty(this.#gatherDepots(v));
    return this.#cheapestOf(v, spots, bestAfter, bestCost);
  }

  /** Cheapest of the first `count` spots if it is cheaper than what is known already. */
  #cheapestOf(v: number, count: number, knownAfter: number, knownCost: number): number {
    const { next, leg, row, column, distance, distanceTo } = this.routes;
    const rowV = row[v]!;
    let bestCost = knownCost;
    let bestAfter = knownAfter;
    for (let i = 0; i < count; i++) {
      const a = this.#spots[i]!;
      const toV = distanceTo[rowV + column[a]!]!;
      const fromV = distance[rowV + column[next[a]!]!]!;
      let cost = toV + fromV - leg[a]!;
      if (this.#overPrice > 0 && cost < bestCost) cost += this.#overWith(v, this.routes.route[a]!);
      if (cost >= bestCost || !this.#fits(v, a, toV, fromV) || this.#blink.now()) continue;
      bestCost = cost;
      bestAfter = a;
    }
    return bestAfter;
  }

  /** Price of the load that `v` would put over what route `k` carries. */
  #overWith(v: number, k: number): number {
    const { load, capacity, demand } = this.routes;
    const then = load[k]! + demand[v]! - capacity[k]!;
    if (then <= 0) return 0;
    return this.#overPrice * (then < demand[v]! ? then : demand[v]!);
  }

  /** May `v` stand behind `a`: windows, load, kind of vehicle, duty. */
  #fits(v: number, a: number, toV: number, fromV: number): boolean {
    const { routes } = this;
    const arrives = routes.early[a]! + routes.service[a]! + toV;
    if (arrives > routes.due[v]!) return false;
    const leaves = (arrives > routes.ready[v]! ? arrives : routes.ready[v]!) + routes.service[v]!;
    if (leaves + fromV > routes.late[routes.next[a]!]!) return false;
    const k = routes.route[a]!;
    const most = this.#overPrice > 0 ? MOST_LOADED * routes.capacity[k]! : routes.capacity[k]!;
    if (routes.load[k]! + routes.demand[v]! > most) return false;
    if (routes.mayServe[routes.kind[k]! * routes.places + v] === 0) return false;
    return !routes.isTimed || routes.dutyWith(v, a, toV, fromV) <= routes.longest[k]!;
  }

  /** Every node behind which something may stand, as spots; how many. */
  #gatherAll(): number {
    const { routes } = this;
    let count = 0;
    for (let k = 0; k < routes.routeCount; k++) {
      if (routes.size[k] === 0) continue;
      const end = routes.endOf(k);
      for (let a = routes.startOf(k); a !== end; a = routes.next[a]!) this.#spots[count++] = a;
    }
    return this.#gatherEmpty(count);
  }

  /** First and last places of routes in use whose depot is near `v`, as spots; how many. */
  #gatherDepots(v: number): number {
    const { routes } = this;
    const { size, column, places } = routes;
    let count = 0;
    for (let k = 0; k < routes.routeCount; k++) {
      const start = routes.startOf(k);
      if (size[k] === 0 || this.#besideDepot[column[start]! * places + v] === 0) continue;
      this.#spots[count++] = start;
      this.#spots[count++] = routes.prev[routes.endOf(k)]!;
    }
    return count;
  }

  /** One empty vehicle of a kind is like another: the first of each, as spots from `from` on. */
  #gatherEmpty(from: number): number {
    const { routes } = this;
    const { size, kind } = routes;
    let count = from;
    if (routes.usedCount >= this.routeLimit) return count;
    for (let i = 0; i < this.#kindFrom.length; i++) {
      let k = this.#emptyHint[i]!;
      if (size[k] !== 0) {
        k = this.#kindFrom[i]!;
        while (k < routes.routeCount && kind[k] === i && size[k] !== 0) k++;
        if (k === routes.routeCount || kind[k] !== i) continue;
        this.#emptyHint[i] = k;
      }
      this.#spots[count++] = routes.startOf(k);
    }
    return count;
  }

  #sortOut(): void {
    const { routes } = this;
    const { out, outCount, demand, distance, column, ready, due } = routes;
    const random = this.#random;
    const key = this.#key;
    const order = random.below(17);
    for (let i = 0; i < outCount; i++) {
      const v = out[i]!;
      // Weights 4 4 2 1 2 2 2: random, demand, far, near, window length, opening, closing.
      if (order < 4) key[v] = random.next();
      else if (order < 8) key[v] = -demand[v]!;
      else if (order < 10) key[v] = -distance[column[v]!]!;
      else if (order < 11) key[v] = distance[column[v]!]!;
      else if (order < 13) key[v] = due[v]! - ready[v]!;
      else if (order < 15) key[v] = ready[v]!;
      else key[v] = -due[v]!;
    }
    sortByKey(out, outCount, key);
  }

  /** From now on vehicles may be loaded over what they carry, a mean load at `price` at first. */
  priceOverload(price: number): void {
    const { routes } = this;
    const carried = routes.demand.reduce((a, b) => a + b, 0);
    if (carried === 0) return;
    this.#overPrice = (price * routes.customers) / carried;
    this.#leastPrice = this.#overPrice * LEAST_PRICE;
    this.#mostPrice = this.#overPrice * MOST_PRICE;
  }

  /** The price follows how often all loads are carried, so that the search goes along the border. */
  #followOverload(): void {
    if (this.#overPrice === 0) return;
    if (this.routes.over < CARRIED) this.#carried++;
    if (++this.#pricedSteps < PRICE_EVERY) return;
    const change = this.#carried < CARRIED_SHARE * PRICE_EVERY ? PRICE_UP : PRICE_DOWN;
    this.#overPrice = Math.min(this.#mostPrice, Math.max(this.#leastPrice, change * this.#overPrice));
    this.#pricedSteps = 0;
    this.#carried = 0;
  }

  worth(): number {
    return this.routes.over < CARRIED ? this.total() : Number.POSITIVE_INFINITY;
  }

  total(): number {
    const { routes } = this;
    return this.#priced(routes.total, routes.outCount, routes.over);
  }

  #priced(distance: number, outCount: number, over: number): number {
    return distance + this.#unserved * outCount + this.#overPrice * over;
  }

  standing(): number {
    const { total, outCount, over } = this.#kept;
    return this.#priced(total, outCount, over);
  }

  accept(): void {
    const { routes } = this;
    const kept = this.#kept;
    for (let i = 0; i < this.#touchedCount; i++) {
      const k = this.#touched[i]!;
      copyRoute(routes, kept, k, routes);
    }
    for (let i = 0; i < routes.outCount; i++) kept.out[i] = routes.out[i]!;
    kept.outCount = routes.outCount;
    kept.usedCount = routes.usedCount;
    kept.total = routes.total;
    kept.over = routes.over;
    this.#touchedCount = 0;
    this.#step++;
  }

  undo(): void {
    const { routes } = this;
    const kept = this.#kept;
    for (let i = 0; i < this.#touchedCount; i++) {
      const k = this.#touched[i]!;
      copyRoute(kept, routes, k, routes);
      const end = routes.endOf(k);
      for (let v = routes.next[routes.startOf(k)]!; v !== end; v = routes.next[v]!) routes.route[v] = k;
    }
    for (let i = 0; i < kept.outCount; i++) {
      const v = kept.out[i]!;
      routes.out[i] = v;
      routes.route[v] = -1;
    }
    routes.outCount = kept.outCount;
    routes.usedCount = kept.usedCount;
    routes.total = kept.total;
    routes.over = kept.over;
    this.#touchedCount = 0;
    this.#step++;
  }

  keepAsBest(): void {
    this.#best.next.set(this.routes.next);
  }

  /** Builds the best routes anew from their order. */
  returnToBest(): void {
    const { routes } = this;
    for (let k = 0; k < routes.routeCount; k++) this.emptyRoute(k);
    for (let k = 0; k < routes.routeCount; k++) {
      const end = routes.endOf(k);
      this.#touch(k);
      for (let a = routes.startOf(k); this.#best.next[a] !== end; a = this.#best.next[a]!)
        routes.insert(this.#best.next[a]!, a);
    }
    routes.outCount = 0;
    for (let v = routes.firstCustomer; v < routes.places; v++)
      if (routes.route[v] === -1) routes.out[routes.outCount++] = v;
    this.accept();
  }
}

/** What is copied of a route when a state is kept or restored. */
interface RouteState {
  next: Int32Array;
  prev: Int32Array;
  leg: Float64Array;
  early: Float64Array;
  late: Float64Array;
  dutyBefore: Float64Array;
  startBefore: Float64Array;
  dutyBehind: Float64Array;
  startBehind: Float64Array;
  size: Int32Array;
  load: Float64Array;
}

function copyRoute(from: RouteState, to: RouteState, k: number, routes: Routes): void {
  const { next, prev, early, late } = from;
  const { isTimed } = routes;
  const end = routes.endOf(k);
  for (let a = routes.startOf(k); ; a = next[a]!) {
    to.next[a] = next[a]!;
    to.prev[a] = prev[a]!;
    to.leg[a] = from.leg[a]!;
    to.early[a] = early[a]!;
    to.late[a] = late[a]!;
    if (isTimed) {
      to.dutyBefore[a] = from.dutyBefore[a]!;
      to.startBefore[a] = from.startBefore[a]!;
      to.dutyBehind[a] = from.dutyBehind[a]!;
      to.startBehind[a] = from.startBehind[a]!;
    }
    if (a === end) break;
  }
  to.size[k] = from.size[k]!;
  to.load[k] = from.load[k]!;
}
