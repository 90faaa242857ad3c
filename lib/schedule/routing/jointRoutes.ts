/**
 * Routes whose stops may wait for each other. Every part of a visit is a node on one crew's chain; a part starts as
 * early as the chain before it, its own earliest time and its other part allow. Those starts are the least solution of
 * difference constraints, and no lateness can be less than theirs. A circle of waits shows itself when a
 * part just put in would have to start later because of what it puts off.
 *
 * Nodes: part p of visit i is 2i + p (of single visits the second is unused), then starts, then ends of the crews.
 */
import type { JointCase, JointStop } from "./joint";

export class JointRoutes {
  readonly case: JointCase;
  readonly visits: number;
  readonly crews: number;
  readonly nodes: number;
  readonly distance: Float64Array;
  readonly row: Int32Array;
  readonly column: Int32Array;
  readonly ready: Float64Array;
  readonly due: Float64Array;
  readonly duration: Float64Array;
  /** The other part, or -1; it starts no earlier than this part's start + `lag`. */
  readonly other: Int32Array;
  readonly lag: Float64Array;

  readonly ints: Int32Array;
  readonly reals: Float64Array;
  readonly next: Int32Array;
  readonly prev: Int32Array;
  /** Crew of a node; -1 = not placed. */
  readonly crew: Int32Array;
  readonly size: Int32Array;
  readonly start: Float64Array;
  /** [0] travel, [1] sum of tardiness, [2] largest tardiness, [3] visits not placed. */
  readonly sums: Float64Array;
  /** mayDo[crew x nodes + node]: 1 = the crew has the skill for the part. */
  readonly mayDo: Uint8Array;

  /** Nodes whose start may have to be later; a ring. */
  readonly #queue: Int32Array;
  readonly #isQueued: Uint8Array;
  /** What a trial changed, to go back. */
  readonly #logNode: Int32Array;
  readonly #logStart: Float64Array;
  /** Trial in which a node was last logged. */
  readonly #loggedAt: Int32Array;
  #logCount = 0;
  #trial = 1;
  #head = 0;
  #waiting = 0;
  /** Sum and largest tardiness as far as the trial has come. */
  #sum = 0;
  #largest = 0;

  constructor(c: JointCase) {
    const parts = 2 * c.visits.length;
    const nodes = parts + 2 * c.crews;
    this.case = c;
    this.visits = c.visits.length;
    this.crews = c.crews;
    this.nodes = nodes;
    this.distance = c.distance;
    const visitOf = (node: number) => (node < parts ? c.visits[node >> 1] : undefined);
    const reals = (of: (node: number) => number) => Float64Array.from({ length: nodes }, (_, i) => of(i));
    this.column = Int32Array.from({ length: nodes }, (_, i) => visitOf(i)?.place ?? 0);
    this.row = this.column.map((i) => i * c.places);
    this.ready = reals((i) => visitOf(i)?.ready ?? 0);
    this.due = reals((i) => visitOf(i)?.due ?? Number.POSITIVE_INFINITY);
    this.duration = reals((i) => visitOf(i)?.parts[i & 1]?.duration ?? 0);
    this.other = Int32Array.from({ length: nodes }, (_, i) => (visitOf(i)?.parts.length === 2 ? i ^ 1 : -1));
    this.lag = reals((i) => (i & 1 ? -(visitOf(i)?.gap.most ?? 0) : (visitOf(i)?.gap.least ?? 0)));

    this.mayDo = new Uint8Array(c.crews * nodes);
    c.visits.forEach((visit, i) => {
      visit.parts.forEach((part, p) => {
        for (const k of part.crews) this.mayDo[k * nodes + 2 * i + p] = 1;
      });
    });

    this.ints = new Int32Array(3 * nodes + c.crews);
    this.next = this.ints.subarray(0, nodes);
    this.prev = this.ints.subarray(nodes, 2 * nodes);
    this.crew = this.ints.subarray(2 * nodes, 3 * nodes).fill(-1);
    this.size = this.ints.subarray(3 * nodes);
    this.reals = new Float64Array(nodes + 4);
    this.start = this.reals.subarray(0, nodes);
    this.sums = this.reals.subarray(nodes);
    this.sums[3] = this.visits;
    this.#queue = new Int32Array(nodes);
    this.#isQueued = new Uint8Array(nodes);
    this.#logNode = new Int32Array(nodes);
    this.#logStart = new Float64Array(nodes);
    this.#loggedAt = new Int32Array(nodes);
    for (let k = 0; k < c.crews; k++) {
      const from = this.startOf(k);
      this.next[from] = this.endOf(k);
      this.prev[this.endOf(k)] = from;
      this.crew[from] = this.crew[this.endOf(k)] = k;
    }
  }

  startOf(crew: number): number {
    return 2 * this.visits + crew;
  }

  endOf(crew: number): number {
    return 2 * this.visits + this.crews + crew;
  }

  way(a: number, b: number): number {
    return this.distance[this.row[a]! + this.column[b]!]!;
  }

  link(v: number, after: number): void {
    const before = this.next[after]!;
    const k = this.crew[after]!;
    this.sums[0]! +=
      this.way(after, v) + this.way(v, before) - (this.size[k] === 0 ? 0 : this.way(after, before));
    this.next[after] = v;
    this.prev[v] = after;
    this.next[v] = before;
    this.prev[before] = v;
    this.crew[v] = k;
    this.size[k]! += 1;
    this.start[v] = this.ready[v]!;
  }

  unlink(v: number): void {
    const before = this.prev[v]!;
    const after = this.next[v]!;
    const k = this.crew[v]!;
    this.size[k]! -= 1;
    this.sums[0]! +=
      (this.size[k] === 0 ? 0 : this.way(before, after)) - this.way(before, v) - this.way(v, after);
    this.next[before] = after;
    this.prev[after] = before;
    this.crew[v] = -1;
  }

  /**
   * Puts one node, or two parts (else `second` is -1), behind the nodes given, when the sum of tardiness and the largest
   * then grow together by less than `most`; else leaves all as it was.
   *
   * @returns growth of sum and largest; Infinity = not put in
   */
  tryInsert(v: number, after: number, second: number, secondAfter: number, most: number): number {
    this.#sum = this.sums[1]!;
    this.#largest = this.sums[2]!;
    this.#linkBoth(v, after, second, secondAfter);
    const grown = this.#settle(most, v, second);
    if (grown < most) {
      this.#logCount = 0;
      this.sums[1] = this.#sum;
      this.sums[2] = this.#largest;
      this.sums[3]! -= 1;
      return grown;
    }
    this.#goBack();
    if (second >= 0) this.unlink(second);
    this.unlink(v);
    return Number.POSITIVE_INFINITY;
  }

  /** The growth `tryInsert` would give, everything left as it was. */
  trial(v: number, after: number, second: number, secondAfter: number, most: number): number {
    this.#sum = this.sums[1]!;
    this.#largest = this.sums[2]!;
    this.#linkBoth(v, after, second, secondAfter);
    const grown = this.#settle(most, v, second);
    this.#goBack();
    if (second >= 0) this.unlink(second);
    this.unlink(v);
    return grown;
  }

  /** All starts anew: after parts were taken out they can be earlier. */
  restart(): void {
    this.sums[1] = this.sums[2] = this.#sum = this.#largest = 0;
    for (let k = 0; k < this.crews; k++) {
      const end = this.endOf(k);
      for (let v = this.next[this.startOf(k)]!; v !== end; v = this.next[v]!) {
        this.start[v] = this.ready[v]!;
        this.#push(v);
      }
    }
    this.#settle(Number.POSITIVE_INFINITY, -1, -1);
    this.#logCount = 0;
    this.sums[1] = this.#sum;
    this.sums[2] = this.#largest;
  }

  /** Links the nodes, gives them the starts that follow from what stands before them, and asks those behind. */
  #linkBoth(v: number, after: number, second: number, secondAfter: number): void {
    const { ready, start, lag, next } = this;
    this.link(v, after);
    const one = Math.max(ready[v]!, this.#arrival(v));
    if (second < 0) {
      this.#putOff(v, ready[v]!, one);
    } else {
      this.link(second, secondAfter);
      const two = Math.max(ready[second]!, this.#arrival(second));
      this.#putOff(v, ready[v]!, Math.max(one, two + lag[second]!));
      this.#putOff(second, ready[second]!, Math.max(two, start[v]! + lag[v]!));
      this.#push(next[second]!);
    }
    this.#push(next[v]!);
  }

  /** When the crew can be at `v`, coming from the stop before it. */
  #arrival(v: number): number {
    const a = this.prev[v]!;
    return this.start[a]! + this.duration[a]! + this.distance[this.row[a]! + this.column[v]!]!;
  }

  /** Sets a start that was `was` and brings the tardiness up to date. */
  #putOff(v: number, was: number, at: number): void {
    this.start[v] = at;
    const due = this.due[v]!;
    if (at <= due) return;
    this.#sum += at - (was > due ? was : due);
    if (at - due > this.#largest) this.#largest = at - due;
  }

  #push(v: number): void {
    if (this.#isQueued[v]) return;
    this.#isQueued[v] = 1;
    let at = this.#head + this.#waiting++;
    if (at >= this.nodes) at -= this.nodes;
    this.#queue[at] = v;
  }

  /**
   * Makes starts later until all agree. Gives up when sum and largest grow by `most`, and when `v` or `second`, put in
   * a moment ago, would have to start later because of what they put off: that is a circle.
   */
  #settle(most: number, v: number, second: number): number {
    const { next, prev, other, start, ready, duration, lag, nodes, crew, distance, row, column } = this;
    const parts = 2 * this.visits;
    const before = this.sums[1]! + this.sums[2]!;
    this.#trial++;
    while (this.#waiting > 0) {
      if (this.#sum + this.#largest - before >= most) return this.#giveUp();
      const u = this.#queue[this.#head]!;
      this.#head = this.#head + 1 === nodes ? 0 : this.#head + 1;
      this.#waiting--;
      this.#isQueued[u] = 0;
      if (u >= parts) continue; // an end
      const a = prev[u]!;
      let at = start[a]! + duration[a]! + distance[row[a]! + column[u]!]!;
      if (at < ready[u]!) at = ready[u]!;
      const w = other[u]!;
      if (w >= 0 && crew[w]! >= 0 && start[w]! + lag[w]! > at) at = start[w]! + lag[w]!;
      const was = start[u]!;
      if (at <= was) continue;
      if (u === v || u === second) return this.#giveUp();
      if (this.#loggedAt[u] !== this.#trial) {
        this.#loggedAt[u] = this.#trial;
        this.#logNode[this.#logCount] = u;
        this.#logStart[this.#logCount++] = was;
      }
      this.#putOff(u, was, at);
      this.#push(next[u]!);
      if (w >= 0 && crew[w]! >= 0) this.#push(w);
    }
    const grown = this.#sum + this.#largest - before;
    return grown < most ? grown : Number.POSITIVE_INFINITY;
  }

  #giveUp(): number {
    while (this.#waiting > 0) {
      this.#isQueued[this.#queue[this.#head]!] = 0;
      this.#head = this.#head + 1 === this.nodes ? 0 : this.#head + 1;
      this.#waiting--;
    }
    return Number.POSITIVE_INFINITY;
  }

  #goBack(): void {
    for (let i = 0; i < this.#logCount; i++) this.start[this.#logNode[i]!] = this.#logStart[i]!;
    this.#logCount = 0;
  }

  read(): {
    routes: JointStop[][];
    travel: number;
    tardiness: number;
    largestTardiness: number;
    cost: number;
  } {
    const routes = Array.from({ length: this.crews }, (_, k) => {
      const stops: JointStop[] = [];
      for (let v = this.next[this.startOf(k)]!; v !== this.endOf(k); v = this.next[v]!)
        stops.push({ visit: v >> 1, part: v & 1, start: this.start[v]! });
      return stops;
    });
    const [travel, tardiness, largestTardiness] = this.sums as unknown as [number, number, number];
    return { routes, travel, tardiness, largestTardiness, cost: (travel + tardiness + largestTardiness) / 3 };
  }
}
