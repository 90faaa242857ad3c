/**
 * How sure is a plan? Many runs of it through drawn hours of work and drawn past weather, its order kept.
 * Method, worked example and limits: docs/methods/risk.md.
 */
import { Random } from "@/lib/random";
import { lostHours } from "./causes";
import { Chains, ranked } from "./chains";
import { allPromisesMet, finishRange, hopRisks } from "./finishes";
import { buildRiskModel, type RiskModel } from "./model";
import { workFactor } from "./range";
import { Replay } from "./replay";
import { Slips } from "./slips";
import type { PlanRisk, RiskInput, RiskOptions } from "./types";

/**
 * Runs the plan `options.runs` times. In each run every piece of work takes as long as its range says by chance, and
 * one past year (begun a few days earlier or later) gives the weather of all sites at once, after the forecast. Crews
 * keep the planned order: each visit begins as early as its crew, earlier work, site, kit and weather let it, and not
 * before its planned day. The same input, seed and runs give the same answer; the first runs of more are the same.
 *
 * @throws RangeError when ranges or weather do not fit the problem, or `runs` is not above 0
 */
export function simulatePlan(input: RiskInput, options: RiskOptions): PlanRisk {
  if (!(options.runs >= 1)) throw new RangeError(`runs must be at least 1, got ${options.runs}`);
  const model = buildRiskModel(input);
  const draw = new RunDraw(model, options.seed);
  const replay = new Replay(model);
  const chains = new Chains(model);
  const slips = new Slips(model);
  const hopEnds = new HopEnds(model, options.runs);
  let runs = 0;
  while (runs < options.runs && !(runs > 0 && options.shouldStop?.())) {
    draw.next(runs);
    replay.run(draw.year, draw.shiftDays, draw.factors, draw.weekZ);
    hopEnds.take(runs, replay.endMin);
    chains.take(replay);
    slips.take(replay);
    runs++;
    if (options.progressEvery && runs % options.progressEvery === 0) options.onProgress?.(runs);
  }
  const lastMin = model.dayCount * 1440;
  const { programmeMin, plannedMin } = hopEnds;
  return {
    seed: options.seed,
    runs,
    weathers: draw.weathers,
    programme:
      model.unit.length > 0 ? finishRange(programmeMin.slice(0, runs), plannedMin, lastMin) : undefined,
    allPromisesMetShare: allPromisesMet(input.problem, hopEnds.hops, hopEnds.endMin, runs),
    hops: hopRisks(input.problem, hopEnds.hops, hopEnds.endMin, hopEnds.hopPlannedMin, runs, lastMin),
    ...chains.shares(runs),
    standIns: ranked(replay.standInRuns, runs, (i) => i),
    slips: slips.shares(runs),
    lostH: lostHours(replay.lostMin, runs),
  };
}

/** What chance brings in a run; its arrays are reused from run to run. */
class RunDraw {
  year = 0;
  shiftDays = 0;
  readonly factors: Float64Array;
  readonly weekZ: Float64Array;
  readonly weathers: number;

  readonly #model: RiskModel;
  readonly #hours: Random;
  readonly #weeks: Random;
  /** Every weather once, in a drawn order: equally many runs meet each. */
  readonly #order: number[];

  constructor(model: RiskModel, seed: string) {
    const random = new Random(seed);
    const { past } = model.input;
    this.#model = model;
    this.#hours = random.fork("hours");
    this.#weeks = random.fork("weeks");
    this.factors = new Float64Array(model.input.problem.visits.length);
    this.weekZ = new Float64Array(Math.ceil(model.dayCount / 7));
    this.weathers = past ? past.years.length * (2 * past.neighbourDays + 1) : 0;
    this.#order = random.fork("weather").shuffle(Array.from({ length: this.weathers }, (_, i) => i));
  }

  next(run: number): void {
    const { unit, input } = this.#model;
    for (let i = 0; i < unit.length; i++) {
      const v = unit[i]!;
      this.factors[v] = workFactor(input.ranges[v]!, this.#hours.normal());
    }
    for (let w = 0; w < this.weekZ.length; w++) this.weekZ[w] = this.#weeks.normal();
    if (!input.past) return;
    const weather = this.#order[run % this.weathers]!;
    const days = 2 * input.past.neighbourDays + 1;
    this.year = Math.floor(weather / days);
    this.shiftDays = (weather % days) - input.past.neighbourDays;
  }
}

/** When hops and the programme end, run by run. */
class HopEnds {
  /** Hops with every visit placed. */
  readonly hops: readonly number[];
  /** `endMin[k * runs + run]` for `hops[k]`. */
  readonly endMin: Float64Array;
  readonly programmeMin: Float64Array;
  readonly hopPlannedMin: Float64Array;
  readonly plannedMin: number;

  readonly #runs: number;
  readonly #unit: Int32Array;
  /** By visit: position of its hop in `hops`, or -1. */
  readonly #row: Int32Array;

  constructor(model: RiskModel, runs: number) {
    const { problem, placed } = model.input;
    this.#runs = runs;
    this.#unit = model.unit;
    const isPlaced = new Set(placed.map((p) => p.visit));
    const open = new Set(problem.visits.flatMap((v, i) => (isPlaced.has(i) ? [] : [v.hop])));
    const worked = new Set(placed.map((p) => problem.visits[p.visit]!.hop));
    this.hops = [...worked].filter((h) => !open.has(h)).sort((a, b) => a - b);
    const rowOf = new Map(this.hops.map((h, k) => [h, k]));
    this.#row = Int32Array.from(problem.visits, (v) => rowOf.get(v.hop) ?? -1);
    this.endMin = new Float64Array(this.hops.length * runs);
    this.programmeMin = new Float64Array(runs);
    this.hopPlannedMin = new Float64Array(this.hops.length);
    let last = 0;
    for (const p of placed) {
      const end = p.endDay * 1440 + p.endMin;
      const row = this.#row[p.visit]!;
      if (row >= 0) this.hopPlannedMin[row] = Math.max(this.hopPlannedMin[row]!, end);
      last = Math.max(last, end);
    }
    this.plannedMin = last;
  }

  /** Both ends of joint work end together, so its unit's visit speaks for both. */
  take(run: number, endMin: Float64Array): void {
    let last = 0;
    for (let i = 0; i < this.#unit.length; i++) {
      const v = this.#unit[i]!;
      const end = endMin[v]!;
      if (end > last) last = end;
      const row = this.#row[v]!;
      if (row < 0) continue;
      const at = row * this.#runs + run;
      if (end > this.endMin[at]!) this.endMin[at] = end;
    }
    this.programmeMin[run] = last;
  }
}
