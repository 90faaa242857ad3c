import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Random } from "@/lib/random";
import { type PlanRisk, type RiskInput, simulatePlan, type WorkRange } from "@/lib/risk";
import { schedule } from "@/lib/schedule";
import { invented, normalRange, plainYears, riskInput, stormyDays, table } from "./make";

const DAYS = 30;
const YEARS = 3;

/** Two weathers of one invented programme, the second with more hours closed. */
function twoWeathers(seed: string): { input: RiskInput; worse: RiskInput } {
  const random = new Random(seed);
  const { problem, placed } = invented(random, DAYS);
  const open = Array.from({ length: YEARS }, () => stormyDays(random, DAYS)).flat();
  const fewer = open.map((mask) => mask & ~((1 << random.below(24)) | (1 << random.below(24))));
  const ranges = problem.visits.map(() => normalRange(random.between(0.02, 0.4)));
  const of = (days: number[]) =>
    riskInput(problem, placed, {
      ranges,
      weather: [{ forecastDays: 0, past: table(days) }],
      past: plainYears(YEARS, DAYS),
    });
  return { input: of(open), worse: of(fewer) };
}

const seeds = fc.string({ minLength: 1, maxLength: 12 });
const QUANTILES = ["p10Min", "p50Min", "p80Min", "p90Min"] as const;

function neverEarlier(before: PlanRisk, after: PlanRisk): void {
  const pairs = [
    [before.programme!, after.programme!] as const,
    ...before.hops.map((h, k) => [h.finish, after.hops[k]!.finish] as const),
  ];
  for (const [a, b] of pairs)
    for (const q of QUANTILES)
      expect(b[q] ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(a[q] ?? Number.POSITIVE_INFINITY);
}

describe("risk, properties", () => {
  test("more closed hours never finish earlier", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { input, worse } = twoWeathers(seed);
        for (let run = 1; run <= 8; run++) {
          const options = { seed, runs: run };
          neverEarlier(simulatePlan(input, options), simulatePlan(worse, options));
        }
      }),
      { numRuns: 150 },
    );
  });

  test("wider ranges do not lower P80", () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 1, max: 3, noNaN: true }), (seed, widen) => {
        const { input } = twoWeathers(seed);
        const wider = (r: WorkRange): WorkRange => ({
          ...r,
          p80: r.p50 + widen * (r.p80 - r.p50),
          p90: r.p50 + widen * (r.p90 - r.p50),
        });
        const options = { seed, runs: 60 };
        const after = simulatePlan({ ...input, ranges: input.ranges.map(wider) }, options);
        neverEarlier(simulatePlan(input, options), after);
      }),
      { numRuns: 60 },
    );
  });

  test("the same seed gives the same answer, another seed another", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { input } = twoWeathers(seed);
        const once = simulatePlan(input, { seed, runs: 50 });
        expect(simulatePlan(input, { seed, runs: 50 })).toEqual(once);
        expect(simulatePlan(input, { seed: `${seed} other`, runs: 50 })).not.toEqual(once);
      }),
      { numRuns: 30 },
    );
  });

  test("shares add up: one start a run, promises met together no more often than alone", () => {
    fc.assert(
      fc.property(seeds, fc.integer({ min: 1, max: 12 }), (seed, promiseDay) => {
        const { input } = twoWeathers(seed);
        const hops = input.problem.hops.map((h) => ({ ...h, promiseDay }));
        const risk = simulatePlan({ ...input, problem: { ...input.problem, hops } }, { seed, runs: 40 });
        expect(risk.starts.reduce((sum, s) => sum + s.share, 0)).toBeCloseTo(1, 9);
        for (const h of risk.hops) expect(risk.allPromisesMetShare!).toBeLessThanOrEqual(h.promiseMetShare!);
        for (const c of [...risk.visits, ...risk.crews]) expect(c.share).toBeLessThanOrEqual(1);
      }),
      { numRuns: 30 },
    );
  });

  test("a plan of the scheduler, run with no surprise, ends as planned or earlier", () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const { problem } = invented(new Random(seed), DAYS);
        const plan = schedule(problem, { seed, maxIterations: 30 });
        if (!plan.ok) throw new Error(JSON.stringify(plan.problems));
        expect(plan.value.unplaced).toEqual([]);
        const risk = simulatePlan(riskInput(problem, plan.value.placed), { seed, runs: 1 });
        for (const h of risk.hops) expect(h.finish.p90Min!).toBeLessThanOrEqual(h.finish.plannedMin);
      }),
      { numRuns: 40 },
    );
  });
});
