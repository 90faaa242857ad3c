/** Programmes made from their best plan: the judge passes it, no bound goes over it, and the search comes close. */
import { describe, expect, it } from "vitest";
import { evaluate, judge, type Plan, type PlanCost } from "@/lib/schedule";
import { PLANTED_SIZES, plantedProgramme } from "@/seed/plantedProgramme";
import { solved } from "./plans";

const SIZE = { seed: "test", pairs: 2, days: 3, hopsADay: 3, spareDays: 10 };
const { problem, planted } = plantedProgramme(SIZE);

function costOf(placed: Plan["placed"], of = problem): PlanCost {
  const cost = evaluate(of, { placed });
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
    // Its days are full and its crews are all there are: nothing of the bound is loose.
    expect(plan.lowerBound).toBeCloseTo(best, 3);
    expect(plan.cost.total).toBeGreaterThanOrEqual(best - 1e-6);
    expect(plan.cost.total).toBeLessThanOrEqual(1.03 * best);
  });

  it("of unlike hops, several pair-days to a hill, is legal and not undercut either", () => {
    const uneven = plantedProgramme({ ...SIZE, days: 4, uneven: { pairDaysAHill: 2 } });
    expect(judge(uneven.problem, { placed: uneven.planted, unplaced: [] })).toEqual([]);
    const best = costOf(uneven.planted, uneven.problem);
    expect(best).toMatchObject({ crewDays: 16, travelMin: 120 * 16, imbalanceMin: 0 });
    const minutes = new Set(uneven.problem.visits.map((v) => v.segments[0]!.durationMin));
    expect(minutes.size).toBeGreaterThan(10);
    const plan = solved(uneven.problem, 4000);
    expect(judge(uneven.problem, plan)).toEqual([]);
    expect(plan.lowerBound).toBeCloseTo(best.total, 3);
    expect(plan.cost.total).toBeGreaterThanOrEqual(best.total - 1e-6);
    expect(plan.cost.total).toBeLessThanOrEqual(1.1 * best.total);
  });

  it("of 600 visits is found within three per cent by the first plan and few steps", () => {
    const middle = plantedProgramme(PLANTED_SIZES.middle);
    const plan = solved(middle.problem, 3000);
    expect(plan.cost.total).toBeLessThanOrEqual(1.03 * costOf(middle.planted, middle.problem).total);
  });
});
