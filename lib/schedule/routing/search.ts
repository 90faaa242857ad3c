/**
 * Ruin and recreate on routes as published: adjacent string removal and greedy insertion with blinks (Christiaens and
 * Vanden Berghe 2020, with their parameters: ten customers removed on average, strings of at most ten, half of them
 * split, one place in a hundred not looked at).
 */
import type { Random } from "@/lib/random";
import type { Search } from "../improve";
import { Blink } from "../insert/blink";
import type { Routes } from "./routes";

const MEAN_REMOVED = 10;
const MAX_STRING = 10;
const SPLIT_RATE = 0.5;
const SPLIT_GROWS = 0.99;
const BLINK_RATE = 0.01;
/** Weight of an unserved customer against any distance. */
const UNSERVED = 1e6;

export function routeSearch(routes: Routes, random: Random): Search {
  const n = routes.customers;
  const { next, prev, route, early, late, service, ready, due, demand, distance, row, column, load, size } =
    routes;
  const blink = new Blink(random.fork("blink"), BLINK_RATE);
  const near = nearestCustomers(routes);
  const out = new Int32Array(n);
  let outCount = 0;
  for (let v = 1; v <= n; v++) out[outCount++] = v;
  const ruined = new Int32Array(routes.routeCount);
  const key = new Float64Array(n + 1);
  const keep = { ints: routes.ints.slice(), reals: routes.reals.slice() };
  const best = { ints: routes.ints.slice(), reals: routes.reals.slice() };
  let step = 0;

  function take(v: number): void {
    routes.remove(v);
    out[outCount++] = v;
  }

  /** A string of `length` customers of one route with `v` in it; split: some in the middle stay. */
  function takeString(v: number, length: number): void {
    const k = route[v]!;
    let kept = 0;
    if (length > 1 && random.next() < SPLIT_RATE) {
      const most = size[k]! - length;
      kept = most > 0 ? 1 : 0;
      while (kept < most && random.next() < SPLIT_GROWS * 0.5) kept++;
    }
    const whole = length + kept;
    // Customers before and behind v limit where the string may begin.
    let before = 0;
    const start = routes.startOf(k);
    for (let u = prev[v]!; u !== start && before < whole - 1; u = prev[u]!) before++;
    let behind = 0;
    const end = routes.endOf(k);
    for (let u = next[v]!; u !== end && behind < whole - 1; u = next[u]!) behind++;
    const least = Math.max(0, whole - 1 - behind);
    let u = v;
    for (let back = least + random.below(Math.min(before, whole - 1) - least + 1); back > 0; back--)
      u = prev[u]!;
    const keepFrom = kept > 0 ? 1 + random.below(length - 1) : whole;
    for (let i = 0; i < whole; i++) {
      const following = next[u]!;
      if (i < keepFrom || i >= keepFrom + kept) take(u);
      u = following;
    }
    routes.settle(k);
  }

  /** Cheapest place of `v`, with blinks; behind which node, or -1. */
  function cheapest(v: number): number {
    let bestCost = Number.POSITIVE_INFINITY;
    let bestAfter = -1;
    let emptySeen = false;
    const rowV = row[v]!;
    const columnV = column[v]!;
    const readyV = ready[v]!;
    const dueV = due[v]!;
    const serviceV = service[v]!;
    for (let k = 0; k < routes.routeCount; k++) {
      if (load[k]! + demand[v]! > routes.capacity) continue;
      if (size[k] === 0) {
        if (emptySeen) continue; // one empty vehicle is like another
        emptySeen = true;
      }
      const end = routes.endOf(k);
      let a = routes.startOf(k);
      while (a !== end) {
        const leaves = early[a]! + service[a]!;
        if (leaves > dueV) break; // later places are later still
        const b = next[a]!;
        const toV = distance[row[a]! + columnV]!;
        const arrives = leaves + toV;
        if (arrives <= dueV) {
          const fromV = distance[rowV + column[b]!]!;
          if ((arrives > readyV ? arrives : readyV) + serviceV + fromV <= late[b]!) {
            const cost = toV + fromV - (size[k] === 0 ? 0 : distance[row[a]! + column[b]!]!);
            if (cost < bestCost && !blink.now()) {
              bestCost = cost;
              bestAfter = a;
            }
          }
        }
        a = b;
      }
    }
    return bestAfter;
  }

  function sortOut(): void {
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
    for (let i = 1; i < outCount; i++) {
      const v = out[i]!;
      let j = i;
      for (; j > 0 && (key[out[j - 1]!]! > key[v]! || (key[out[j - 1]!] === key[v] && out[j - 1]! > v)); j--)
        out[j] = out[j - 1]!;
      out[j] = v;
    }
  }

  return {
    ruin() {
      step++;
      let served = 0;
      let used = 0;
      for (let k = 0; k < routes.routeCount; k++) {
        served += size[k]!;
        if (size[k]! > 0) used++;
      }
      outCount = 0;
      for (let v = 1; v <= n; v++) if (route[v] === -1) out[outCount++] = v;
      if (used === 0) return;
      const longest = Math.min(MAX_STRING, served / used);
      const strings = Math.floor(random.next() * ((4 * MEAN_REMOVED) / (1 + longest))) + 1;
      const seed = 1 + random.below(n);
      let cut = 0;
      for (const v of near[seed]!) {
        if (cut >= strings) break;
        const k = route[v]!;
        if (k === -1 || ruined[k] === step) continue;
        ruined[k] = step;
        cut++;
        takeString(v, 1 + Math.floor(random.next() * Math.min(size[k]!, longest)));
      }
    },
    recreate() {
      sortOut();
      for (let i = 0; i < outCount; i++) {
        const after = cheapest(out[i]!);
        if (after >= 0) routes.insert(out[i]!, after);
      }
    },
    total: () => routes.sums[0]! + UNSERVED * routes.sums[1]!,
    accept() {
      keep.ints.set(routes.ints);
      keep.reals.set(routes.reals);
    },
    undo() {
      routes.ints.set(keep.ints);
      routes.reals.set(keep.reals);
    },
    keepAsBest() {
      best.ints.set(routes.ints);
      best.reals.set(routes.reals);
    },
    returnToBest() {
      routes.ints.set(best.ints);
      routes.reals.set(best.reals);
    },
  };
}

/** For every customer all customers, itself first, then by distance (both ways). */
function nearestCustomers(routes: Routes): Int32Array[] {
  const { customers: n, places, distance } = routes;
  return Array.from({ length: n + 1 }, (_, v) => {
    if (v === 0) return new Int32Array(0);
    const far = (u: number) => (u === v ? -1 : distance[v * places + u]! + distance[u * places + v]!);
    const list = Array.from({ length: n }, (_, i) => i + 1).map((u) => ({ u, far: far(u) }));
    list.sort((a, b) => a.far - b.far || a.u - b.u);
    return Int32Array.from(list, (x) => x.u);
  });
}
