/**
 * Use of renewable resources over time, as breakpoints: between two of them the use is constant.
 *
 * A class because it lives and changes through one schedule generation, which runs thousands of times: flat typed
 * arrays, cleared and refilled, no allocation.
 */
export class ResourceProfile {
  readonly #resources: number;
  readonly #capacities: readonly number[];
  readonly #times: Float64Array;
  readonly #use: Int32Array;
  #count = 0;

  /** @param maxTasks each task adds at most two breakpoints */
  constructor(capacities: readonly number[], maxTasks: number) {
    this.#capacities = capacities;
    this.#resources = capacities.length;
    this.#times = new Float64Array(2 * maxTasks + 2);
    this.#use = new Int32Array((2 * maxTasks + 2) * this.#resources);
    this.clear();
  }

  clear(): void {
    this.#count = 1;
    this.#times[0] = Number.NEGATIVE_INFINITY;
    this.#use.fill(0, 0, this.#resources);
  }

  /** Earliest start from `fromTime` at which the demand fits for the whole duration. */
  earliestFit(fromTime: number, duration: number, demand: readonly number[]): number {
    let start = fromTime;
    if (duration === 0) return start;
    let k = this.#segmentAt(start);
    while (k < this.#count && this.#times[k]! < start + duration) {
      if (this.#fits(k, demand)) k++;
      else {
        k++;
        start = this.#times[k]!;
      }
    }
    return start;
  }

  add(start: number, duration: number, demand: readonly number[]): void {
    if (duration === 0) return;
    const first = this.#breakAt(start);
    const end = this.#breakAt(start + duration);
    for (let k = first; k < end; k++) {
      const base = k * this.#resources;
      for (let r = 0; r < this.#resources; r++) this.#use[base + r]! += demand[r]!;
    }
  }

  #fits(k: number, demand: readonly number[]): boolean {
    const base = k * this.#resources;
    for (let r = 0; r < this.#resources; r++) {
      if (demand[r]! > 0 && this.#use[base + r]! + demand[r]! > this.#capacities[r]!) return false;
    }
    return true;
  }

  /** Index of the constant piece that holds `time`. */
  #segmentAt(time: number): number {
    let k = this.#count - 1;
    while (this.#times[k]! > time) k--;
    return k;
  }

  /** Index of the breakpoint at `time`, made when there is none. */
  #breakAt(time: number): number {
    const k = this.#segmentAt(time);
    if (this.#times[k] === time) return k;
    const at = k + 1;
    this.#times.copyWithin(at + 1, at, this.#count);
    this.#use.copyWithin((at + 1) * this.#resources, at * this.#resources, this.#count * this.#resources);
    this.#times[at] = time;
    this.#use.copyWithin(at * this.#resources, k * this.#resources, (k + 1) * this.#resources);
    this.#count++;
    return at;
  }
}
