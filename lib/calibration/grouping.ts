/** Actuals in groups of one level, and the effect of each group, drawn toward nothing. */

import { meanOf, type PriorWeight, priorWeight, shrunkMean } from "./shrink";
import type { EquationLevel } from "./together";

export const LEVELS = ["work", "crew", "crew and scheme", "part"] as const;
export type Level = (typeof LEVELS)[number];

/** The effect of one group. */
export interface Effect {
  level: Level;
  /** Kind of work, crew code, `crew code|scheme` or part. */
  key: string;
  actuals: number;
  /** Factor that the actuals alone would give, the other levels' factors taken out. */
  plainFactor: number;
  /** Drawn toward 1. */
  factor: number;
  /** Standard deviation of its logarithm after the data. */
  logSd: number;
}

/** Values in groups, and the effect of each group. State: the effects change through the rounds. */
export class Grouping<T> {
  weight: PriorWeight = { k: 0, isFromData: false };
  #within = 0;
  readonly #groupOf: number[];
  readonly #members: number[][] = [];
  readonly #keys: string[] = [];
  #means: number[] = [];
  #effects: number[];

  constructor(
    readonly level: Level,
    items: readonly T[],
    keyOf: (item: T) => string,
  ) {
    const known = new Map<string, number>();
    this.#groupOf = items.map((item, i) => {
      const key = keyOf(item);
      let g = known.get(key);
      if (g === undefined) {
        g = this.#keys.push(key) - 1;
        known.set(key, g);
        this.#members.push([]);
      }
      this.#members[g]!.push(i);
      return g;
    });
    this.#effects = this.#keys.map(() => 0);
  }

  #grouped(values: readonly number[]): number[][] {
    return this.#members.map((m) => m.map((i) => values[i]!));
  }

  /** Settles the prior's weight; the groups' own means are the first effects. */
  weigh(values: readonly number[], defaultK: number): void {
    const groups = this.#grouped(values);
    this.weight = priorWeight(groups, defaultK);
    const spare = values.length - groups.length;
    const squares = groups.reduce((sum, g) => {
      const m = meanOf(g);
      return sum + g.reduce((s, x) => s + (x - m) ** 2, 0);
    }, 0);
    this.#within = spare > 0 ? squares / spare : 0;
    this.fit(values);
  }

  fit(values: readonly number[]): void {
    this.measure(values);
    this.#effects = this.#means.map((mean, g) => this.drawn(mean, g));
  }

  /** As the equations of several levels see it. */
  equationLevel(k: number): EquationLevel {
    return { groupOf: this.#groupOf, groupCount: this.#keys.length, k };
  }

  /** Takes effects that were found together with other levels. */
  take(effects: readonly number[]): void {
    this.#effects = [...effects];
  }

  /** Notes the groups' own means of what the other levels leave. */
  measure(rest: readonly number[]): void {
    this.#means = this.#grouped(rest).map(meanOf);
  }

  /** Draws an effect of `mean` toward nothing by the level's own prior. */
  drawn(mean: number, group: number): number {
    return shrunkMean(mean, this.#members[group]!.length, this.weight.k);
  }

  effectAt(item: number): number {
    return this.#effects[this.#groupOf[item]!]!;
  }

  effects(): Effect[] {
    return this.#keys.map((key, g) => {
      const n = this.#members[g]!.length;
      return {
        level: this.level,
        key,
        actuals: n,
        plainFactor: Math.exp(this.#means[g]!),
        factor: Math.exp(this.#effects[g]!),
        logSd: Math.sqrt(this.#within / (n + this.weight.k)),
      };
    });
  }
}
