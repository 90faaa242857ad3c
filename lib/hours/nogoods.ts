/** Nogoods of the proof search as clauses: at least one of the bounds (x, v) must hold. Pairs in flat arrays. */

const FIRST_LIMIT = 1000;
const LIMIT_STEP = 200;

/**
 * Learned clauses with two watched bounds each: a clause is looked at only when a watched bound becomes impossible.
 * A class because it lives and changes through one search.
 */
export class NogoodStore {
  #clauses: number[][] = [];
  #use: number[] = [];
  /** Per bound y: pairs (threshold, clause): when bound y reaches the threshold, the clause's watched bound is false. */
  readonly #watch: number[][];
  #limit = FIRST_LIMIT;
  #useStep = 1;

  constructor(bounds: number) {
    this.#watch = Array.from({ length: bounds }, () => []);
  }

  clause(id: number): readonly number[] {
    this.#use[id]! += this.#useStep;
    return this.#clauses[id]!;
  }

  /** Keeps a clause whose first two bounds are to be watched; at least two bounds. */
  add(clause: number[]): number {
    const id = this.#clauses.length;
    this.#clauses.push(clause);
    this.#use.push(this.#useStep);
    this.#useStep *= 1.001;
    this.#watchPair(clause, 0, id);
    this.#watchPair(clause, 2, id);
    return id;
  }

  #watchPair(clause: readonly number[], k: number, id: number): void {
    this.#watch[clause[k]! ^ 1]!.push(1 - clause[k + 1]!, id);
  }

  /**
   * Looks at the clauses that bound `y` may have hurt; `force` raises what a clause leaves as its only way out.
   *
   * @returns false when `force` met a conflict
   */
  visit(y: number, bound: Int32Array, force: (id: number, x: number, v: number) => boolean): boolean {
    const list = this.#watch[y]!;
    const reached = bound[y]!;
    let keep = 0;
    for (let k = 0; k < list.length; k += 2) {
      const threshold = list[k]!;
      const id = list[k + 1]!;
      if (threshold > reached) {
        list[keep++] = threshold;
        list[keep++] = id;
        continue;
      }
      const c = this.#clauses[id]!;
      if ((c[0]! ^ 1) === y && 1 - c[1]! === threshold) {
        [c[0], c[1], c[2], c[3]] = [c[2]!, c[3]!, c[0]!, c[1]!];
      }
      if (bound[c[0]!]! >= c[1]! || !this.#moveWatch(c, id, bound)) {
        list[keep++] = threshold;
        list[keep++] = id;
        if (bound[c[0]!]! < c[1]! && !force(id, c[0]!, c[1]!)) {
          for (let m = k + 2; m < list.length; m++) list[keep++] = list[m]!;
          list.length = keep;
          return false;
        }
      }
    }
    list.length = keep;
    return true;
  }

  /** Watches another bound that may still hold instead of the second. */
  #moveWatch(c: number[], id: number, bound: Int32Array): boolean {
    for (let k = 4; k < c.length; k += 2) {
      if (bound[c[k]! ^ 1]! + c[k + 1]! > 0) continue;
      [c[2], c[3], c[k], c[k + 1]] = [c[k]!, c[k + 1]!, c[2]!, c[3]!];
      this.#watchPair(c, 2, id);
      return true;
    }
    return false;
  }

  /** Drops the less used half when there are too many. Only between searches: no clause may be a reason. */
  forget(): void {
    if (this.#clauses.length < this.#limit) return;
    this.#limit += LIMIT_STEP;
    const order = this.#clauses.map((_, id) => id).sort((a, b) => this.#use[b]! - this.#use[a]! || a - b);
    const kept = order.filter((id, rank) => rank < order.length / 2 || this.#clauses[id]!.length <= 4);
    this.#clauses = kept.map((id) => this.#clauses[id]!);
    this.#use = kept.map((id) => this.#use[id]! / this.#useStep);
    this.#useStep = 1;
    for (const list of this.#watch) list.length = 0;
    for (const [id, c] of this.#clauses.entries()) {
      this.#watchPair(c, 0, id);
      this.#watchPair(c, 2, id);
    }
  }
}
