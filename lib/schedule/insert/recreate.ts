/** Puts everything that is out back in, hop by hop in a drawn order, each visit at the cheapest place (with blinks). */
import type { Random } from "@/lib/random";
import type { PlanEdit } from "../edit";
import type { Ruin } from "../remove/ruin";
import type { Blink } from "./blink";
import { insertCheapest, leadOf } from "./insert";

/** Unplaced visits tried beside those just taken out. */
const MOST_OTHERS = 24;

export class Recreate {
  readonly #list: Int32Array;
  readonly #key: Float64Array;
  readonly #hopKey: Float64Array;
  #scanFrom = 0;

  constructor(
    readonly edit: PlanEdit,
    readonly random: Random,
    readonly blink: Blink,
  ) {
    const m = edit.model;
    this.#list = new Int32Array(m.visitCount);
    this.#key = new Float64Array(m.visitCount);
    this.#hopKey = new Float64Array(m.hopCount);
  }

  run(ruin: Ruin): void {
    const s = this.edit.state;
    const count = this.#collect(ruin);
    this.#sort(count);
    for (let i = 0; i < count; i++) {
      const v = this.#list[i]!;
      if (s.crewOf[v]! < 0) insertCheapest(this.edit, v, this.blink);
    }
    for (let i = 0; i < count; i++) if (s.crewOf[this.#list[i]!]! < 0) this.#dropFollowers(this.#list[i]!);
  }

  /** What was taken, and visits that were out before: all of them when few, else the next ones in turn. */
  #collect(ruin: Ruin): number {
    const { model: m, state: s } = this.edit;
    let count = 0;
    for (let i = 0; i < ruin.poolSize; i++) this.#list[count++] = ruin.pool[i]!;
    const others = count + MOST_OTHERS;
    for (let looked = 0; looked < m.visitCount && count < others; looked++) {
      this.#scanFrom = this.#scanFrom + 1 < m.visitCount ? this.#scanFrom + 1 : 0;
      const v = this.#scanFrom;
      if (s.crewOf[v]! >= 0 || m.blocked[v] === 1 || m.kept[v] !== undefined || leadOf(m, v) !== v) continue;
      let isNew = true;
      for (let i = 0; i < ruin.poolSize && isNew; i++) if (ruin.pool[i] === v) isNew = false;
      if (isNew) this.#list[count++] = v;
    }
    return count;
  }

  /** Hops in one of several orders, the visits of a hop so that none stands before what it waits for. */
  #sort(count: number): void {
    const m = this.edit.model;
    const order = this.random.below(8);
    for (let i = 0; i < count; i++) this.#hopKey[m.hop[this.#list[i]!]!] = Number.NaN;
    for (let i = 0; i < count; i++) {
      const v = this.#list[i]!;
      const h = m.hop[v]!;
      if (Number.isNaN(this.#hopKey[h]!)) this.#hopKey[h] = this.#orderKey(order, v, h);
      this.#key[v] = this.#hopKey[h]!;
    }
    // Insertion sort: the list is short.
    for (let i = 1; i < count; i++) {
      const v = this.#list[i]!;
      let j = i;
      for (; j > 0 && this.#isBefore(v, this.#list[j - 1]!); j--) this.#list[j] = this.#list[j - 1]!;
      this.#list[j] = v;
    }
  }

  #orderKey(order: number, v: number, h: number): number {
    const m = this.edit.model;
    if (order < 3) return this.random.next();
    if (order < 5) return Math.min(1e6, m.promiseDay[h]!) - m.hopWeight[h]! / 1000;
    if (order === 5) return -m.workMin[v]!;
    if (order === 6) return m.earliestDay[v]!;
    return this.edit.state.hopFinish[h]!;
  }

  #isBefore(u: number, v: number): boolean {
    const m = this.edit.model;
    const byKey = this.#key[u]! - this.#key[v]!;
    if (byKey !== 0) return byKey < 0;
    if (m.hop[u] !== m.hop[v]) return m.hop[u]! < m.hop[v]!;
    return m.rank[u] !== m.rank[v] ? m.rank[u]! < m.rank[v]! : u < v;
  }

  /** Nothing may stay placed that waits for a visit which found no place. */
  #dropFollowers(v: number): void {
    const { model: m, state: s } = this.edit;
    for (const u of [v, m.partner[v]!]) {
      if (u < 0) continue;
      for (let i = m.succFrom[u]!; i < m.succFrom[u + 1]!; i++) {
        const w = m.succs[i]!;
        if (s.crewOf[w]! < 0 || m.kept[w]) continue;
        this.edit.remove(w);
        const b = m.partner[w]!;
        if (b >= 0 && s.crewOf[b]! >= 0 && !m.kept[b]) this.edit.remove(b);
        this.#dropFollowers(w);
      }
    }
  }
}
