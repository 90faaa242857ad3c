import { describe, expect, test } from "vitest";
import { DEFAULT_WEIGHTS, evaluate, type ScheduleProblem, weightedTotal } from "@/lib/schedule";
import { solved } from "./plans";
import { alignment, crew, step, tiny, visit, window } from "./tiny";

function costOf(problem: ScheduleProblem) {
  const plan = solved(problem);
  const full = evaluate(problem, plan);
  if (!full.ok) throw new Error("refused");
  // The engine's running sums and the reckoning from dates are two ways to one figure.
  for (const [term, value] of Object.entries(full.value))
    expect(plan.cost).toHaveProperty(term, expect.closeTo(value, 6));
  return full.value;
}

describe("evaluate", () => {
  test("one visit of two hours, an hour away: every term by hand", () => {
    const cost = costOf(tiny({ visits: [visit()] }));
    expect(cost).toEqual({
      total: 600 + 0.5 * 120 + 0.3 * 120,
      unplacedVisits: 0,
      lateHopDays: 0,
      unfinishedHops: 0,
      crewDays: 1,
      overtimeMin: 0,
      nightsAway: 0,
      travelKm: 120,
      travelMin: 120,
      movedVisits: 0,
      movedDays: 0,
      riskMin: 0,
      openEndDays: 0,
      finishDays: 0,
      imbalanceMin: 0,
    });
  });

  test("a hop that ends after its promise is late by days times its weight", () => {
    const hops = [{ id: "h", code: "H1", weight: 3, promiseDay: 1 }];
    expect(costOf(tiny({ hops, visits: [visit({ releaseDay: 4 })] }))).toMatchObject({
      lateHopDays: 9,
      finishDays: 4,
    });
  });

  test("an unfinished hop is late until the horizon", () => {
    const hops = [{ id: "h", code: "H1", weight: 2, promiseDay: 1 }];
    const cost = costOf(tiny({ hops, visits: [visit(), visit({ releaseDay: 9 })] }));
    expect(cost).toMatchObject({ unplacedVisits: 1, unfinishedHops: 1, lateHopDays: 8, finishDays: 5 });
  });

  test("counts the risk of work beyond the forecast by the hour", () => {
    const windows = [window(5, { riskMinPerH: (d) => (d >= 2 ? 10 : 0) })];
    expect(costOf(tiny({ windows, visits: [visit({ releaseDay: 2 })] })).riskMin).toBe(20);
  });

  test("counts the same risk of a visit that is pinned, over several days and beside others, joint work too", () => {
    const windows = [window(5, { riskMinPerH: (d) => 10 + d })];
    const crews = [crew({ code: "C1" }), crew({ code: "C2" })];
    const long = visit({ place: 1, segments: [step(780)] });
    const visits = [long, visit({ place: 2 }), ...alignment(2, 1, 2, [0, 1])];
    const problem = tiny({ windows, crews, visits, road: [0, 60, 90] });
    const free = costOf(problem);
    expect(free.riskMin).toBeGreaterThan(100);
    const { placed } = solved(problem);
    expect(placed.some((x) => x.endDay > x.startDay)).toBe(true);
    for (const pinned of [placed, ...placed.map((x) => [x])]) {
      const held = evaluate({ ...problem, pinned }, solved(problem));
      expect(held.ok && held.value.riskMin).toBeCloseTo(free.riskMin, 6);
      // What the search says of a plan with pins is what the plan's dates say.
      const again = costOf({ ...problem, pinned });
      expect(again.riskMin).toBeGreaterThan(0);
    }
    expect(costOf({ ...problem, pinned: placed }).riskMin).toBeCloseTo(free.riskMin, 6);
  });

  test("work on a day off is overtime from setting out to coming home, not from midnight", () => {
    // Leave that came after the plan: out at 08:30, an hour's way, set up by 10:00, work to 12:00, home at 13:00.
    const days = crew().days.map((day, d) => (d === 1 ? null : day));
    const held = { visit: 0, crew: 0, startDay: 1, startMin: 600, endDay: 1, endMin: 720 };
    const crews = [crew({ days }), crew({ code: "C2" })];
    const problem = tiny({ crews, visits: [visit()] });
    const plan = { placed: [held], nights: [] };
    const judged = evaluate(problem, plan);
    // Shifts of C1 and C2 are as 4 to 5: of 4.5 hours worked C1 owes 2 and C2 2.5.
    expect(judged.ok && judged.value).toMatchObject({
      crewDays: 1,
      overtimeMin: 270,
      imbalanceMin: expect.closeTo(150, 6),
    });
    // Held there, the running sums of the search say the same.
    expect(costOf({ ...problem, pinned: [held] })).toMatchObject({ overtimeMin: 270 });
  });

  test("counts open ends from each install to the alignment", () => {
    const crews = [crew({ code: "C1" }), crew({ code: "C2" })];
    const visits = [visit({ place: 1 }), visit({ place: 2 }), ...alignment(2, 1, 2, [0, 1])];
    const at = (v: number, day: number) => ({
      visit: v,
      crew: v % 2,
      startDay: day,
      startMin: 600,
      endDay: day,
      endMin: 720,
    });
    const placed = [at(0, 0), at(1, 2), at(2, 3), at(3, 3)];
    const problem = tiny({ road: [0, 30, 90], crews, visits });
    // Three days from the first install to the alignment, one from the second.
    const aligned = evaluate(problem, { placed });
    expect(aligned.ok && aligned.value.openEndDays).toBe(4);
    // Without the alignment: two days from the first install to the last.
    const open = evaluate(problem, { placed: placed.slice(0, 2) });
    expect(open.ok && open.value.openEndDays).toBe(2);
  });

  test("counts what moved against the plan in force, and by how many days", () => {
    const inForce = [{ visit: 0, crew: 0, startDay: 1, startMin: 510, endDay: 1, endMin: 630 }];
    const cost = costOf(tiny({ visits: [visit({ kitReadyDay: 4 })], inForce }));
    expect(cost).toMatchObject({ movedVisits: 1, movedDays: 3 });
  });

  test("shares the shifts: half of what the busier crew has too much", () => {
    const crews = [crew({ code: "C1" }), crew({ code: "C2" })];
    // Way 120, set-up 30, work 120: 270 min on one crew, nothing on the other; 135 each would be fair.
    expect(costOf(tiny({ crews, visits: [visit()] })).imbalanceMin).toBe(135);
  });

  test("the total is the published weighted sum of the terms", () => {
    const crews = [crew({ code: "C1", nightsAwayMax: 1 }), crew({ code: "C2" })];
    const problem = tiny({
      road: [0, 30, 170],
      crews,
      visits: [visit({ place: 2, segments: [step(700)] }), visit()],
    });
    const cost = costOf(problem);
    expect(cost.total).toBeCloseTo(weightedTotal(cost, DEFAULT_WEIGHTS), 9);
  });
});

describe("DEFAULT_WEIGHTS", () => {
  test("follow the order of the objective: one of an earlier term outweighs a usual amount of the next", () => {
    const w = DEFAULT_WEIGHTS;
    expect(w.unplacedVisit).toBeGreaterThan(w.lateHopDay * 20);
    expect(w.lateHopDay).toBeGreaterThan(w.unfinishedHop);
    expect(w.unfinishedHop).toBeGreaterThan(w.crewDay);
    expect(w.crewDay).toBeGreaterThan(w.overtimeMin * 240);
    expect(w.crewDay).toBeGreaterThan(w.nightAway * 2);
    expect(w.overtimeMin * 60).toBeGreaterThan(w.travelMin * 60);
    expect(w.travelMin * 60).toBeGreaterThan(w.imbalanceMin * 60);
  });
});
