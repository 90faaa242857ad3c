/**
 * A plan under edit. All of its state lies in two typed arrays, so that one log can undo any change and one copy
 * keeps the best plan; the named views below are windows into them.
 *
 * Per crew and day there is an ordered list (linked by `next`/`prev`) of the visits that start on it; a visit that
 * goes on the next working day is carried: it stands in `inCarry` of the days on which it continues.
 */
import type { Model } from "./model";
import { keepLeast } from "./supplies";

/** Running sums of the cost terms, in `sums`. */
export const SUM = {
  unplaced: 0,
  late: 1,
  unfinished: 2,
  crewDays: 3,
  overtime: 4,
  nights: 5,
  km: 6,
  travel: 7,
  moved: 8,
  movedDays: 9,
  risk: 10,
  open: 11,
  finish: 12,
} as const;
const SUM_COUNT = 13;

export class PlanState {
  readonly ints: Int32Array;
  readonly reals: Float64Array;

  // Visits
  readonly crewOf: Int32Array;
  readonly startDay: Int32Array;
  readonly startMin: Int32Array;
  readonly endDay: Int32Array;
  readonly endMin: Int32Array;
  /** Set-up paid right before the start, minutes. */
  readonly setupPaid: Int32Array;
  readonly next: Int32Array;
  readonly prev: Int32Array;

  // Crew-days
  readonly head: Int32Array;
  readonly tail: Int32Array;
  readonly used: Int32Array;
  readonly travelMin: Int32Array;
  readonly overtime: Int32Array;
  readonly night: Int32Array;
  readonly duty: Int32Array;
  /** Minutes on the road, setting up and working: what is surely not free. */
  readonly busy: Int32Array;
  /** Where the crew wakes up (a place), nights away in a row, the visit it goes on with and how far that is. */
  readonly inPlace: Int32Array;
  readonly inNights: Int32Array;
  readonly inCarry: Int32Array;
  readonly inSeg: Int32Array;
  readonly inRem: Float64Array;
  readonly inLoad: Float64Array;
  readonly km: Float64Array;
  /** Minutes between P50 and P80 of the day's work. */
  readonly risk: Float64Array;

  // Crews and hops
  readonly weekDuty: Int32Array;
  readonly crewDuty: Int32Array;
  readonly hopLate: Float64Array;
  readonly hopUnfinished: Float64Array;
  readonly hopOpen: Float64Array;
  readonly hopFinish: Float64Array;
  readonly sums: Float64Array;

  // Scarce items, by item and day: what has come and is not claimed, and the least of it from the day on.
  readonly unclaimed: Float64Array;
  readonly spare: Float64Array;

  #log = new Log();

  constructor(readonly model: Model) {
    const { visitCount: v, crewCount: c, dayCount: d, hopCount: h, weekCount } = model;
    const cd = c * d;
    const ints = new Slices(Int32Array, 8 * v + 12 * cd + c * weekCount + c);
    const reals = new Slices(Float64Array, 4 * cd + 4 * h + SUM_COUNT + 2 * model.supply.length);
    this.ints = ints.whole;
    this.reals = reals.whole;
    this.crewOf = ints.take(v).fill(-1);
    this.startDay = ints.take(v);
    this.startMin = ints.take(v);
    this.endDay = ints.take(v);
    this.endMin = ints.take(v);
    this.setupPaid = ints.take(v);
    this.next = ints.take(v).fill(-1);
    this.prev = ints.take(v).fill(-1);
    this.head = ints.take(cd).fill(-1);
    this.tail = ints.take(cd).fill(-1);
    this.used = ints.take(cd);
    this.travelMin = ints.take(cd);
    this.overtime = ints.take(cd);
    this.night = ints.take(cd);
    this.duty = ints.take(cd);
    this.busy = ints.take(cd);
    this.inPlace = ints.take(cd);
    this.inNights = ints.take(cd);
    this.inCarry = ints.take(cd).fill(-1);
    this.inSeg = ints.take(cd);
    this.weekDuty = ints.take(c * weekCount);
    this.crewDuty = ints.take(c);
    this.risk = reals.take(cd);
    this.inRem = reals.take(cd);
    this.inLoad = reals.take(cd);
    this.km = reals.take(cd);
    this.hopLate = reals.take(h);
    this.hopUnfinished = reals.take(h);
    this.hopOpen = reals.take(h);
    this.hopFinish = reals.take(h);
    this.sums = reals.take(SUM_COUNT);
    this.unclaimed = reals.take(model.supply.length);
    this.spare = reals.take(model.supply.length);
    this.unclaimed.set(model.supply);
    for (let first = 0; first < model.supply.length; first += d) keepLeast(model, this, first);
    this.forget();
    for (let i = 0; i < cd; i++) this.inPlace[i] = model.depot[i % c]!;
  }

  isPlaced(v: number): boolean {
    return this.crewOf[v]! >= 0;
  }

  /** Minutes from the plan's first midnight. */
  startAt(v: number): number {
    return this.startDay[v]! * 1440 + this.startMin[v]!;
  }

  endAt(v: number): number {
    return this.endDay[v]! * 1440 + this.endMin[v]!;
  }

  /** Writes that can be undone: `view` is one of the views above. */
  put(view: Int32Array, i: number, value: number): void {
    const old = view[i]!;
    if (old === value) return;
    this.#log.int((view.byteOffset >> 2) + i, old);
    view[i] = value;
  }

  putReal(view: Float64Array, i: number, value: number): void {
    const old = view[i]!;
    if (old === value) return;
    this.#log.real((view.byteOffset >> 3) + i, old);
    view[i] = value;
  }

  add(sum: number, delta: number): void {
    if (delta !== 0) this.putReal(this.sums, sum, this.sums[sum]! + delta);
  }

  /** Puts visit `v` behind `after` (-1 = first) in a day's list. */
  link(v: number, crewDay: number, after: number): void {
    const follower = after < 0 ? this.head[crewDay]! : this.next[after]!;
    this.put(this.prev, v, after);
    this.put(this.next, v, follower);
    if (after < 0) this.put(this.head, crewDay, v);
    else this.put(this.next, after, v);
    if (follower < 0) this.put(this.tail, crewDay, v);
    else this.put(this.prev, follower, v);
  }

  unlink(v: number): void {
    const crewDay = this.startDay[v]! * this.model.crewCount + this.crewOf[v]!;
    const before = this.prev[v]!;
    const follower = this.next[v]!;
    if (before < 0) this.put(this.head, crewDay, follower);
    else this.put(this.next, before, follower);
    if (follower < 0) this.put(this.tail, crewDay, before);
    else this.put(this.prev, follower, before);
    this.put(this.next, v, -1);
    this.put(this.prev, v, -1);
    this.put(this.crewOf, v, -1);
  }

  /** A point to come back to. */
  mark(): Mark {
    return { ints: this.#log.intCount, reals: this.#log.realCount };
  }

  undoTo(mark: Mark): void {
    this.#log.undo(this.ints, this.reals, mark.ints, mark.reals);
  }

  /** Undo everything since `forget`. */
  undoAll(): void {
    this.#log.undo(this.ints, this.reals, 0, 0);
  }

  /** Accept what was done: it can no longer be undone. */
  forget(): void {
    this.#log.clear();
  }

  copyFrom(other: { ints: Int32Array; reals: Float64Array }): void {
    this.ints.set(other.ints);
    this.reals.set(other.reals);
    this.#log.clear();
  }
}

export interface Mark {
  ints: number;
  reals: number;
}

/** Old values in the order they were overwritten. Grows by doubling, then allocates no more. */
class Log {
  intCount = 0;
  realCount = 0;
  #intAt = new Int32Array(1 << 14);
  #intOld = new Int32Array(1 << 14);
  #realAt = new Int32Array(1 << 12);
  #realOld = new Float64Array(1 << 12);

  int(at: number, old: number): void {
    if (this.intCount === this.#intAt.length) {
      this.#intAt = doubled(this.#intAt, Int32Array);
      this.#intOld = doubled(this.#intOld, Int32Array);
    }
    this.#intAt[this.intCount] = at;
    this.#intOld[this.intCount++] = old;
  }

  real(at: number, old: number): void {
    if (this.realCount === this.#realAt.length) {
      this.#realAt = doubled(this.#realAt, Int32Array);
      this.#realOld = doubled(this.#realOld, Float64Array);
    }
    this.#realAt[this.realCount] = at;
    this.#realOld[this.realCount++] = old;
  }

  undo(ints: Int32Array, reals: Float64Array, toInt: number, toReal: number): void {
    while (this.intCount > toInt) ints[this.#intAt[--this.intCount]!] = this.#intOld[this.intCount]!;
    while (this.realCount > toReal) reals[this.#realAt[--this.realCount]!] = this.#realOld[this.realCount]!;
  }

  clear(): void {
    this.intCount = 0;
    this.realCount = 0;
  }
}

type Typed = Int32Array | Float64Array;

function doubled<T extends Typed>(old: T, make: new (n: number) => T): T {
  const wider = new make(old.length * 2);
  wider.set(old);
  return wider;
}

/** Hands out consecutive windows of one array. */
class Slices<T extends Typed> {
  readonly whole: T;
  #used = 0;

  constructor(make: new (n: number) => T, size: number) {
    this.whole = new make(size);
  }

  take(count: number): T {
    if (this.#used + count > this.whole.length)
      throw new RangeError(`plan state too small for ${count} more cells`);
    this.#used += count;
    return this.whole.subarray(this.#used - count, this.#used) as T;
  }
}
