/** What must hold for any problem: drawn programmes, some with pins and a plan in force. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { evaluate, judge, type Plan, type ScheduleProblem } from "@/lib/schedule";
import { PlanEdit } from "@/lib/schedule/edit";
import { buildModel } from "@/lib/schedule/model";
import { PlanState } from "@/lib/schedule/plan";
import { warmStart } from "@/lib/schedule/replan";
import { syntheticProgramme } from "@/seed/syntheticProgramme";
import { solved } from "./plans";
import { withScarceItems } from "./scarce";

const programme = fc
  .record({
    seed: fc.string({ minLength: 1, maxLength: 6 }),
    sites: fc.integer({ min: 4, max: 18 }),
    hops: fc.integer({ min: 3, max: 14 }),
    crews: fc.integer({ min: 1, max: 5 }),
    weeks: fc.integer({ min: 1, max: 5 }),
    nightsAwayMax: fc.integer({ min: 0, max: 3 }),
    blockedShare: fc.constantFrom(0, 0.1),
    workShare: fc.constantFrom(1, 0.3),
  })
  .map((size) => withScarceItems(syntheticProgramme(size), size.seed));

const runs = { numRuns: 15, seed: 20260302 };

/** Later changes of a problem: weather worsens, a kit slips, a person leaves. */
function disturbed(problem: ScheduleProblem, plan: Plan, strength: number): ScheduleProblem {
  const frozenUntilDay = strength % 3;
  return {
    ...problem,
    inForce: plan.placed,
    frozenUntilDay,
    pinned: plan.placed.filter(
      (x) => x.visit % 11 === strength % 11 && problem.visits[x.visit]!.togetherWith === undefined,
    ),
    visits: problem.visits.map((v, i) =>
      i % 7 === strength % 7 ? { ...v, kitReadyDay: v.kitReadyDay + strength } : v,
    ),
    crews: problem.crews.map((c, i) =>
      i === strength % problem.crews.length
        ? {
            ...c,
            days: c.days.map((d, j) =>
              d && j % 5 === strength % 5 && j >= frozenUntilDay ? { ...d, technicians: 0 } : d,
            ),
          }
        : c,
    ),
  };
}

describe("any programme", () => {
  test("the plan passes the judge, and its cost is what its dates say", () => {
    fc.assert(
      fc.property(programme, fc.integer({ min: 0, max: 120 }), (problem, iterations) => {
        const plan = solved(problem, iterations);
        expect(judge(problem, plan)).toEqual([]);
        const full = evaluate(problem, plan);
        if (!full.ok) throw new Error("refused");
        for (const [term, value] of Object.entries(full.value))
          expect(plan.cost, term).toHaveProperty(term, expect.closeTo(value, 4));
        expect(plan.cost.total).toBeGreaterThanOrEqual(plan.lowerBound - 1e-6);
      }),
      runs,
    );
  });

  test("a plan read in again stands as it was, at the same cost", () => {
    fc.assert(
      fc.property(programme, (problem) => {
        const plan = solved(problem, 60);
        const built = buildModel(problem);
        if (!built.ok) throw new Error("refused");
        const edit = new PlanEdit(built.value, new PlanState(built.value));
        edit.start();
        expect(warmStart(edit, plan.placed)).toBe(plan.placed.length);
        expect(edit.total()).toBeCloseTo(plan.cost.total, 4);
      }),
      runs,
    );
  });

  test("a plan made anew after a disturbance is legal but for what was kept, and costs what it says", () => {
    fc.assert(
      fc.property(programme, fc.integer({ min: 0, max: 12 }), (problem, strength) => {
        const changed = disturbed(problem, solved(problem, 40), strength);
        const plan = solved(changed, 60);
        const kept = new Set(
          [...changed.pinned, ...changed.inForce!.filter((x) => x.startDay < changed.frozenUntilDay)].map(
            (x) => x.visit,
          ),
        );
        // A kept visit may break rules by itself or stand in the way of what it is tied to.
        const broken = judge(changed, plan).filter((x) => {
          const v = x.visit === undefined ? undefined : changed.visits[x.visit]!;
          const tied = v ? [x.visit!, ...v.after, v.togetherWith ?? -1] : [];
          return kept.size === 0 || (v !== undefined && !tied.some((u) => kept.has(u)));
        });
        expect(broken).toEqual([]);
        const full = evaluate(changed, plan);
        if (!full.ok) throw new Error("refused");
        if (kept.size === 0) expect(plan.cost.total).toBeCloseTo(full.value.total, 4);
        expect(plan.cost.riskMin).toBeCloseTo(full.value.riskMin, 4);
      }),
      runs,
    );
  });

  test("undoing returns to the very same state", () => {
    fc.assert(
      fc.property(programme, fc.nat(), (problem, draw) => {
        const built = buildModel(problem);
        if (!built.ok) throw new Error("refused");
        const edit = new PlanEdit(built.value, new PlanState(built.value));
        edit.start();
        warmStart(edit, solved(problem, 20).placed);
        const { state } = edit;
        const [ints, reals] = [state.ints.slice(), state.reals.slice()];
        const placed = [...state.crewOf].flatMap((c, v) => (c >= 0 ? [v] : []));
        for (let i = 0; i < 6 && placed.length > 0; i++) {
          const v = placed[(draw + 7 * i) % placed.length]!;
          if (state.crewOf[v]! >= 0) edit.remove(v);
        }
        state.undoAll();
        expect(state.ints).toEqual(ints);
        expect(state.reals).toEqual(reals);
      }),
      runs,
    );
  });
});
