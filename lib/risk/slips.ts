/** Which visits are not done before their crew is away, and which hops wait for them, run by run. */
import type { RiskModel } from "./model";
import type { Replay } from "./replay";
import { gapAfter, type StaffingGap } from "./staffing";
import type { Slip } from "./types";

/**
 * A hop that ends later than planned is led back from the visit that ends it, along what set when each visit could
 * begin. The first visit in time on this way that ended after a gap of its crew is what the hop waits for; a visit that
 * waits for such a one itself is none.
 */
export class Slips {
  readonly #m: RiskModel;
  /** By visit: the gap that comes next to its planned day. */
  readonly #gaps: (StaffingGap | undefined)[];
  readonly #plannedMin: Float64Array;
  readonly #runs: Int32Array;
  /** By visit and hop: runs. */
  readonly #hopRuns = new Map<number, Map<number, number>>();
  // Of one run
  readonly #rootOf: Int32Array;
  readonly #hopEnd: Float64Array;
  readonly #hopRoot: Int32Array;

  constructor(m: RiskModel) {
    const { problem, placed } = m.input;
    this.#m = m;
    this.#gaps = problem.visits.map(() => undefined);
    this.#plannedMin = new Float64Array(problem.hops.length);
    for (const { visit, crew, startDay, endDay, endMin } of placed) {
      const { needs, hop } = problem.visits[visit]!;
      this.#gaps[visit] = gapAfter(problem.crews[crew]!.days, needs, Math.max(0, startDay));
      this.#plannedMin[hop] = Math.max(this.#plannedMin[hop]!, endDay * 1440 + endMin);
    }
    this.#runs = new Int32Array(problem.visits.length);
    this.#rootOf = new Int32Array(problem.visits.length).fill(-1);
    this.#hopEnd = new Float64Array(problem.hops.length);
    this.#hopRoot = new Int32Array(problem.hops.length);
  }

  take({ endMin, boundBy }: Replay): void {
    const { unit, partner, input } = this.#m;
    this.#hopEnd.fill(0);
    this.#hopRoot.fill(-1);
    for (let i = 0; i < unit.length; i++) {
      const v = unit[i]!;
      const other = partner[v]!;
      const before = boundBy[v]!;
      let root = before >= 0 ? this.#rootOf[before]! : -1;
      if (root < 0) {
        root = this.#isPast(v, endMin[v]!) ? v : other >= 0 && this.#isPast(other, endMin[v]!) ? other : -1;
        if (root >= 0) this.#runs[root]!++;
      }
      this.#rootOf[v] = root;
      if (other >= 0) this.#rootOf[other] = root;
      const { hop } = input.problem.visits[v]!;
      if (endMin[v]! > this.#hopEnd[hop]!) {
        this.#hopEnd[hop] = endMin[v]!;
        this.#hopRoot[hop] = root;
      }
    }
    for (let hop = 0; hop < this.#hopRoot.length; hop++) {
      const root = this.#hopRoot[hop]!;
      if (root < 0 || this.#hopEnd[hop]! <= this.#plannedMin[hop]!) continue;
      const hops = this.#hopRuns.get(root) ?? new Map<number, number>();
      hops.set(hop, (hops.get(hop) ?? 0) + 1);
      this.#hopRuns.set(root, hops);
    }
  }

  #isPast(v: number, endMin: number): boolean {
    const gap = this.#gaps[v];
    return gap !== undefined && endMin > gap.fromDay * 1440;
  }

  /** Most often first, then by visit; the hops of each likewise. */
  shares(runs: number): Slip[] {
    return Array.from(this.#runs, (count, of) => ({ of, count }))
      .filter(({ count }) => count > 0)
      .sort((a, b) => b.count - a.count || a.of - b.of)
      .map(({ of, count }) => ({
        of,
        share: count / runs,
        gap: this.#gaps[of]!,
        hops: [...(this.#hopRuns.get(of) ?? [])]
          .sort((a, b) => b[1] - a[1] || a[0] - b[0])
          .map(([hop, n]) => ({ of: hop, share: n / runs })),
      }));
  }
}
