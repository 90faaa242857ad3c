/** A legal plan is spoiled in one way at a time: the judge must name the rule, whatever the engine thinks. */
import { describe, expect, test } from "vitest";
import { judge, type PlacedVisit, type Plan, type ScheduleProblem } from "@/lib/schedule";
import { solved } from "./plans";
import { alignment, crew, FULL_DAY, hours, step, tiny, visit, window } from "./tiny";

const twoCrews = [crew({ code: "C1" }), crew({ code: "C2" })];

/** Two installs, their alignment and an acceptance, two crews. */
const hop = (over: Parameters<typeof tiny>[0] = {}): ScheduleProblem =>
  tiny({
    road: [0, 30, 90],
    crews: twoCrews,
    visits: [
      visit({ label: "near", place: 1 }),
      visit({ label: "far", place: 2 }),
      ...alignment(2, 1, 2, [0, 1]),
      visit({ label: "acceptance", kind: "acceptance", after: [2, 3], segments: [step(30)] }),
    ],
    ...over,
  });

/** One visit of one crew, placed on day 0 from 08:30 to 10:30. */
const single = (over: Parameters<typeof tiny>[0] = {}) => tiny({ visits: [visit()], ...over });

const rulesBroken = (problem: ScheduleProblem, plan: Pick<Plan, "placed" | "unplaced" | "nights">) => [
  ...new Set(judge(problem, plan).map((x) => x.rule)),
];

/** The engine's plan with some visits changed. */
function spoiled(problem: ScheduleProblem, change: (x: PlacedVisit) => Partial<PlacedVisit>): string[] {
  const plan = solved(problem);
  expect(judge(problem, plan)).toEqual([]);
  return rulesBroken(problem, { ...plan, placed: plan.placed.map((x) => ({ ...x, ...change(x) })) });
}

/** A legal plan judged by a problem that has become stricter. */
function stricter(problem: ScheduleProblem, change: Partial<ScheduleProblem>): string[] {
  const plan = solved(problem);
  expect(judge(problem, plan)).toEqual([]);
  return rulesBroken({ ...problem, ...change }, plan);
}

const only = (v: number, change: Partial<PlacedVisit>) => (x: PlacedVisit) => (x.visit === v ? change : {});

describe("judge", () => {
  test("finds nothing wrong with a legal plan", () => {
    const problem = hop();
    expect(judge(problem, solved(problem))).toEqual([]);
  });

  test("names a visit that is missing or listed twice", () => {
    const problem = single();
    const plan = solved(problem);
    expect(rulesBroken(problem, { placed: [], unplaced: [], nights: [] })).toEqual(["whole plan"]);
    expect(rulesBroken(problem, { ...plan, placed: [...plan.placed, ...plan.placed] })).toEqual([
      "whole plan",
    ]);
  });

  test("names crews and days that do not exist", () => {
    expect(spoiled(single(), () => ({ crew: 7 }))).toEqual(["whole plan"]);
    expect(spoiled(single(), () => ({ endDay: 9 }))).toEqual(["whole plan"]);
  });

  test("wants enough time for the way and the set-up", () => {
    expect(spoiled(single(), () => ({ startMin: 500, endMin: 620 }))).toEqual(["shift"]);
  });

  test("wants enough time for the work", () => {
    expect(spoiled(single(), () => ({ endMin: 600 }))).toEqual(["work"]);
  });

  test("does not accept an end later than the work", () => {
    expect(spoiled(single(), () => ({ endMin: 700 }))).toEqual(["work"]);
  });

  test("accepts a later start, nobody has to be early", () => {
    expect(spoiled(single(), () => ({ startMin: 540, endMin: 660 }))).toEqual([]);
  });

  test("wants open hours at the start and all through work that may not pause", () => {
    const closed = { windows: [window(5, { open: () => hours(9, 24) })] };
    expect(stricter(single(), closed)).toEqual(["weather", "work"]);
    const unbroken = single({ visits: [visit({ segments: [step(120, { splittable: false })] })] });
    expect(
      stricter(unbroken, { windows: [window(5, { open: () => hours(7, 10) | hours(11, 24) })] }),
    ).toContain("work");
  });

  test("holds the crew to shift and overtime", () => {
    expect(spoiled(single(), () => ({ startMin: 960, endMin: 1080 }))).toEqual(["shift"]);
  });

  test("holds the crew to its calendar", () => {
    const days = [null, FULL_DAY, FULL_DAY, FULL_DAY, FULL_DAY];
    expect(stricter(single(), { crews: [crew({ days })] })).toEqual(["calendar"]);
  });

  test("wants the people a visit needs on each of its days", () => {
    const short = { ...FULL_DAY, technicians: 0 };
    const problem = single({
      visits: [
        visit({
          segments: [step(600)],
          needs: { climbers: 2, rescuers: 1, riggers: 0, technicians: 1, people: 3 },
        }),
      ],
    });
    expect(stricter(problem, { crews: [crew({ days: [FULL_DAY, short, short, short, short] })] })).toEqual([
      "people",
    ]);
  });

  test("holds visits to access hours and days", () => {
    const late = Array.from({ length: 7 }, () => ({ fromMin: 540, toMin: 1000 }));
    expect(stricter(single(), { visits: [visit({ access: late })] })).toEqual(["access"]);
    const early = Array.from({ length: 7 }, () => ({ fromMin: 0, toMin: 600 }));
    expect(stricter(single(), { visits: [visit({ access: early })] })).toEqual(["access"]);
    const notOnMonday = [null, ...late.slice(1)];
    expect(stricter(single(), { visits: [visit({ access: notOnMonday })] })).toContain("access");
  });

  test("says one day and one technician as one, more as more", () => {
    const said = (change: object) => {
      const problem = { ...single(), visits: [visit(change)] };
      return judge(problem, solved(single())).map((b) => b.message);
    };
    expect(said({ releaseDay: 1 })[0]).toMatch(/: starts 1 day before its gates are open$/);
    expect(said({ releaseDay: 3 })[0]).toMatch(/: starts 3 days before its gates are open$/);
    expect(said({ kitReadyDay: 0.5 })[0]).toMatch(/: starts 1 day before its kit can be whole$/);
    expect(said({ noticeDays: 1 })[0]).toMatch(/: the site wants 1 day's notice$/);
    const needs = { climbers: 9, rescuers: 0, riggers: 0, technicians: 1, people: 1 };
    const crews = [crew({ days: Array(5).fill({ ...FULL_DAY, technicians: 0 }) })];
    const messages = judge({ ...single(), crews, visits: [visit({ needs })] }, solved(single())).map(
      (b) => b.message,
    );
    expect(messages).toContainEqual(expect.stringMatching(/ needs 1 technician, the crew has 0$/));
    expect(messages).toContainEqual(expect.stringMatching(/ needs 9 climbers, the crew has 3$/));
  });

  test("holds visits to gates, kit and notice", () => {
    expect(stricter(single(), { visits: [visit({ releaseDay: 1 })] })).toEqual(["gate"]);
    expect(stricter(single(), { visits: [visit({ kitReadyDay: 2 })] })).toEqual(["kit"]);
    expect(stricter(single(), { visits: [visit({ noticeDays: 1 })] })).toEqual(["notice"]);
    expect(stricter(single(), { visits: [visit({ blockedBy: "licence is open" })] })).toEqual(["gate"]);
  });

  test("needs no new notice for a date that was already told", () => {
    const problem = single();
    const inForce = solved(problem).placed;
    expect(stricter(problem, { visits: [visit({ noticeDays: 3 })], inForce })).toEqual([]);
  });

  test("wants order and the awaited visit in the plan", () => {
    const inOrder = single({ visits: [visit({ label: "a" }), visit({ label: "b", after: [0] })] });
    expect(stricter(inOrder, { visits: [visit({ label: "a", after: [1] }), visit({ label: "b" })] })).toEqual(
      ["order"],
    );
    const plan = solved(inOrder);
    const without = {
      ...plan,
      placed: plan.placed.filter((x) => x.visit === 1),
      unplaced: [{ visit: 0, rule: "", detail: "" }],
    };
    expect(rulesBroken(inOrder, without)).toContain("order");
  });

  test("wants both ends of joint work in the same minute, with two crews", () => {
    expect(spoiled(hop(), only(2, { startMin: 900, endMin: 960 }))).toContain("together");
    expect(spoiled(hop(), only(2, { startDay: 2, endDay: 2 }))).toContain("together");
    const problem = hop();
    const crewOf3 = solved(problem).placed.find((x) => x.visit === 3)!.crew;
    expect(spoiled(problem, only(2, { crew: crewOf3 }))).toContain("together");
  });

  test("lets one crew at a time on a site, set-up included", () => {
    const problem = tiny({ crews: twoCrews, visits: [visit({ label: "a" }), visit({ label: "b" })] });
    const plan = solved(problem);
    const both = plan.placed.map((x) => ({
      ...x,
      startDay: 0,
      endDay: 0,
      crew: x.visit,
      startMin: 510,
      endMin: 630,
    }));
    expect(rulesBroken(problem, { ...plan, placed: both })).toEqual(["site lock"]);
    const oneAfter = both.map((x) => (x.visit === 0 ? x : { ...x, startMin: 660, endMin: 780 }));
    expect(rulesBroken(problem, { ...plan, placed: oneAfter })).toEqual([]);
    const inSetup = both.map((x) => (x.visit === 0 ? x : { ...x, startMin: 659, endMin: 779 }));
    expect(rulesBroken(problem, { ...plan, placed: inSetup })).toEqual(["site lock"]);
    const free = problem.visits.map((x) => ({ ...x, siteLock: false }));
    expect(rulesBroken({ ...problem, visits: free }, { ...plan, placed: both })).toEqual([]);
  });

  test("counts the way between two visits", () => {
    const problem = tiny({
      road: [0, 30, 90],
      visits: [visit({ label: "a" }), visit({ label: "b", place: 2 })],
    });
    const second = [...solved(problem).placed].sort((a, b) => a.startMin - b.startMin)[1]!;
    expect(
      spoiled(problem, only(second.visit, { startMin: second.startMin - 1, endMin: second.endMin - 1 })),
    ).toContain("shift");
  });

  test("holds the week to its hours", () => {
    const work = { segments: [step(400)] };
    const problem = tiny({ visits: [visit(work), visit(work), visit(work)] });
    expect(stricter(problem, { crews: [crew({ weeklyMaxMin: 1500 })] })).toEqual(["weekly hours"]);
  });

  test("wants rest between shifts", () => {
    const problem = single({ visits: [visit({ segments: [step(600)] })] });
    expect(stricter(problem, { crews: [crew({ restMin: 900 })] })).toEqual(["rest"]);
  });

  test("holds the load to the vehicle", () => {
    const problem = tiny({ visits: [visit({ segments: [step(60)] }), visit({ segments: [step(60)] })] });
    expect(stricter(problem, { crews: [crew({ payloadKg: 99 })] })).toEqual(["payload"]);
  });

  test("allows nights away only as many, before a working day, and where the work ended", () => {
    const problem = tiny({
      road: [0, 180, 200],
      crews: [crew({ nightsAwayMax: 2 })],
      visits: [visit({ segments: [step(600)] })],
    });
    const plan = solved(problem);
    expect(plan.nights).toHaveLength(1);
    expect(stricter(problem, { crews: [crew({ nightsAwayMax: 0 })] })).toContain("nights away");
    const elsewhere = plan.nights!.map((x) => ({ ...x, place: 2 }));
    expect(rulesBroken(problem, { ...plan, nights: elsewhere })).toContain("nights away");
    expect(rulesBroken(problem, { ...plan, nights: [] }).length).toBeGreaterThan(0);
    expect(
      rulesBroken(problem, { ...plan, nights: [...plan.nights!, { crew: 0, day: 3, place: 1 }] }),
    ).toContain("nights away");
  });

  test("wants a visit to be the day's last when it goes on the next day", () => {
    const problem = tiny({
      visits: [visit({ segments: [step(600)] }), visit({ label: "b", segments: [step(60)] })],
    });
    const plan = solved(problem);
    const long = plan.placed.find((x) => x.visit === 0)!;
    expect(
      spoiled(
        problem,
        only(1, { startDay: long.startDay, endDay: long.startDay, startMin: 900, endMin: 960 }),
      ),
    ).toContain("shift");
  });

  test("keeps what is pinned and what is frozen", () => {
    const problem = single();
    const plan = solved(problem);
    const elsewhere = plan.placed.map((x) => ({ ...x, startDay: 2, endDay: 2 }));
    expect(rulesBroken({ ...problem, pinned: elsewhere }, plan)).toEqual(["kept"]);
    expect(rulesBroken({ ...problem, pinned: plan.placed }, plan)).toEqual([]);
    expect(rulesBroken({ ...problem, inForce: plan.placed, frozenUntilDay: 1 }, plan)).toEqual([]);
    expect(rulesBroken({ ...problem, inForce: elsewhere, frozenUntilDay: 3 }, plan)).toEqual(["kept"]);
    expect(rulesBroken({ ...problem, frozenUntilDay: 1 }, plan)).toEqual(["kept"]);
  });
});
