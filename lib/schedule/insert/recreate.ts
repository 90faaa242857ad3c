/** Puts everything that is out back in, hop by hop in a drawn order, each visit at the cheapest place (with blinks). */
import type { Random } from "@/lib/random";
import type { PlanEdit } from "../edit";
import { nearestCrews } from "../neighbours";
import type { Ruin } from "../remove/ruin";
import type { Blink } from "./blink";
import { insertCheapest, leadOf } from "./insert";
import { anywhere, type Within } from "./range";

/** Unplaced visits tried beside those just taken out. */
const MOST_OTHERS = 24;
/** Mostly a visit is only offered to the crews nearest to it, near the day it had: large plans need no more. */
const NEAR_CREWS = 8;
const LEAST_DAYS_AWAY = 4;
const MOST_DAYS_AWAY = 24;
const WIDE_RATE = 0.1;

export class Recreate {
  readonly #list: Int32Array;
  readonly #key: Float64Array;
  readonly #hopKey: Float64Array;
  readonly #all: Within;
  readonly #narrow: Within;
  readonly #nearCrews: (place: number) => Int32Array;
  #scanFrom = 0;

  constructor(
    readonly edit: PlanEdit,
    readonly random: Random,
    readonly blink: Blink,
  ) {
    const m = edit.model;
    this.#all = anywhere(m);
    this.#narrow = { ...this.#all };
    this.#nearCrews = nearestCrews(m, NEAR_CREWS);
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
      if (s.crewOf[v]! >= 0) continue;
      if (ruin.wasDay[v]! >= 0 && this.#putNear(ruin, v)) continue;
      insertCheapest(this.edit, v, this.blink, this.#all);
    }
    for (let i = 0; i < count; i++) if (s.crewOf[this.#list[i]!]! < 0) this.#dropFollowers(this.#list[i]!);
  }

  /** Near where it was; false = not placed, or to be looked for everywhere this time. */
  #putNear(ruin: Ruin, v: number): boolean {
    const m = this.edit.model;
    if (this.random.next() < WIDE_RATE) return false;
    const narrow = this.#narrow;
    const daysAway = LEAST_DAYS_AWAY + this.random.below(MOST_DAYS_AWAY - LEAST_DAYS_AWAY);
    narrow.firstDay = ruin.wasDay[v]! - daysAway;
    narrow.lastDay = ruin.wasDay[v]! + daysAway;
    narrow.crews = this.#nearCrews(m.place[v]!);
    if (m.partner[v]! >= 0) narrow.otherCrews = this.#nearCrews(m.place[m.partner[v]!]!);
    return insertCheapest(this.edit, v, this.blink, narrow);
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
      if (ruin.wasDay[v]! < 0) this.#list[count++] = v;
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
