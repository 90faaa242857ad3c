/** What every removal works with. */
import type { Random } from "@/lib/random";
import type { PlanEdit } from "../edit";
import { leadOf } from "../insert/insert";
import type { Model } from "../model";

/** A way to choose what is taken out: one small file each, listed in REMOVALS. */
export interface Removal {
  name: string;
  /** How often, relative to the others. */
  weight: number;
  /** Programmes for which it does something that the others do not; all when left out. */
  suits?: (m: Model) => boolean;
  run(ruin: Ruin): void;
}

export class Ruin {
  /** What was taken out since `clear`; pairs by their lead. */
  readonly pool: Int32Array;
  poolSize = 0;
  /** Start day of a visit when it was taken; -1 = not taken since `clear`. */
  readonly wasDay: Int32Array;
  /** About how many visits to take this time. */
  quota = 0;
  /** Was it taken in an order in which it should go back in? */
  isInOrder = false;

  constructor(
    readonly edit: PlanEdit,
    readonly random: Random,
    readonly near: (place: number) => Int32Array,
    readonly nearHops: (hop: number) => Int32Array,
  ) {
    this.pool = new Int32Array(edit.model.visitCount);
    this.wasDay = new Int32Array(edit.model.visitCount).fill(-1);
  }

  clear(quota: number): void {
    for (let i = 0; i < this.poolSize; i++) this.wasDay[this.pool[i]!] = -1;
    this.poolSize = 0;
    this.quota = quota;
    this.isInOrder = false;
  }

  get isFull(): boolean {
    return this.poolSize >= this.quota;
  }

  /** Takes a visit, its other end, and what waits for it: nothing may stay that would begin before it. */
  take(v: number): void {
    const { model: m, state: s } = this.edit;
    if (s.crewOf[v]! < 0 || m.kept[v] !== undefined) return;
    const b = m.partner[v]!;
    if (b >= 0 && m.kept[b] !== undefined) return;
    this.#takeFollowers(v);
    if (b >= 0) this.#takeFollowers(b);
    if (s.crewOf[v]! >= 0) this.edit.remove(v);
    if (b >= 0 && s.crewOf[b]! >= 0) this.edit.remove(b);
    const lead = leadOf(m, v);
    this.wasDay[lead] = s.startDay[v]!;
    this.pool[this.poolSize++] = lead;
  }

  /** All visits of a hop. */
  takeHop(h: number): void {
    const m = this.edit.model;
    for (let i = m.hopFrom[h]!; i < m.hopFrom[h + 1]!; i++) this.take(m.hopVisits[i]!);
  }

  #takeFollowers(v: number): void {
    const m = this.edit.model;
    for (let i = m.succFrom[v]!; i < m.succFrom[v + 1]!; i++) this.take(m.succs[i]!);
  }

  /** A placed visit drawn evenly; -1 when the draws find none. */
  anyPlaced(): number {
    const { model: m, state: s } = this.edit;
    for (let tries = 0; tries < 50; tries++) {
      const v = this.random.below(m.visitCount);
      if (s.crewOf[v]! >= 0 && m.kept[v] === undefined) return v;
    }
    return -1;
  }
}
