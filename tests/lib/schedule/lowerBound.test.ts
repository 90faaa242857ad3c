import { describe, expect, test } from "vitest";
import { type ScheduleProblem, schedule } from "@/lib/schedule";
import { solved } from "./plans";
import { alignment, crew, step, tiny, visit, window } from "./tiny";

const gap = (problem: ScheduleProblem) => {
  const plan = solved(problem, 100);
  return { cost: plan.cost.total, bound: plan.lowerBound };
};

describe("lowerBound", () => {
  test("a day that the work fills: the bound meets the cost but for rounding of the day", () => {
    // Way 120, set-up 30, work 450: exactly the ten hours of the shift. 600 + 0.5 x 120 + 0.3 x 120 = 696.
    const { cost, bound } = gap(
      tiny({ crews: [crew({ overtimeMaxMin: 0 })], visits: [visit({ segments: [step(450)] })] }),
    );
    expect(cost).toBeCloseTo(696, 9);
    expect(bound).toBeCloseTo(696, 9);
  });

  test("half a day costs at least half of what a full one does", () => {
    const { bound } = gap(
      tiny({ crews: [crew({ overtimeMaxMin: 0 })], visits: [visit({ segments: [step(210)] })] }),
    );
    expect(bound).toBeCloseTo(348, 9);
  });

  test("lateness that nothing can avoid is in the bound", () => {
    const hops = [{ id: "h", code: "H1", weight: 2, promiseDay: 1 }];
    const { bound, cost } = gap(tiny({ hops, visits: [visit({ kitReadyDay: 3 })] }));
    expect(bound).toBeGreaterThan(2 * 2 * 5000);
    expect(cost - bound).toBeLessThan(700);
  });

  test("blocked visits and those that no crew can do count in full", () => {
    const { bound, cost } = gap(tiny({ visits: [visit({ blockedBy: "approval" })] }));
    expect(bound).toBe(cost);
    const impossible = gap(tiny({ windows: [window(5, { open: () => 0 })], visits: [visit()] }));
    expect(impossible.bound).toBe(impossible.cost);
  });

  test("joint work waits for both installs", () => {
    const hops = [{ id: "h", code: "H1", weight: 1, promiseDay: 0 }];
    const crews = [crew({ code: "C1" }), crew({ code: "C2" })];
    const visits = [visit(), visit({ place: 2, kitReadyDay: 3 }), ...alignment(2, 1, 2, [0, 1])];
    const { bound } = gap(tiny({ road: [0, 30, 90], hops, crews, visits }));
    expect(bound).toBeGreaterThan(3 * 5000);
  });

  test("is part of every plan", () => {
    const result = schedule(tiny({ visits: [visit()] }), { seed: "x", maxIterations: 0 });
    expect(result.ok && result.value.lowerBound).toBeGreaterThan(0);
  });
});
