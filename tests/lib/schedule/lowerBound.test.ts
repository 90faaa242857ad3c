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

  describe("hops that share a crew", () => {
    // Each takes the whole of a day: way 120, set-up 30, work 450.
    const fullDays = (promiseDay?: number) =>
      tiny({
        road: [0, 60, 60, 60],
        crews: [crew({ overtimeMaxMin: 0 })],
        hops: [0, 1, 2].map((h) => ({ id: `h${h}`, code: `H${h}`, weight: 1, promiseDay })),
        visits: [1, 2, 3].map((place) => visit({ place, hop: place - 1, segments: [step(450)] })),
      });

    test("finish one after the other: 3 x 696 and 60 x (0 + 1 + 2)", () => {
      const { cost, bound } = gap(fullDays());
      expect(cost).toBeCloseTo(3 * 696 + 60 * 3, 9);
      expect(bound).toBeCloseTo(cost, 9);
    });

    test("are late one after the other", () => {
      const { cost, bound } = gap(fullDays(0));
      expect(cost).toBeCloseTo(3 * 696 + (60 + 5000) * 3, 9);
      expect(bound).toBeCloseTo(cost, 9);
    });

    test("cannot use days before their work could begin", () => {
      const problem = fullDays();
      const visits = problem.visits.map((v) => ({ ...v, releaseDay: 2 }));
      const { bound } = gap({ ...problem, visits });
      expect(bound).toBeCloseTo(3 * 696 + 60 * (2 + 3 + 4), 9);
    });
  });

  test("a crew that may sleep out shares the way among the days of a trip", () => {
    // Way 240 min, 192 in cost, two nights of 90: three days hold 3 x 520 min for 3 x 724.
    const crews = [crew({ overtimeMaxMin: 0, nightsAwayMax: 2 })];
    const { cost, bound } = gap(tiny({ road: [0, 120], crews, visits: [visit({ segments: [step(490)] })] }));
    expect(bound).toBeCloseTo(724, 9);
    expect(cost).toBeGreaterThan(bound);
  });

  test("the longest set-up of a site is in it, for several hops as well", () => {
    const crews = [crew({ overtimeMaxMin: 0 })];
    const visits = [
      visit({ segments: [step(100)], setupMin: 10 }),
      visit({ segments: [step(320)], setupMin: 60 }),
    ];
    expect(gap(tiny({ crews, visits })).bound).toBeCloseTo(696, 9);
  });

  test("stays under the cost where one end of joint work is pinned", () => {
    const crews = [crew({ code: "C1" }), crew({ code: "C2" })];
    const visits = alignment(0, 1, 2);
    const pinned = [{ visit: 0, crew: 0, startDay: 2, startMin: 600, endDay: 2, endMin: 660 }];
    const { cost, bound } = gap(tiny({ road: [0, 30, 90], crews, visits, pinned }));
    expect(cost).toBeLessThan(200_000);
    expect(bound).toBeLessThanOrEqual(cost);
    expect(bound).toBeGreaterThanOrEqual(2 * 60);
  });

  test("is part of every plan", () => {
    const result = schedule(tiny({ visits: [visit()] }), { seed: "x", maxIterations: 0 });
    expect(result.ok && result.value.lowerBound).toBeGreaterThan(0);
  });
});
