/**
 * Ruin and recreate on joint visits. Removal by strings of neighbouring routes as in search.ts; a visit goes out with
 * both its parts. Every place is first judged by what it must cost at least (the detour, and the tardiness of the part
 * itself at its arrival); in that order the places are reckoned through, until none left can be cheaper.
 */
import type { Random } from "@/lib/random";
import type { Search } from "../improve";
import { Blink } from "../insert/blink";
import type { JointRoutes } from "./jointRoutes";
import { sortByKey } from "./order";

const MEAN_REMOVED = 6;
const MAX_STRING = 6;
const BLINK_RATE = 0.01;
/** Weight of the difference in time against the way when visits count as near. */
const TIME_WEIGHT = 0.3;

/** Places for one part, by what they cost at least. */
class Spots {
  readonly after: Int32Array;
  /** Detour, and tardiness that is sure: its own and the next stop's. */
  readonly least: Float64Array;
  readonly way: Float64Array;
  readonly arrival: Float64Array;
  count = 0;

  constructor(most: number) {
    this.after = new Int32Array(most);
    this.least = new Float64Array(most);
    this.way = new Float64Array(most);
    this.arrival = new Float64Array(most);
  }

  add(after: number, least: number, way: number, arrival: number): void {
    let i = this.count++;
    for (; i > 0 && this.least[i - 1]! > least; i--) {
      this.after[i] = this.after[i - 1]!;
      this.least[i] = this.least[i - 1]!;
      this.way[i] = this.way[i - 1]!;
      this.arrival[i] = this.arrival[i - 1]!;
    }
    this.after[i] = after;
    this.least[i] = least;
    this.way[i] = way;
    this.arrival[i] = arrival;
  }
}

export class JointSearch implements Search {
  readonly routes: JointRoutes;
  readonly #random: Random;
  readonly #blink: Blink;
  readonly #near: Int32Array[];
  readonly #first: Spots;
  readonly #second: Spots;
  readonly #out: Int32Array;
  #outCount = 0;
  readonly #key: Float64Array;
  readonly #ruined: Int32Array;
  #ruin = 0;
  readonly #kept;
  readonly #best;
  /** Price of a visit not placed: more than any plan costs. */
  readonly #unplaced = 1e12;

  constructor(routes: JointRoutes, random: Random) {
    this.routes = routes;
    this.#random = random;
    this.#blink = new Blink(random.fork("blink"), BLINK_RATE);
    this.#near = nearestVisits(routes);
    this.#first = new Spots(routes.nodes);
    this.#second = new Spots(routes.nodes);
    this.#out = Int32Array.from({ length: routes.visits }, (_, i) => i);
    this.#outCount = routes.visits;
    this.#key = new Float64Array(routes.visits);
    this.#ruined = new Int32Array(routes.crews);
    this.#kept = { ints: routes.ints.slice(), reals: routes.reals.slice() };
    this.#best = { ints: routes.ints.slice(), reals: routes.reals.slice() };
  }

  ruin(): void {
    const { routes } = this;
    const random = this.#random;
    this.#outCount = 0;
    let placed = 0;
    let used = 0;
    for (let k = 0; k < routes.crews; k++) {
      placed += routes.size[k]!;
      if (routes.size[k]! > 0) used++;
    }
    for (let i = 0; i < routes.visits; i++) if (routes.crew[2 * i] === -1) this.#out[this.#outCount++] = i;
    if (used === 0) return;
    const longest = Math.min(MAX_STRING, placed / used);
    const strings = Math.floor(random.next() * ((4 * MEAN_REMOVED) / (1 + longest))) + 1;
    const near = this.#near[random.below(routes.visits)]!;
    const ruin = ++this.#ruin;
    for (let i = 0, cut = 0; i < near.length && cut < strings; i++) {
      for (let part = 0; part < 2; part++) {
        const v = 2 * near[i]! + part;
        const k = routes.crew[v]!;
        if (k === -1 || this.#ruined[k] === ruin) continue;
        this.#ruined[k] = ruin;
        cut++;
        this.#takeString(v, 1 + Math.floor(random.next() * Math.min(routes.size[k]!, longest)));
      }
    }
    routes.restart();
  }

  /** `length` consecutive stops of one crew with `v` among them, as far as the route goes. */
  #takeString(v: number, length: number): void {
    const { routes } = this;
    const start = routes.startOf(routes.crew[v]!);
    const end = routes.endOf(routes.crew[v]!);
    let u = v;
    for (let back = this.#random.below(length); back > 0 && routes.prev[u] !== start; back--)
      u = routes.prev[u]!;
    for (let i = 0; i < length && u !== end; i++) {
      // The visit's other part may be further down the same chain of removals, never on the same route.
      const following = routes.next[u]!;
      this.#take(u >> 1);
      u = following;
    }
  }

  #take(visit: number): void {
    const { routes } = this;
    routes.unlink(2 * visit);
    if (routes.other[2 * visit]! >= 0) routes.unlink(2 * visit + 1);
    routes.sums[3]! += 1;
    this.#out[this.#outCount++] = visit;
  }

  recreate(): void {
    this.#sortOut();
    for (let i = 0; i < this.#outCount; i++) {
      const visit = this.#out[i]!;
      if (this.routes.other[2 * visit]! < 0) this.#insertOne(2 * visit);
      else this.#insertTwo(2 * visit);
    }
  }

  /** All places of one part, cheapest first by what they cost at least. */
  #spotsOf(v: number, spots: Spots): void {
    const { routes } = this;
    const { next, start, duration, ready, size, nodes, mayDo, row, column, distance } = routes;
    const rowV = row[v]!;
    const columnV = column[v]!;
    spots.count = 0;
    for (let k = 0; k < routes.crews; k++) {
      if (mayDo[k * nodes + v] === 0) continue;
      const end = routes.endOf(k);
      for (let a = routes.startOf(k); a !== end; a = next[a]!) {
        const b = next[a]!;
        const toV = distance[row[a]! + columnV]!;
        const fromV = distance[rowV + column[b]!]!;
        const way = toV + fromV - (size[k] === 0 ? 0 : distance[row[a]! + column[b]!]!);
        const arrives = start[a]! + duration[a]! + toV;
        const begins = arrives > ready[v]! ? arrives : ready[v]!;
        spots.add(a, way + this.#sureTardiness(v, b, begins), way, arrives);
      }
    }
  }

  /** Tardiness of `v` when it begins so, and what it adds to that of the next stop `b`. */
  #sureTardiness(v: number, b: number, begins: number): number {
    const { start, due, duration, row, column, distance } = this.routes;
    const own = begins > due[v]! ? begins - due[v]! : 0;
    const then = begins + duration[v]! + distance[row[v]! + column[b]!]!;
    if (then <= start[b]! || then <= due[b]!) return own;
    return own + then - (start[b]! > due[b]! ? start[b]! : due[b]!);
  }

  #insertOne(v: number): void {
    const { routes } = this;
    const spots = this.#first;
    this.#spotsOf(v, spots);
    let best = Number.POSITIVE_INFINITY;
    let after = -1;
    for (let i = 0; i < spots.count && spots.least[i]! < best; i++) {
      if (this.#blink.now()) continue;
      const cost = spots.way[i]! + routes.trial(v, spots.after[i]!, -1, -1, best - spots.way[i]!);
      if (cost < best) {
        best = cost;
        after = spots.after[i]!;
      }
    }
    if (after >= 0) routes.tryInsert(v, after, -1, -1, Number.POSITIVE_INFINITY);
  }

  #insertTwo(v: number): void {
    const { routes } = this;
    const { crew, next, ready, lag } = routes;
    const [first, second] = [this.#first, this.#second];
    this.#spotsOf(v, first);
    this.#spotsOf(v + 1, second);
    let best = Number.POSITIVE_INFINITY;
    let after = -1;
    let secondAfter = -1;
    for (let i = 0; i < first.count && first.least[i]! + second.least[0]! < best; i++) {
      if (this.#blink.now()) continue;
      const a = first.after[i]!;
      for (let j = 0; j < second.count && first.least[i]! + second.least[j]! < best; j++) {
        const b = second.after[j]!;
        if (crew[a] === crew[b]) continue;
        const way = first.way[i]! + second.way[j]!;
        // Each part waits for the other: that much tardiness is sure.
        const arrives = Math.max(second.arrival[j]!, ready[v + 1]!);
        const one = Math.max(first.arrival[i]!, ready[v]!, arrives + lag[v + 1]!);
        const two = Math.max(arrives, one + lag[v]!);
        const sure = this.#sureTardiness(v, next[a]!, one) + this.#sureTardiness(v + 1, next[b]!, two);
        if (way + sure >= best) continue;
        const cost = way + routes.trial(v, a, v + 1, b, best - way);
        if (cost < best) {
          best = cost;
          after = a;
          secondAfter = b;
        }
      }
    }
    if (after >= 0) routes.tryInsert(v, after, v + 1, secondAfter, Number.POSITIVE_INFINITY);
  }

  #sortOut(): void {
    const { routes } = this;
    const out = this.#out;
    const key = this.#key;
    const order = this.#random.below(4);
    for (let i = 0; i < this.#outCount; i++) {
      const visit = out[i]!;
      // By chance, by opening, by wished end, far from the depot first.
      if (order === 0) key[visit] = this.#random.next();
      else if (order === 1) key[visit] = routes.ready[2 * visit]!;
      else if (order === 2) key[visit] = -routes.due[2 * visit]!;
      else key[visit] = -routes.distance[routes.column[2 * visit]!]!;
    }
    sortByKey(out, this.#outCount, key);
  }

  total(): number {
    const { sums } = this.routes;
    return sums[0]! + sums[1]! + sums[2]! + this.#unplaced * sums[3]!;
  }

  accept(): void {
    this.#kept.ints.set(this.routes.ints);
    this.#kept.reals.set(this.routes.reals);
  }

  undo(): void {
    this.routes.ints.set(this.#kept.ints);
    this.routes.reals.set(this.#kept.reals);
  }

  keepAsBest(): void {
    this.#best.ints.set(this.routes.ints);
    this.#best.reals.set(this.routes.reals);
  }

  returnToBest(): void {
    this.routes.ints.set(this.#best.ints);
    this.routes.reals.set(this.#best.reals);
  }
}

/** For every visit all visits, itself first, then by way and difference in time. */
function nearestVisits(routes: JointRoutes): Int32Array[] {
  const { visits, ready } = routes;
  return Array.from({ length: visits }, (_, i) => {
    const far = Float64Array.from({ length: visits }, (_, j) =>
      i === j ? -1 : routes.way(2 * i, 2 * j) + TIME_WEIGHT * Math.abs(ready[2 * i]! - ready[2 * j]!),
    );
    return Int32Array.from({ length: visits }, (_, j) => j).sort((a, b) => far[a]! - far[b]! || a - b);
  });
}
