/** Programmes made from their best plan: the judge passes it, no bound goes over it, and the search comes close. */
import { describe, expect, it } from "vitest";
import { evaluate, judge, type Plan, type PlanCost } from "@/lib/schedule";
import { plantedProgramme } from "@/seed/plantedProgramme";
import { solved } from "./plans";

const SIZE = { seed: "test", pairs: 2, days: 3, hopsADay: 3 };
const { problem, planted } = plantedProgramme(SIZE);

function costOf(placed: Plan["placed"]): PlanCost {
  const cost = evaluate(problem, { placed });
  if (!cost.ok) throw new Error(JSON.stringify(cost.problems));
  return cost.value;
}

describe("a planted plan", () => {
  it("breaks no rule and costs what its construction says, term by term", () => {
    expect(judge(problem, { placed: planted, unplaced: [] })).toEqual([]);
    const cost = costOf(planted);
    const crewDays = 2 * SIZE.pairs * SIZE.days;
    const hops = SIZE.pairs * SIZE.hopsADay;
    expect(cost).toMatchObject({
      unplacedVisits: 0,
      unfinishedHops: 0,
      lateHopDays: 0,
      crewDays,
      travelKm: 120 * crewDays,
      travelMin: 120 * crewDays,
      overtimeMin: 0,
      openEndDays: 0,
      imbalanceMin: 0,
      // Days 0, 1 and 2, as many hops on each.
      finishDays: hops * (0 + 1 + 2),
    });
  });

  it("is not undercut by the bound, nor by the search, which comes within three per cent", () => {
    const best = costOf(planted).total;
    const plan = solved(problem, 8000);
    expect(judge(problem, plan)).toEqual([]);
    expect(plan.lowerBound).toBeLessThanOrEqual(best);
    expect(plan.cost.total).toBeGreaterThanOrEqual(best - 1e-6);
    expect(plan.cost.total).toBeLessThanOrEqual(1.03 * best);
  });
});
