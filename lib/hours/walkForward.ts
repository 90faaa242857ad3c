import type { EndModel } from "./endModel";
import { handsPerTask, pickPeople } from "./endModel";

/** A schedule with names: people as bits of the model. */
export interface Walked {
  startsMin: Int32Array;
  people: Int32Array;
  makespanMin: number;
}

/**
 * Makes schedules with names forward in time (parallel schedule generation): at each moment a task ends, the ready
 * tasks start in the order given if their people are free and the drop zone allows it. Who has climbed stays with the
 * work aloft until the descent has ended.
 *
 * A class because its arrays are reused over thousands of walks.
 */
export class ForwardWalker {
  readonly #m: EndModel;
  readonly #party: number;
  readonly #hands: readonly number[];
  readonly #starts: Int32Array;
  readonly #ends: Int32Array;
  readonly #people: Int32Array;
  readonly #waits: Int32Array;
  readonly #waiting: Int32Array;
  readonly #running: Int32Array;
  #waitingCount = 0;
  #runningCount = 0;
  #busy = 0;
  #isUp = false;
  /** Overhead and foot tasks that run. */
  #overhead = 0;
  #atFoot = 0;
  #now = 0;

  /** @param party bits of who goes up; must leave the people on the ground that the tasks ask for (partiesOf) */
  constructor(model: EndModel, party: number, partySize: number) {
    const n = model.tasks.length;
    this.#m = model;
    this.#party = party;
    this.#hands = handsPerTask(model, partySize);
    this.#starts = new Int32Array(n);
    this.#ends = new Int32Array(n);
    this.#people = new Int32Array(n);
    this.#waits = new Int32Array(n);
    this.#waiting = new Int32Array(n);
    this.#running = new Int32Array(n);
  }

  /**
   * @param order tasks, those to start first in front
   * @param notBefore earliest start of each task
   * @returns arrays that the next walk reuses: copy what is kept
   */
  walk(order: readonly number[], notBefore?: ArrayLike<number>): Walked {
    this.#waits.set(this.#m.waitsFor);
    this.#waiting.set(order);
    this.#waitingCount = order.length;
    this.#runningCount = 0;
    this.#busy = 0;
    this.#isUp = false;
    this.#overhead = 0;
    this.#atFoot = 0;
    this.#now = 0;
    let makespanMin = 0;
    while (this.#waitingCount > 0) {
      let kept = 0;
      let heldUntil = Number.POSITIVE_INFINITY;
      for (let k = 0; k < this.#waitingCount; k++) {
        const i = this.#waiting[k]!;
        if (this.#waits[i]! === 0) {
          const held = notBefore ? notBefore[i]! : 0;
          if (held > this.#now) heldUntil = Math.min(heldUntil, held);
          else if (this.#tryToStart(i)) {
            makespanMin = Math.max(makespanMin, this.#ends[i]!);
            continue;
          }
        }
        this.#waiting[kept++] = i;
      }
      this.#waitingCount = kept;
      if (kept > 0) this.#advance(heldUntil);
    }
    return { startsMin: this.#starts, people: this.#people, makespanMin };
  }

  #tryToStart(i: number): boolean {
    const t = this.#m.tasks[i]!;
    if ((t.atFoot && this.#overhead > 0) || (t.usesDropZone && this.#atFoot > 0)) return false;
    const people = this.#staffFor(i);
    if (people < 0) return false;
    this.#starts[i] = this.#now;
    this.#ends[i] = this.#now + this.#m.durationsMin[i]!;
    this.#people[i] = people;
    this.#running[this.#runningCount++] = i;
    this.#busy |= people;
    if (t.atFoot) this.#atFoot++;
    if (t.usesDropZone) this.#overhead++;
    if (t.moves === "climb") this.#isUp = true;
    return true;
  }

  /** To the next moment at which something ends, or a task held back may start. */
  #advance(heldUntil: number): void {
    let next = heldUntil;
    for (let k = 0; k < this.#runningCount; k++) next = Math.min(next, this.#ends[this.#running[k]!]!);
    if (next === Number.POSITIVE_INFINITY) {
      throw new RangeError(`nobody is there for task ${this.#m.tasks[this.#waiting[0]!]!.id}`);
    }
    this.#now = next;
    let kept = 0;
    for (let k = 0; k < this.#runningCount; k++) {
      const i = this.#running[k]!;
      if (this.#ends[i]! > next) {
        this.#running[kept++] = i;
        continue;
      }
      const t = this.#m.tasks[i]!;
      this.#busy &= ~this.#people[i]!;
      if (t.atFoot) this.#atFoot--;
      if (t.usesDropZone) this.#overhead--;
      if (t.moves === "descent") this.#isUp = false;
      for (const j of this.#m.followers[i]!) this.#waits[j]!--;
    }
    this.#runningCount = kept;
  }

  /** People for the task as bits, -1 = not now. */
  #staffFor(i: number): number {
    if (this.#m.tasks[i]!.everybody) return this.#busy === 0 ? this.#m.everyone : -1;
    let chosen = 0;
    let freeParty = this.#party & ~this.#busy;
    for (let h = this.#hands[i]!; h > 0; h--) {
      if (freeParty === 0) return -1;
      const bit = freeParty & -freeParty;
      chosen |= bit;
      freeParty &= ~bit;
    }
    const wants = this.#m.wants[i]!;
    if (wants.length === 0) return chosen;
    const away = this.#isUp || this.#m.isAloft[i]! ? this.#party : 0;
    const others = pickPeople(wants, this.#m.everyone & ~(this.#busy | chosen | away));
    return others < 0 ? -1 : chosen | others;
  }
}
