import type { PreparedProject } from "./generation";

/**
 * Receives a bound that a resource forces, with the bounds that explain it; y = -1 means that these cannot hold
 * together. Returns false to stop. The explanation is reused: copy it.
 */
export type Force = (y: number, value: number, explanation: readonly number[]) => boolean;

/** What occupies a resource from the start of `first` to the end of `last`: a task (first = last), or a span of tasks. */
interface Part {
  first: number;
  last: number;
  demand: number;
}

/**
 * Time-table reasoning for all resources: a task that starts before it can have ended occupies its resources in
 * between whatever happens. Where these parts leave no room, other tasks must move. Explanations are for one point in
 * time (Schutt et al. 2011). Bounds as in proof.ts: bound[2i] = earliest start, -bound[2i + 1] = latest start.
 */
export class Timetable {
  readonly #p: PreparedProject;
  /** Per resource, largest demand first: explanations stay short. */
  readonly #parts: readonly (readonly Part[])[];
  readonly #resourcesOf: readonly (readonly number[])[];
  readonly #isDirty: Uint8Array;
  /* Profile of the resource at hand: constant pieces [time[k], time[k + 1]). */
  readonly #time: Int32Array;
  readonly #height: Int32Array;
  #pieces = 0;
  readonly #explanation: number[] = [];

  constructor(p: PreparedProject) {
    this.#p = p;
    const tasks = Array.from({ length: p.count }, (_, i) => i);
    this.#parts = p.capacities.map((_, r) => partsOf(p, r));
    this.#resourcesOf = tasks.map((i) =>
      p.capacities.flatMap((_, r) =>
        this.#parts[r]!.some((part) => part.first === i || part.last === i) ? [r] : [],
      ),
    );
    this.#isDirty = new Uint8Array(p.capacities.length).fill(1);
    this.#time = new Int32Array(2 * (p.count + (p.spans?.length ?? 0)) + 2);
    this.#height = new Int32Array(2 * (p.count + (p.spans?.length ?? 0)) + 2);
  }

  /** A bound of the task has changed. */
  touch(task: number): void {
    for (const r of this.#resourcesOf[task]!) this.#isDirty[r] = 1;
  }

  /** Looks at every resource touched since the last time. @returns false when `force` did */
  propagate(bound: Int32Array, force: Force): boolean {
    for (let r = 0; r < this.#isDirty.length; r++) {
      if (!this.#isDirty[r]) continue;
      if (!this.#propagateResource(r, bound, force)) return false;
      this.#isDirty[r] = 0;
    }
    return true;
  }

  #propagateResource(r: number, bound: Int32Array, force: Force): boolean {
    const capacity = this.#p.capacities[r]!;
    this.#buildProfile(r, bound);
    let highest = 0;
    for (let k = 0; k < this.#pieces; k++) {
      if (this.#height[k]! > capacity) {
        this.#explain(r, this.#time[k]!, -1, capacity + 1, bound);
        return force(-1, 0, this.#explanation);
      }
      highest = Math.max(highest, this.#height[k]!);
    }
    for (const { first: i, last, demand } of this.#parts[r]!) {
      if (highest + demand <= capacity) break; // the rest ask for less
      if (i !== last || bound[2 * i]! + bound[2 * i + 1]! === 0) continue;
      if (!this.#pushLater(r, i, bound, force) || !this.#pushEarlier(r, i, bound, force)) return false;
    }
    return true;
  }

  #buildProfile(r: number, bound: Int32Array): void {
    const { durations } = this.#p;
    const time = this.#time;
    const height = this.#height;
    let n = 0;
    const change = (at: number, by: number): void => {
      let k = n;
      while (k > 0 && time[k - 1]! > at) k--;
      if (k > 0 && time[k - 1] === at) {
        height[k - 1]! += by;
        return;
      }
      for (let m = n; m > k; m--) {
        time[m] = time[m - 1]!;
        height[m] = height[m - 1]!;
      }
      time[k] = at;
      height[k] = by;
      n++;
    };
    for (const { first, last, demand } of this.#parts[r]!) {
      const from = -bound[2 * first + 1]!;
      const to = bound[2 * last]! + durations[last]!;
      if (from >= to) continue;
      change(from, demand);
      change(to, -demand);
    }
    for (let k = 1; k < n; k++) height[k]! += height[k - 1]!;
    this.#pieces = n;
  }

  #pushLater(r: number, i: number, bound: Int32Array, force: Force): boolean {
    const d = this.#p.durations[i]!;
    const room = this.#p.capacities[r]! - this.#p.demands[i]![r]!;
    for (let k = 0; k < this.#pieces - 1; k++) {
      const to = this.#time[k + 1]!;
      while (to > bound[2 * i]! && this.#time[k]! < bound[2 * i]! + d && this.#isFull(k, r, i, room, bound)) {
        const at = Math.min(to, bound[2 * i]! + d) - 1;
        this.#explain(r, at, i, room + 1, bound);
        this.#explanation.push(2 * i, at - d + 1);
        if (!force(2 * i, at + 1, this.#explanation)) return false;
      }
    }
    return true;
  }

  #pushEarlier(r: number, i: number, bound: Int32Array, force: Force): boolean {
    const d = this.#p.durations[i]!;
    const room = this.#p.capacities[r]! - this.#p.demands[i]![r]!;
    for (let k = this.#pieces - 2; k >= 0; k--) {
      const from = this.#time[k]!;
      const to = this.#time[k + 1]!;
      for (;;) {
        const latest = -bound[2 * i + 1]!;
        if (from >= latest + d || to <= latest || !this.#isFull(k, r, i, room, bound)) break;
        const at = Math.max(from, latest);
        this.#explain(r, at, i, room + 1, bound);
        this.#explanation.push(2 * i + 1, -at);
        if (!force(2 * i + 1, d - at, this.#explanation)) return false;
      }
    }
    return true;
  }

  /** Is piece k too high for task i, its own part left out? */
  #isFull(k: number, r: number, i: number, room: number, bound: Int32Array): boolean {
    const height = this.#height[k]!;
    if (height <= room) return false;
    const from = -bound[2 * i + 1]!;
    const to = bound[2 * i]! + this.#p.durations[i]!;
    const isOwn = from < to && from <= this.#time[k]! && this.#time[k]! < to;
    return !isOwn || height - this.#p.demands[i]![r]! > room;
  }

  /** Parts other than task `except` that occupy the resource at time `at`, until they ask for `enough`. */
  #explain(r: number, at: number, except: number, enough: number, bound: Int32Array): void {
    const out = this.#explanation;
    out.length = 0;
    let sum = 0;
    for (const { first, last, demand } of this.#parts[r]!) {
      if (first === except && last === except) continue;
      const d = this.#p.durations[last]!;
      if (-bound[2 * first + 1]! > at || bound[2 * last]! + d <= at) continue;
      out.push(2 * first + 1, -at, 2 * last, at - d + 1);
      sum += demand;
      if (sum >= enough) return;
    }
  }
}

function partsOf(p: PreparedProject, r: number): Part[] {
  const parts: Part[] = [];
  for (let i = 0; i < p.count; i++) {
    const demand = p.demands[i]![r]!;
    if (demand > 0 && p.durations[i]! > 0) parts.push({ first: i, last: i, demand });
  }
  for (const span of p.spans ?? []) {
    if (span.demands[r]! > 0) parts.push({ first: span.first, last: span.last, demand: span.demands[r]! });
  }
  return parts.sort((a, b) => b.demand - a.demand || a.first - b.first || a.last - b.last);
}
