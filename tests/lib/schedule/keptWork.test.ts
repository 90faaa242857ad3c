import { describe, expect, test } from "vitest";
import { type Begun, goOn, judge, type PlacedVisit } from "@/lib/schedule";
import { placeOf, solved, when } from "./plans";
import { alignment, crew, FULL_DAY, hours, step, tiny, visit, window } from "./tiny";

const frozen = (x: Partial<PlacedVisit>) => ({
  inForce: [{ visit: 0, crew: 0, startDay: 0, startMin: 510, endDay: 0, endMin: 750, ...x }],
  frozenUntilDay: 1,
});

describe("a kept visit ends with its work", () => {
  test("one of which less is left than it was given hours for", () => {
    const problem = tiny({ visits: [visit()], ...frozen({}) });
    const plan = solved(problem);
    expect(when(placeOf(plan, 0))).toBe("0 08:30 - 0 10:30");
    expect(judge(problem, plan)).toEqual([]);
  });

  test("over two days: 450 min on the first, 50 on the second", () => {
    const problem = tiny({
      visits: [visit({ segments: [step(500)] })],
      ...frozen({ endDay: 1, endMin: 660 }),
    });
    const plan = solved(problem);
    expect(when(placeOf(plan, 0))).toBe("0 08:30 - 1 09:20");
    expect(judge(problem, plan)).toEqual([]);
  });

  test("what is left at its end is named, it is not drawn out over other work", () => {
    const problem = tiny({ visits: [visit()], ...frozen({ endMin: 570 }) });
    const plan = solved(problem);
    expect(when(placeOf(plan, 0))).toBe("0 08:30 - 0 09:30");
    expect(judge(problem, plan).map((b) => [b.rule, b.message])).toEqual([
      ["work", expect.stringContaining("with 1 h of work left")],
    ]);
  });

  test("joint work keeps the minutes that both ends were told", () => {
    const visits = alignment(0, 1, 2, []);
    const at = { startDay: 0, startMin: 600, endDay: 0, endMin: 900 };
    const problem = tiny({
      road: [0, 40, 50],
      crews: [crew(), crew({ id: "d", code: "C2" })],
      visits,
      inForce: [0, 1].map((v) => ({ visit: v, crew: v, ...at })),
      frozenUntilDay: 1,
    });
    expect([0, 1].map((v) => when(placeOf(solved(problem), v)))).toEqual([
      "0 10:00 - 0 15:00",
      "0 10:00 - 0 15:00",
    ]);
  });
});

describe("work under way goes on", () => {
  const long = visit({ segments: [step(600)] });
  const begun = (b: Partial<Begun> = {}): Begun => ({
    visit: 0,
    crew: 0,
    endDay: 0,
    endMin: 660,
    sleptThere: false,
    isRest: false,
    ...b,
  });
  const went = (problem: ReturnType<typeof tiny>, b: Partial<Begun> = {}) => {
    const [x] = goOn(problem, [begun(b)]);
    return x && [when(x.placed), x.segments.reduce((sum, s) => sum + s.durationMin, 0)];
  };

  // Planned alone, 600 min take 08:30 to 16:00 of the day before and 08:30 to 11:00 of this one: 150 min.
  test("until the end that it was planned to have", () => {
    expect(when(placeOf(solved(tiny({ visits: [long] })), 0))).toBe("0 08:30 - 1 11:00");
    expect(went(tiny({ visits: [long] }))).toEqual(["0 08:30 - 0 11:00", 150]);
    expect(went(tiny({ visits: [long], crews: [crew({ pace: 1.5 })] }))).toEqual(["0 08:30 - 0 11:00", 100]);
    expect(went(tiny({ visits: [long] }), { endDay: 1 })).toEqual(["0 08:30 - 1 11:00", 600]);
  });

  test("for as long as its crew says", () => {
    expect(went(tiny({ visits: [visit({ segments: [step(240)] })] }), { isRest: true })).toEqual([
      "0 08:30 - 0 12:30",
      240,
    ]);
  });

  test("with the last of its steps", () => {
    const steps = visit({ segments: [step(500), step(100, { workClass: "hoist", splittable: false })] });
    const [x] = goOn(tiny({ visits: [steps] }), [begun()]);
    expect(x?.segments).toEqual([step(50), step(100, { workClass: "hoist", splittable: false })]);
  });

  test("later than planned where its crew slept there and now comes from the depot", () => {
    const crews = [crew({ nightsAwayMax: 2 })];
    // Planned from 07:30 to 11:00 without the way.
    expect(went(tiny({ visits: [long], crews }), { sleptThere: true })).toEqual(["0 08:30 - 0 12:00", 210]);
  });

  test("on the next day on which its crew works and its weather is open", () => {
    const days = [null, FULL_DAY, FULL_DAY, FULL_DAY, FULL_DAY];
    const visits = [visit({ segments: [step(240)] })];
    expect(went(tiny({ visits, crews: [crew({ days })] }), { isRest: true })?.[0]).toBe("1 08:30 - 1 12:30");
    const windows = [window(5, { open: (d) => (d === 0 ? 0 : hours(10, 17)) })];
    expect(went(tiny({ visits, windows }), { isRest: true })?.[0]).toBe("1 10:00 - 1 14:00");
    const never = [window(5, { open: () => 0 })];
    expect(went(tiny({ visits, windows: never }), { isRest: true })).toBeUndefined();
    expect(goOn(tiny({ visits }), [])).toEqual([]);
  });

  test("is kept where it is, and other work of its crew begins after it", () => {
    const other = visit({ label: "other" });
    const problem = tiny({ visits: [visit({ segments: [step(150)] }), other], crews: [crew()] });
    const [x] = goOn(problem, [begun({ isRest: true })]);
    const going = { ...problem, underWay: [x!.placed] };
    const plan = solved(going);
    expect(plan.placed.map((p) => when(p)).sort()).toEqual(["0 08:30 - 0 11:00", "0 11:00 - 0 13:00"]);
    expect(judge(going, plan)).toEqual([]);
    const elsewhere = plan.placed.map((p) => (p.visit === 0 ? { ...p, startDay: 2, endDay: 2 } : p));
    expect(judge(going, { ...plan, placed: elsewhere }).map((b) => [b.rule, b.message])).toContainEqual([
      "kept",
      "visit is under way and was moved",
    ]);
    expect(judge({ ...going, frozenUntilDay: 1 }, plan).map((b) => b.message)).toEqual([
      "other is new in the frozen days",
    ]);
  });
});
