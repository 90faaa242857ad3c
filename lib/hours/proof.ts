/**
 * Exact search for one project: proves the best make-span below a known one, or that there is none.
 *
 * Branch and bound over start-time bounds that learns from every dead end (lazy clause generation: Ohrimenko, Stuckey
 * and Codish 2009; for resource-constrained projects Schutt, Feydy, Stuckey and Wallace 2011). Why this and not plain
 * depth-first branching: docs/methods/hours.md, "Proof".
 *
 * A bound is written as a pair (x, v): x = 2i means "task i starts at v or later", x = 2i + 1 means "task i starts at
 * -v or earlier", so that every bound only ever rises. The last variable is the project's end. A set of bounds that
 * cannot hold together is a nogood; it is kept and forbids the same mistake elsewhere.
 */
import type { PreparedProject } from "./generation";
import { NogoodStore } from "./nogoods";
import { Timetable } from "./timetable";

export interface ProofOutcome {
  /** A schedule shorter than `upper`, proved shortest; undefined when there is none or the budget ended. */
  starts?: number[];
  /** Proved: no schedule is shorter. */
  lowerBound: number;
  conflicts: number;
}

/** Why a bound rose. */
const DECISION = 0;
const EDGE = 1;
const EXPLAINED = 2;
const NOGOOD = 3;
type Why = typeof DECISION | typeof EDGE | typeof EXPLAINED | typeof NOGOOD;

/** Aim at the lower bound plus this part of the gap (2^-shift). */
const TARGET_SHIFT = 1;
const RESTART_UNIT = 60;
const ACTIVITY_GROWTH = 1 / 0.95;

/**
 * Judges a full schedule by what the resources cannot say. Returns null to accept it, or bounds (x, v), all true for
 * these starts, that no acceptable schedule has together.
 */
export type Refusal = (starts: readonly number[]) => readonly number[] | null;

/**
 * @param lower a make-span that no schedule beats
 * @param upper a make-span that is already known, > lower
 * @param mostConflicts dead ends met before it gives up
 */
export function proveShortest(
  project: PreparedProject,
  lower: number,
  upper: number,
  mostConflicts: number,
  shouldStop?: () => boolean,
  refuse?: Refusal,
): ProofOutcome {
  return new ProofSearch(project, lower, upper, refuse).run(mostConflicts, shouldStop);
}

/**
 * State of the search. A class, with flat arrays and long-handed loops: this is the hot spot of every proof
 * (tests/bench/project.bench.ts shows what it gives).
 */
class ProofSearch {
  readonly #p: PreparedProject;
  readonly #end: number;
  /** Current bounds, see the file's head. */
  readonly #bound: Int32Array;
  /** Latest trail entry of each bound, -1 = as it was at the start. */
  readonly #last: Int32Array;
  readonly #edges: { to: number; weight: number }[][];
  readonly #timetable: Timetable;
  readonly #nogoods: NogoodStore;

  /* Trail: every bound that rose, in order. */
  #x: number[] = [];
  #value: number[] = [];
  #oldValue: number[] = [];
  #previous: number[] = [];
  #why: Why[] = [];
  /** Edge: source bound; explained: offset in the pool; nogood: its id. */
  #reason: number[] = [];
  /** Edge: weight; explained: length in the pool. */
  #reasonSize: number[] = [];
  #handled = 0;
  /** Trail length at the start of each level; level 0 starts at 0. */
  #levelStart: number[] = [0];
  #poolAtLevel: number[] = [0];
  /** Explanations as (x, v) pairs. */
  readonly #pool: number[] = [];

  /* Conflict analysis. */
  readonly #conflict: number[] = [];
  readonly #need: Int32Array;
  readonly #entry: Int32Array;
  readonly #touched: number[] = [];

  readonly #activity: Float64Array;
  #activityStep = 1;

  readonly #refuse: Refusal | undefined;

  constructor(p: PreparedProject, lower: number, upper: number, refuse: Refusal | undefined) {
    this.#p = p;
    this.#refuse = refuse;
    this.#end = p.count;
    const size = 2 * (p.count + 1);
    this.#bound = new Int32Array(size);
    this.#last = new Int32Array(size).fill(-1);
    this.#need = new Int32Array(size);
    this.#entry = new Int32Array(size).fill(-1);
    this.#activity = new Float64Array(p.count);
    this.#edges = Array.from({ length: size }, () => []);
    for (let i = 0; i < p.count; i++) {
      this.#bound[2 * i] = p.head[i]!;
      this.#bound[2 * i + 1] = -(upper - 1 - p.tail[i]! - p.durations[i]!);
      for (const j of p.successors[i]!) this.#addEdge(i, j, p.durations[i]!);
      if (p.successors[i]!.length === 0) this.#addEdge(i, this.#end, p.durations[i]!);
    }
    for (const { first, last, longest } of p.spans ?? []) {
      if (longest !== undefined) this.#addEdge(last, first, p.durations[last]! - longest);
    }
    this.#bound[2 * this.#end] = lower;
    this.#bound[2 * this.#end + 1] = -(upper - 1);
    this.#timetable = new Timetable(p);
    this.#nogoods = new NogoodStore(size);
  }

  #addEdge(i: number, j: number, weight: number): void {
    this.#edges[2 * i]!.push({ to: 2 * j, weight });
    this.#edges[2 * j + 1]!.push({ to: 2 * i + 1, weight });
  }

  run(mostConflicts: number, shouldStop?: () => boolean): ProofOutcome {
    let conflicts = 0;
    let restart = 1;
    let untilRestart = RESTART_UNIT * luby(restart);
    let starts: number[] | undefined;
    if (!this.#propagateStart()) return { lowerBound: 1 - this.#bound[2 * this.#end + 1]!, conflicts };
    for (;;) {
      if (this.#propagate()) {
        if (this.#decide()) continue;
        const full = Array.from({ length: this.#p.count }, (_, i) => this.#bound[2 * i]!);
        const refused = this.#refuse?.(full);
        if (!refused) {
          starts = full;
          const found = this.#bound[2 * this.#end]!;
          this.#backTo(0);
          if (found <= this.#bound[2 * this.#end]!) return { starts, lowerBound: found, conflicts };
          this.#raise(2 * this.#end + 1, 1 - found, DECISION, 0, 0);
          continue;
        }
        this.#conflict.length = 0;
        this.#conflict.push(...refused);
      }
      conflicts++;
      if (!this.#learn()) return { starts, lowerBound: 1 - this.#startOf(2 * this.#end + 1), conflicts };
      this.#activityStep *= ACTIVITY_GROWTH;
      if (conflicts >= mostConflicts || (conflicts % 64 === 0 && shouldStop?.())) {
        return { starts, lowerBound: this.#startOf(2 * this.#end), conflicts };
      }
      if (--untilRestart <= 0) {
        untilRestart = RESTART_UNIT * luby(++restart);
        this.#backTo(0);
        this.#nogoods.forget();
      }
    }
  }

  /** The bound at level 0. */
  #startOf(x: number): number {
    this.#backTo(0);
    return this.#bound[x]!;
  }

  /**
   * Fixes one more start at its earliest; first of all it aims at an end for the project.
   *
   * @returns false when every start is fixed
   */
  #decide(): boolean {
    const bound = this.#bound;
    const end = this.#end;
    // The project's end first: between its bounds, near the lower one, so that both close in on each other.
    const gap = -bound[2 * end + 1]! - bound[2 * end]!;
    if (gap > 0 && this.#levelStart.length === 1) {
      this.#open(end, bound[2 * end]! + (gap >> TARGET_SHIFT));
      return true;
    }
    let choice = -1;
    for (let i = 0; i < this.#p.count; i++) {
      if (bound[2 * i]! + bound[2 * i + 1]! === 0) continue;
      if (choice < 0 || this.#isBetter(i, choice)) choice = i;
    }
    if (choice < 0) return false;
    this.#open(choice, bound[2 * choice]!);
    return true;
  }

  /** A new level: the task starts at `latest` or earlier. */
  #open(task: number, latest: number): void {
    this.#levelStart.push(this.#x.length);
    this.#poolAtLevel.push(this.#pool.length);
    this.#raise(2 * task + 1, -latest, DECISION, 0, 0);
  }

  #isBetter(i: number, j: number): boolean {
    const d = this.#activity[i]! - this.#activity[j]!;
    if (d !== 0) return d > 0;
    const e = this.#bound[2 * i]! - this.#bound[2 * j]!;
    return e !== 0 ? e < 0 : this.#bound[2 * i + 1]! > this.#bound[2 * j + 1]!;
  }

  /** Raises a bound. @returns false on a conflict, whose bounds are then in `#conflict` */
  #raise(x: number, v: number, why: Why, reason: number, reasonSize: number): boolean {
    const bound = this.#bound;
    if (bound[x]! >= v) return true;
    if (v + bound[x ^ 1]! > 0) {
      this.#conflict.length = 0;
      this.#conflict.push(x ^ 1, 1 - v);
      this.#reasonInto(this.#conflict, x, v, why, reason, reasonSize);
      return false;
    }
    const t = this.#x.length;
    this.#x.push(x);
    this.#value.push(v);
    this.#oldValue.push(bound[x]!);
    this.#previous.push(this.#last[x]!);
    this.#why.push(why);
    this.#reason.push(reason);
    this.#reasonSize.push(reasonSize);
    this.#last[x] = t;
    bound[x] = v;
    return true;
  }

  /** Appends the bounds that together imply (x, v). */
  #reasonInto(out: number[], x: number, v: number, why: Why, reason: number, reasonSize: number): void {
    if (why === EDGE) out.push(reason, v - reasonSize);
    else if (why === EXPLAINED) {
      for (let k = reason; k < reason + reasonSize; k++) out.push(this.#pool[k]!);
    } else if (why === NOGOOD) {
      const nogood = this.#nogoods.clause(reason);
      for (let k = 0; k < nogood.length; k += 2) {
        if (nogood[k] !== x) out.push(nogood[k]! ^ 1, 1 - nogood[k + 1]!);
      }
    }
  }

  /** Every precedence once: the bounds of the start have no trail entry that would ask for it. */
  #propagateStart(): boolean {
    for (let x = 0; x < this.#edges.length; x++) {
      for (const edge of this.#edges[x]!) {
        if (!this.#raise(edge.to, this.#bound[x]! + edge.weight, EDGE, x, edge.weight)) return false;
      }
    }
    return true;
  }

  /** Propagates to a fixpoint. @returns false on a conflict */
  #propagate(): boolean {
    for (;;) {
      while (this.#handled < this.#x.length) {
        const t = this.#handled++;
        const x = this.#x[t]!;
        if (this.#last[x] !== t) continue; // risen again since: its later entry does the work
        if (x >> 1 < this.#end) this.#timetable.touch(x >> 1);
        const v = this.#bound[x]!;
        for (const edge of this.#edges[x]!) {
          if (!this.#raise(edge.to, v + edge.weight, EDGE, x, edge.weight)) return false;
        }
        const isSound = this.#nogoods.visit(x, this.#bound, (id, y, w) => this.#raise(y, w, NOGOOD, id, 0));
        if (!isSound) return false;
      }
      const before = this.#x.length;
      const isSound = this.#timetable.propagate(this.#bound, (y, w, explanation) =>
        this.#raiseExplained(y, w, explanation),
      );
      if (!isSound) return false;
      if (this.#x.length === before) return true;
    }
  }

  /** @param y -1 = the explanation itself is a conflict */
  #raiseExplained(y: number, w: number, explanation: readonly number[]): boolean {
    if (y < 0) {
      this.#conflict.length = 0;
      this.#conflict.push(...explanation);
      return false;
    }
    if (this.#bound[y]! >= w) return true;
    const at = this.#pool.length;
    for (const part of explanation) this.#pool.push(part);
    return this.#raise(y, w, EXPLAINED, at, explanation.length);
  }

  /**
   * Learns a nogood from the conflict (first unique implication point) and goes back to where it says something new.
   *
   * @returns false when the conflict holds without any decision: nothing better exists
   */
  #learn(): boolean {
    let level = 0;
    for (let k = 0; k < this.#conflict.length; k += 2) {
      level = Math.max(level, this.#levelOf(this.#entryOf(this.#conflict[k]!, this.#conflict[k + 1]!)));
    }
    if (level === 0) return false;
    this.#backTo(level);
    const levelStart = this.#levelStart[level]!;
    let open = 0;
    const need = (x: number, v: number): void => {
      const t = this.#entryOf(x, v);
      if (t < this.#levelStart[1]!) return;
      const known = this.#entry[x]!;
      if (known >= t) {
        if (known === t && v > this.#need[x]!) this.#need[x] = v;
        return;
      }
      if (known < 0 && !this.#touched.includes(x)) this.#touched.push(x);
      if (t >= levelStart && known < levelStart) open++;
      this.#entry[x] = t;
      this.#need[x] = v;
      if (x >> 1 < this.#end) this.#bump(x >> 1);
    };
    for (let k = 0; k < this.#conflict.length; k += 2) need(this.#conflict[k]!, this.#conflict[k + 1]!);
    const because: number[] = [];
    let t = this.#x.length - 1;
    for (; ; t--) {
      const x = this.#x[t]!;
      if (this.#entry[x] !== t) continue;
      if (open === 1) break;
      const v = this.#need[x]!;
      this.#entry[x] = -1;
      open--;
      because.length = 0;
      this.#reasonInto(because, x, v, this.#why[t]!, this.#reason[t]!, this.#reasonSize[t]!);
      for (let k = 0; k < because.length; k += 2) need(because[k]!, because[k + 1]!);
    }
    this.#assert(this.#x[t]!);
    return true;
  }

  /** Keeps what the analysis left over as a nogood, goes back, and raises what it now forces. */
  #assert(uip: number): void {
    const clause: number[] = [uip ^ 1, 1 - this.#need[uip]!];
    let second = 0;
    let secondEntry = -1;
    for (const x of this.#touched) {
      const t = this.#entry[x]!;
      if (t < 0 || x === uip) continue;
      if (this.#isImplied(x, t)) continue;
      if (t > secondEntry) {
        secondEntry = t;
        second = clause.length;
      }
      clause.push(x ^ 1, 1 - this.#need[x]!);
    }
    for (const x of this.#touched) this.#entry[x] = -1;
    this.#touched.length = 0;
    if (clause.length === 2) {
      this.#backTo(0);
      this.#raise(clause[0]!, clause[1]!, DECISION, 0, 0);
      return;
    }
    swapPairs(clause, 2, second);
    this.#backTo(this.#levelOf(secondEntry));
    const id = this.#nogoods.add(clause);
    this.#raise(clause[0]!, clause[1]!, NOGOOD, id, 0);
  }

  /** Do earlier bounds of the nogood already imply this one? */
  #isImplied(x: number, t: number): boolean {
    if (this.#why[t] === DECISION) return false;
    const because: number[] = [];
    this.#reasonInto(because, x, this.#need[x]!, this.#why[t]!, this.#reason[t]!, this.#reasonSize[t]!);
    for (let k = 0; k < because.length; k += 2) {
      const y = because[k]!;
      const v = because[k + 1]!;
      if (this.#entryOf(y, v) < this.#levelStart[1]!) continue;
      const known = this.#entry[y]!;
      if (known < 0 || known >= t || this.#need[y]! < v) return false;
    }
    return true;
  }

  #bump(i: number): void {
    this.#activity[i]! += this.#activityStep;
    if (this.#activity[i]! < 1e100) return;
    for (let k = 0; k < this.#activity.length; k++) this.#activity[k]! *= 1e-100;
    this.#activityStep *= 1e-100;
  }

  /** The trail entry that first made (x, v) true, -1 = true from the start. */
  #entryOf(x: number, v: number): number {
    let t = this.#last[x]!;
    while (t >= 0 && this.#oldValue[t]! >= v) t = this.#previous[t]!;
    return t;
  }

  #levelOf(t: number): number {
    let level = this.#levelStart.length - 1;
    while (level > 0 && this.#levelStart[level]! > t) level--;
    return level;
  }

  #backTo(level: number): void {
    if (this.#levelStart.length - 1 <= level) return;
    const keep = this.#levelStart[level + 1]!;
    for (let t = this.#x.length - 1; t >= keep; t--) {
      const x = this.#x[t]!;
      this.#bound[x] = this.#oldValue[t]!;
      this.#last[x] = this.#previous[t]!;
    }
    for (const list of [
      this.#x,
      this.#value,
      this.#oldValue,
      this.#previous,
      this.#why,
      this.#reason,
      this.#reasonSize,
    ]) {
      list.length = keep;
    }
    this.#pool.length = this.#poolAtLevel[level + 1]!;
    this.#levelStart.length = level + 1;
    this.#poolAtLevel.length = level + 1;
    this.#handled = Math.min(this.#handled, keep);
  }
}

function swapPairs(list: number[], i: number, j: number): void {
  [list[i], list[i + 1], list[j], list[j + 1]] = [list[j]!, list[j + 1]!, list[i]!, list[i + 1]!];
}

/** 1, 1, 2, 1, 1, 2, 4, ... (Luby, Sinclair and Zuckerman 1993), i from 1. */
function luby(i: number): number {
  let k = 1;
  while (2 ** k - 1 < i) k++;
  return 2 ** k - 1 === i ? 2 ** (k - 1) : luby(i - 2 ** (k - 1) + 1);
}
