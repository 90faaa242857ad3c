/** Every plan of a tiny cutting problem, tried one by one: the truth that the method is held against. */

export interface TinyStock {
  lengthCm: number;
  day: number;
  price: number;
  isUncut: boolean;
  /** Where it stands; absent = wherever it is wanted. */
  place?: number;
}

export interface TinyProblem {
  /** Run length with saw allowance, cm. */
  sizes: number[];
  needDays: number[];
  ends: number[];
  onHand: TinyStock[];
  kinds: TinyStock[];
  minUseful: number;
  /** Place that wants each run; absent = places are left aside. */
  places?: number[];
  /** Days from place to place; Infinity = nothing is sent that way. */
  over?: number[][];
}

function dayAt(p: TinyProblem, drum: TinyStock, run: number): number {
  return drum.place === undefined || !p.places ? drum.day : drum.day + p.over![drum.place]![p.places[run]!]!;
}

/** Least cost over all plans, terms in the order of docs/methods/drums.md. Exponential: up to six runs. */
export function leastCost(p: TinyProblem): number[] {
  let best: number[] | undefined;
  const drums: TinyStock[] = [...p.onHand];
  const place: number[] = [];
  const free: number[] = drums.map((d) => d.lengthCm);
  // Runs late, uncut and the price only grow as runs are added: what is dearer already need not be gone on with.
  const isDearer = (runs: number): boolean =>
    best !== undefined && isLess(best.slice(0, 4), costOfPlan(p, drums, place.slice(0, runs)).slice(0, 4));
  const tryRun = (run: number) => {
    if (isDearer(run)) return;
    if (run === p.sizes.length) {
      const cost = costOfPlan(p, drums, place);
      if (!best || isLess(cost, best)) best = cost;
      return;
    }
    const size = p.sizes[run]!;
    for (let d = 0; d < drums.length; d++) {
      if (free[d]! < size || dayAt(p, drums[d]!, run) === Number.POSITIVE_INFINITY) continue;
      place[run] = d;
      free[d]! -= size;
      tryRun(run + 1);
      free[d]! += size;
    }
    for (const kind of p.kinds) {
      if (kind.lengthCm < size || dayAt(p, kind, run) === Number.POSITIVE_INFINITY) continue;
      place[run] = drums.push(kind) - 1;
      free.push(kind.lengthCm - size);
      tryRun(run + 1);
      drums.pop();
      free.pop();
    }
    place[run] = -1;
    tryRun(run + 1);
  };
  tryRun(0);
  return best!;
}

function costOfPlan(p: TinyProblem, drums: readonly TinyStock[], place: readonly number[]): number[] {
  let uncut = 0;
  let late = 0;
  let lateDays = 0;
  let sent = 0;
  for (const [run, d] of place.entries()) {
    if (d < 0) {
      uncut++;
      continue;
    }
    if (p.places && drums[d]!.place !== undefined && drums[d]!.place !== p.places[run]) sent++;
    const day = dayAt(p, drums[d]!, run);
    if (day > p.needDays[run]!) {
      late++;
      lateDays += day - p.needDays[run]!;
    }
  }
  let price = 0;
  let opened = 0;
  let scrap = 0;
  let partUsed = 0;
  for (const [d, stock] of drums.entries()) {
    const own = p.sizes.filter((_, run) => place[run] === d);
    const left = stock.lengthCm - own.reduce((sum, size) => sum + size, 0);
    price += stock.price;
    if (d < p.onHand.length && stock.isUncut && own.length > 0) opened++;
    if (left === 0 || (stock.isUncut && own.length === 0)) continue;
    if (left < p.minUseful) scrap += left;
    else partUsed++;
  }
  const pairs = new Set(place.flatMap((d, run) => (d < 0 ? [] : [`${p.ends[run]}/${d}`])));
  const ends = new Set(place.flatMap((d, run) => (d < 0 ? [] : [p.ends[run]])));
  const bought = drums.length - p.onHand.length;
  return [uncut, late, lateDays, price, bought, sent, opened, scrap, partUsed, pairs.size - ends.size];
}

export function isLess(a: readonly number[], b: readonly number[]): boolean {
  for (let k = 0; k < a.length; k++) if (a[k] !== b[k]) return a[k]! < b[k]!;
  return false;
}

/** Fewest bins by trying everything; up to nine items. */
export function fewestBins(items: readonly number[], capacity: number): number {
  let best = items.length;
  const free: number[] = [];
  const place = (k: number) => {
    if (free.length >= best) return;
    if (k === items.length) {
      best = free.length;
      return;
    }
    for (let b = 0; b < free.length; b++) {
      if (free[b]! < items[k]!) continue;
      free[b]! -= items[k]!;
      place(k + 1);
      free[b]! += items[k]!;
    }
    free.push(capacity - items[k]!);
    place(k + 1);
    free.pop();
  };
  place(0);
  return items.length === 0 ? 0 : best;
}
