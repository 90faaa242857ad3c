/** Puts everything that is out back in, hop by hop in a drawn order, each visit at the cheapest place (with blinks). */
import type { Random } from "@/lib/random";
import type { PlanEdit } from "../edit";
import { nearestCrews } from "../neighbours";
import type { Ruin } from "../remove/ruin";
import type { Blink } from "./blink";
import { alignmentOf, Company } from "./company";
import { insertCheapest, leadOf } from "./insert";
import { anywhere, type Within } from "./range";

/** Unplaced visits tried beside those just taken out. */
const MOST_OTHERS = 24;
/** Mostly a visit is only offered to the crews nearest to it, near the day it had: large plans need no more. */
const NEAR_CREWS = 8;
const LEAST_DAYS_AWAY = 4;
const MOST_DAYS_AWAY = 24;
const WIDE_RATE = 0.1;
/** How often a hop that fits twice a day is put in as one: an install put in alone soon pulls good company apart. */
const SIDE_BY_SIDE_RATE = 0.99;
/** How often a crew-day not used yet is offered below its price: days gather again what fits, instead of filling gaps. */
const CHEAP_DAY_RATE = 0.5;

export class Recreate {
  readonly #list: Int32Array;
  readonly #key: Float64Array;
  readonly #hopKey: Float64Array;
  readonly #all: Within;
  readonly #narrow: Within;
  readonly #nearCrews: (place: number) => Int32Array;
  readonly #company: Company;
  #scanFrom = 0;

  constructor(
    readonly edit: PlanEdit,
    readonly random: Random,
    readonly blink: Blink,
    readonly nearHops: (hop: number) => Int32Array,
  ) {
    const m = edit.model;
    this.#all = anywhere(m);
    this.#narrow = { ...this.#all };
    this.#nearCrews = nearestCrews(m, NEAR_CREWS);
    this.#list = new Int32Array(m.visitCount);
    this.#key = new Float64Array(m.visitCount);
    this.#hopKey = new Float64Array(m.hopCount);
    this.#company = new Company(edit);
  }

  run(ruin: Ruin): void {
    const { model: m, state: s } = this.edit;
    const count = this.#collect(ruin);
    this.#sort(count, ruin.isInOrder);
    const isSideBySide = this.random.next() < SIDE_BY_SIDE_RATE;
    const edit = this.edit;
    if (this.random.next() < CHEAP_DAY_RATE) edit.newDayPrice *= this.random.next();
    for (let i = 0; i < count; i++) {
      const v = this.#list[i]!;
      if (s.crewOf[v]! >= 0) continue;
      if (isSideBySide && this.#company.fits[m.hop[v]!] === 1 && this.#putSideBySide(ruin, v)) continue;
      if (ruin.wasDay[v]! >= 0 && this.#putNear(ruin, v)) continue;
      insertCheapest(edit, v, this.blink, this.#all);
    }
    edit.newDayPrice = m.problem.weights.crewDay;
    for (let i = 0; i < count; i++) if (s.crewOf[this.#list[i]!]! < 0) this.#dropFollowers(this.#list[i]!);
  }

  /** Its hop as one: beside its neighbours, or near where it was. */
  #putSideBySide(ruin: Ruin, v: number): boolean {
    const m = this.edit.model;
    const h = m.hop[v]!;
    const beside = this.nearHops(h);
    if (ruin.wasDay[v]! >= 0 && this.random.next() >= WIDE_RATE) {
      const a = alignmentOf(m, h);
      this.#lookNear(ruin.wasDay[v]!, a, m.partner[a]!);
      if (this.#company.insert(h, this.blink, this.#narrow, beside)) return true;
    }
    return this.#company.insert(h, this.blink, this.#all, beside);
  }

  /** Near where it was; false = not placed, or to be looked for everywhere this time. */
  #putNear(ruin: Ruin, v: number): boolean {
    if (this.random.next() < WIDE_RATE) return false;
    this.#lookNear(ruin.wasDay[v]!, v, this.edit.model.partner[v]!);
    return insertCheapest(this.edit, v, this.blink, this.#narrow);
  }

  /** Narrows `#narrow` to days around `day` and the crews nearest to a visit and, for joint work, to its other end. */
  #lookNear(day: number, v: number, other: number): void {
    const m = this.edit.model;
    const narrow = this.#narrow;
    const daysAway = LEAST_DAYS_AWAY + this.random.below(MOST_DAYS_AWAY - LEAST_DAYS_AWAY);
    narrow.firstDay = day - daysAway;
    narrow.lastDay = day + daysAway;
    narrow.crews = this.#nearCrews(m.place[v]!);
    if (other >= 0) narrow.otherCrews = this.#nearCrews(m.place[other]!);
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
  #sort(count: number, inOrder: boolean): void {
    const m = this.edit.model;
    const order = this.random.below(8);
    for (let i = 0; i < count; i++) this.#hopKey[m.hop[this.#list[i]!]!] = Number.NaN;
    for (let i = 0; i < count; i++) {
      const v = this.#list[i]!;
      const h = m.hop[v]!;
      if (Number.isNaN(this.#hopKey[h]!)) this.#hopKey[h] = inOrder ? i : this.#orderKey(order, v, h);
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
