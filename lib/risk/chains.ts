/** Which visits, crews and kit items set the programme's finish, run by run. */
import { CHAIN_STARTS, type RiskModel } from "./model";
import type { Replay } from "./replay";
import type { Criticality, PlanRisk } from "./types";

/**
 * Walks back in each run from the visit that ends last, along what set when each visit could begin, to what held the
 * first of them. Everything met on the way is critical in this run.
 */
export class Chains {
  readonly #m: RiskModel;
  readonly #visitRuns: Int32Array;
  readonly #crewRuns: Int32Array;
  /** Run in which a crew was last met, so that it counts once a run. */
  readonly #crewSeen: Int32Array;
  readonly #startRuns = new Int32Array(CHAIN_STARTS.length);
  readonly #items: readonly string[];
  /** By visit: position of its kit's last item, or -1. */
  readonly #itemOf: Int32Array;
  readonly #itemRuns: Int32Array;
  #run = 0;

  constructor(m: RiskModel) {
    const { problem, kits } = m.input;
    const codes = kits.map((k) => k?.item);
    this.#m = m;
    this.#visitRuns = new Int32Array(problem.visits.length);
    this.#crewRuns = new Int32Array(m.crewCount);
    this.#crewSeen = new Int32Array(m.crewCount);
    this.#items = [...new Set(codes.filter((i) => i !== undefined))].sort();
    this.#itemOf = Int32Array.from(codes, (item) => (item === undefined ? -1 : this.#items.indexOf(item)));
    this.#itemRuns = new Int32Array(this.#items.length);
  }

  take({ endMin, boundBy }: Replay): void {
    const { unit } = this.#m;
    if (unit.length === 0) return;
    this.#run++;
    let v = unit[0]!;
    for (let i = 1; i < unit.length; i++) if (endMin[unit[i]!]! > endMin[v]!) v = unit[i]!;
    while (true) {
      this.#meet(v);
      const partner = this.#m.partner[v]!;
      if (partner >= 0) this.#meet(partner);
      const before = boundBy[v]!;
      if (before < 0) {
        const start = -1 - before;
        this.#startRuns[start]!++;
        if (CHAIN_STARTS[start] === "kit") this.#meetItem(v, partner);
        return;
      }
      v = before;
    }
  }

  #meet(v: number): void {
    this.#visitRuns[v]!++;
    const crew = this.#m.crewOf[v]!;
    if (this.#crewSeen[crew] === this.#run) return;
    this.#crewSeen[crew] = this.#run;
    this.#crewRuns[crew]!++;
  }

  #meetItem(v: number, partner: number): void {
    const own = this.#itemOf[v]!;
    const item = own < 0 && partner >= 0 ? this.#itemOf[partner]! : own;
    if (item >= 0) this.#itemRuns[item]!++;
  }

  shares(runs: number): Pick<PlanRisk, "visits" | "crews" | "items" | "starts"> {
    const byIndex = (counts: Int32Array) => ranked(counts, runs, (i) => i);
    return {
      visits: byIndex(this.#visitRuns),
      crews: byIndex(this.#crewRuns),
      items: ranked(this.#itemRuns, runs, (i) => this.#items[i]!),
      starts: ranked(this.#startRuns, runs, (i) => CHAIN_STARTS[i]!),
    };
  }
}

/** What happened in any run, most often first. */
export function ranked<K>(counts: Int32Array, runs: number, of: (i: number) => K): Criticality<K>[] {
  return Array.from(counts, (count, i) => ({ of: of(i), share: count / runs, i }))
    .filter((c) => c.share > 0)
    .sort((a, b) => b.share - a.share || a.i - b.i)
    .map(({ of, share }) => ({ of, share }));
}
