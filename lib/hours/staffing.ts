import { type EndModel, handsPerTask } from "./endModel";

/** Steps of one search for names before it gives up: staffing is easy or it is impossible. */
const MOST_STEPS = 20000;

/**
 * Finds names for schedules that have none: each task keeps its people from start to end, the party does the work
 * aloft and does nothing on the ground between a climb and the descent that follows.
 *
 * A class because one end asks for hundreds of staffings of the same tasks by the same people.
 */
export class Staffing {
  /** People of each task as bits, after a search that succeeded. */
  readonly people: Int32Array;
  readonly #m: EndModel;
  readonly #party: number;
  readonly #hands: readonly number[];
  /** People that are the same to this end: with the lowest bit of their kind, by bit rank. */
  readonly #kindOf: readonly number[];
  readonly #freeFrom: Int32Array;
  #starts: ArrayLike<number> = [];
  #order: readonly number[] = [];
  #isPartyAway: boolean[] = [];
  #steps = 0;
  /** Tasks of the order that were staffed at most. */
  #deepest = 0;

  constructor(model: EndModel, party: number, partySize: number) {
    this.#m = model;
    this.#party = party;
    this.#hands = handsPerTask(model, partySize);
    this.people = new Int32Array(model.tasks.length);
    this.#freeFrom = new Int32Array(model.bitOf.length);
    this.#kindOf = kindsOf(model, party);
  }

  /** Names for the whole schedule. "gave up" = neither found nor proved impossible. */
  find(starts: ArrayLike<number>): "found" | "impossible" | "gave up" {
    this.#starts = starts;
    this.#isPartyAway = this.#m.tasks.map((_, i) => this.#m.isAloft[i]! || this.#overlapsSpan(i));
    return this.#search(this.#m.tasks.map((_, i) => i).sort((a, b) => starts[a]! - starts[b]! || a - b));
  }

  /**
   * Why the schedule last asked for cannot be staffed, as bounds for the proof search (proof.ts): few tasks that
   * cannot be staffed together, and for each two of them that overlap a minute that both cover. Whatever else moves,
   * while these minutes are covered nobody can be found.
   *
   * @returns null when a search gave up on the way
   */
  blame(): number[] | null {
    // What comes after the deepest task reached plays no part; then the latest beginning that still fails.
    let order = this.#order.slice(0, this.#deepest + 1);
    let fails = 0;
    let works = order.length;
    while (works - fails > 1) {
      const middle = (fails + works) >> 1;
      if (this.#search(order.slice(middle)) === "impossible") fails = middle;
      else works = middle;
    }
    order = order.slice(fails);
    for (let k = order.length - 1; k >= 0; k--) {
      const without = order.filter((_, n) => n !== k);
      if (this.#search(without) === "impossible") order = without;
    }
    if (this.#search(order) !== "impossible") return null;
    return this.#overlapBounds(order);
  }

  #overlapBounds(blamed: readonly number[]): number[] {
    const parts = [...blamed.map((i) => ({ first: i, last: i })), ...this.#m.spans];
    const bounds: number[] = [];
    for (const [k, a] of parts.entries()) {
      for (const b of parts.slice(k + 1)) {
        const minute = Math.max(this.#starts[a.first]!, this.#starts[b.first]!);
        if (minute >= Math.min(this.#endMin(a.last), this.#endMin(b.last))) continue;
        for (const { first, last } of [a, b]) {
          bounds.push(2 * first + 1, -minute, 2 * last, minute - this.#m.durationsMin[last]! + 1);
        }
      }
    }
    return bounds;
  }

  #search(order: readonly number[]): "found" | "impossible" | "gave up" {
    this.#order = order;
    this.#freeFrom.fill(0);
    this.#steps = 0;
    this.#deepest = 0;
    if (this.#place(0)) return "found";
    return this.#steps > MOST_STEPS ? "gave up" : "impossible";
  }

  #place(k: number): boolean {
    if (k === this.#order.length) return true;
    if (++this.#steps > MOST_STEPS) return false;
    this.#deepest = Math.max(this.#deepest, k);
    const i = this.#order[k]!;
    let free = 0;
    for (let rank = 0; rank < this.#freeFrom.length; rank++) {
      if (this.#freeFrom[rank]! <= this.#starts[i]!) free |= 1 << rank;
    }
    if (this.#m.tasks[i]!.everybody) return free === this.#m.everyone && this.#commit(k, i, free);
    const down = free & ~(this.#isPartyAway[i]! ? this.#party : 0);
    return this.#takeHands(k, i, this.#hands[i]!, free & this.#party, 0, down);
  }

  #takeHands(k: number, i: number, hands: number, up: number, chosen: number, down: number): boolean {
    if (hands === 0) return this.#takeWanted(k, i, 0, down & ~chosen, chosen);
    let tried = 0;
    for (let left = up; left !== 0; left &= left - 1) {
      const bit = left & -left;
      const kind = this.#kindOf[31 - Math.clz32(bit)]!;
      if (tried & kind) continue;
      tried |= kind;
      // Only later bits from here on, so that each group is tried once.
      if (this.#takeHands(k, i, hands - 1, left & ~bit, chosen | bit, down)) return true;
    }
    return false;
  }

  #takeWanted(k: number, i: number, w: number, free: number, chosen: number): boolean {
    const wants = this.#m.wants[i]!;
    if (w === wants.length) return this.#commit(k, i, chosen);
    let tried = 0;
    for (let left = wants[w]! & free; left !== 0; left &= left - 1) {
      const bit = left & -left;
      const kind = this.#kindOf[31 - Math.clz32(bit)]!;
      if (tried & kind) continue;
      tried |= kind;
      if (this.#takeWanted(k, i, w + 1, free & ~bit, chosen | bit)) return true;
    }
    return false;
  }

  #commit(k: number, i: number, chosen: number): boolean {
    const before: number[] = [];
    for (let left = chosen; left !== 0; left &= left - 1) {
      const rank = 31 - Math.clz32(left & -left);
      before.push(this.#freeFrom[rank]!);
      this.#freeFrom[rank] = this.#endMin(i);
    }
    this.people[i] = chosen;
    if (this.#place(k + 1)) return true;
    let n = 0;
    for (let left = chosen; left !== 0; left &= left - 1) {
      this.#freeFrom[31 - Math.clz32(left & -left)] = before[n++]!;
    }
    return false;
  }

  #endMin(i: number): number {
    return this.#starts[i]! + this.#m.durationsMin[i]!;
  }

  #overlapsSpan(i: number): boolean {
    return this.#m.spans.some(
      (s) => this.#starts[i]! < this.#endMin(s.last) && this.#endMin(i) > this.#starts[s.first]!,
    );
  }
}

/** Two people are of one kind when the same tasks want them and both or neither go up: trying one is enough. */
function kindsOf(model: EndModel, party: number): number[] {
  const kinds = new Map<string, number>();
  return model.bitOf.map((_, rank) => {
    const bit = 1 << rank;
    const wanted = model.wants.map((list) => list.map((bits) => (bits & bit ? 1 : 0)).join("")).join("|");
    const key = `${party & bit ? "up" : "down"} ${wanted}`;
    if (!kinds.has(key)) kinds.set(key, bit);
    return kinds.get(key)!;
  });
}
