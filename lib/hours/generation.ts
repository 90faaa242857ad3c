/** Schedule generation for one project: serial scheme, backward pass, priority rules. Time unit = the project's. */
import { precedenceOrder } from "./cpm";
import { ResourceProfile } from "./profile";
import type { Project, ProjectSpan } from "./project";

/** A project with what every pass needs, computed once. */
export interface PreparedProject extends Project {
  count: number;
  predecessors: readonly (readonly number[])[];
  /** A precedence-feasible order. */
  order: readonly number[];
  /** Longest path before the task starts, without resources. */
  head: readonly number[];
  /** Longest path after the task ends, without resources. */
  tail: readonly number[];
  /** Direct and indirect successors of each task. */
  followers: readonly number[];
  /** Only the proof search knows spans; the serial scheme does not. */
  spans?: readonly ProjectSpan[];
}

export function prepareProject(project: Project): PreparedProject {
  const count = project.durations.length;
  const predecessors: number[][] = Array.from({ length: count }, () => []);
  for (const [i, list] of project.successors.entries()) for (const j of list) predecessors[j]!.push(i);
  const order = precedenceOrder(predecessors);
  const head = new Array<number>(count).fill(0);
  for (const i of order) {
    for (const j of project.successors[i]!) head[j] = Math.max(head[j]!, head[i]! + project.durations[i]!);
  }
  const tail = new Array<number>(count).fill(0);
  for (const i of [...order].reverse()) {
    for (const j of project.successors[i]!) tail[i] = Math.max(tail[i]!, tail[j]! + project.durations[j]!);
  }
  const reach = reachability(project.successors, order);
  const followers = order.map((_, i) => reach.followers(i));
  return { ...project, count, predecessors, order, head, tail, followers };
}

/** Which tasks follow which, directly or not. */
export interface Reachability {
  isBefore: (i: number, j: number) => boolean;
  /** How many tasks follow task i. */
  followers: (i: number) => number;
}

/** @param order the tasks in precedence order */
export function reachability(
  successors: readonly (readonly number[])[],
  order: readonly number[],
): Reachability {
  const words = Math.ceil(order.length / 32);
  const reach = new Int32Array(order.length * words); // bit j of row i: j follows i
  for (let k = order.length - 1; k >= 0; k--) {
    const i = order[k]!;
    for (const j of successors[i]!) {
      reach[i * words + (j >> 5)]! |= 1 << (j & 31);
      for (let w = 0; w < words; w++) reach[i * words + w]! |= reach[j * words + w]!;
    }
  }
  return {
    isBefore: (i, j) => (reach[i * words + (j >> 5)]! & (1 << (j & 31))) !== 0,
    followers: (i) => {
      let sum = 0;
      for (let w = 0; w < words; w++) sum += bitCount(reach[i * words + w]!);
      return sum;
    },
  };
}

/** Number of set bits of a 32-bit number. */
export function bitCount(bits: number): number {
  let b = bits - ((bits >>> 1) & 0x55555555);
  b = (b & 0x33333333) + ((b >>> 2) & 0x33333333);
  return Math.imul((b + (b >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

/** Serial schedule generation, forward and backward, on one reused profile. */
export class ScheduleGenerator {
  readonly #p: PreparedProject;
  readonly #profile: ResourceProfile;

  constructor(prepared: PreparedProject) {
    this.#p = prepared;
    this.#profile = new ResourceProfile(prepared.capacities, prepared.count);
  }

  /** Each task of the list as early as precedence and resources allow. The list must respect precedence. */
  forward(list: readonly number[]): number[] {
    const { durations, predecessors, demands } = this.#p;
    this.#profile.clear();
    const starts = new Array<number>(this.#p.count).fill(0);
    for (const i of list) {
      let from = 0;
      for (const h of predecessors[i]!) from = Math.max(from, starts[h]! + durations[h]!);
      const at = this.#profile.earliestFit(from, durations[i]!, demands[i]!);
      this.#profile.add(at, durations[i]!, demands[i]!);
      starts[i] = at;
    }
    return starts;
  }

  /** The mirror: each task as late as possible before time 0; returns distances of the ends from the project's end. */
  backward(list: readonly number[]): number[] {
    const { durations, successors, demands } = this.#p;
    this.#profile.clear();
    const back = new Array<number>(this.#p.count).fill(0);
    for (let k = list.length - 1; k >= 0; k--) {
      const i = list[k]!;
      let from = 0;
      for (const j of successors[i]!) from = Math.max(from, back[j]! + durations[j]!);
      const at = this.#profile.earliestFit(from, durations[i]!, demands[i]!);
      this.#profile.add(at, durations[i]!, demands[i]!);
      back[i] = at;
    }
    return back;
  }

  /**
   * Forward-backward improvement, also known as double justification (Valls, Ballestin and Quintanilla 2005):
   * pack to the right by latest end, then to the left by earliest start. Never longer than what came in.
   */
  justify(starts: readonly number[]): number[] {
    const { durations } = this.#p;
    const byEnd = this.sorted((i) => starts[i]! + durations[i]!);
    const back = this.backward(byEnd);
    const byStart = this.sorted((i) => -(back[i]! + durations[i]!));
    return this.forward(byStart);
  }

  /** Tasks in precedence order, ready ones by smallest key; ties by index. */
  listBy(key: (i: number) => number): number[] {
    const { predecessors, successors, count } = this.#p;
    const waits = predecessors.map((list) => list.length);
    const ready: number[] = [];
    for (let i = 0; i < count; i++) if (waits[i] === 0) ready.push(i);
    const list: number[] = [];
    while (ready.length > 0) {
      let best = 0;
      for (let k = 1; k < ready.length; k++) {
        const d = key(ready[k]!) - key(ready[best]!);
        if (d < 0 || (d === 0 && ready[k]! < ready[best]!)) best = k;
      }
      const i = ready[best]!;
      ready[best] = ready[ready.length - 1]!;
      ready.pop();
      list.push(i);
      for (const j of successors[i]!) if (--waits[j]! === 0) ready.push(j);
    }
    return list;
  }

  /** All tasks by key, ties in precedence order. */
  sorted(key: (i: number) => number): number[] {
    const rank = new Array<number>(this.#p.count);
    for (const [k, i] of this.#p.order.entries()) rank[i] = k;
    return [...this.#p.order].sort((a, b) => key(a) - key(b) || rank[a]! - rank[b]!);
  }

  makespan(starts: readonly number[]): number {
    let end = 0;
    for (let i = 0; i < this.#p.count; i++) end = Math.max(end, starts[i]! + this.#p.durations[i]!);
    return end;
  }
}

/** Priority rules known from the literature (Kolisch 1996), smallest key first. */
export function priorityRules(p: PreparedProject): ((i: number) => number)[] {
  return [
    (i) => -p.tail[i]! - p.durations[i]!, // latest start first (LST): longest tail from the start
    (i) => -p.tail[i]!, // latest finish first (LFT)
    (i) => -p.followers[i]!, // most total successors (MTS)
    (i) => -(p.durations[i]! + p.successors[i]!.reduce((s, j) => s + p.durations[j]!, 0)), // rank positional weight
    (i) => p.head[i]!, // earliest start (EST)
  ];
}
