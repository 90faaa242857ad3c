import { expect, test } from "vitest";
import { Random } from "@/lib/random";
import { simulatePlan } from "@/lib/risk";
import { always, invented, plainYears, riskInput, stormyDays, table } from "./make";
import { whatHappens } from "./truth";

test("a run ends when a walk of the same work and weather minute by minute ends", () => {
  const DAYS = 40;
  for (let k = 0; k < 300; k++) {
    const random = new Random(`walk ${k}`);
    const { problem, placed } = invented(random, DAYS);
    const factors = problem.visits.map(() => random.between(0.6, 1.8));
    for (const v of problem.visits)
      if (v.togetherWith !== undefined) factors[v.togetherWith] = factors[problem.visits.indexOf(v)]!;
    const open = stormyDays(random, DAYS);
    const ends = whatHappens(problem, placed, factors, open);
    const risk = simulatePlan(
      riskInput(problem, placed, {
        ranges: factors.map(always),
        weather: [{ forecastDays: 0, past: table(open) }],
        past: plainYears(1, DAYS),
      }),
      { seed: "one", runs: 1 },
    );
    for (const h of risk.hops) {
      const happened = problem.visits.flatMap((v, i) => (v.hop === h.hop ? [ends[i]] : []));
      const last = happened.includes(undefined) ? undefined : Math.max(...happened.map((e) => e!));
      // Rounding to whole minutes once an hour in one, every minute in the other.
      if (last === undefined) expect(h.finish.p50Min, `case ${k}`).toBeUndefined();
      else
        expect(
          Math.abs(h.finish.p50Min! - last),
          `case ${k}, hop ${h.hop}: ${h.finish.p50Min} ${last}`,
        ).toBeLessThanOrEqual(3);
    }
  }
});
