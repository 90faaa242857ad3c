import { describe, expect, test } from "vitest";
import {
  DEFAULT_WEIGHTS,
  judge,
  type Move,
  type ScheduleProblem,
  tryMove,
  tryPlaces,
  whyHere,
} from "@/lib/schedule";
import { placeOf, solved, when } from "./plans";
import { alignment, crew, FULL_DAY, hours, step, tiny, visit, window } from "./tiny";

const twoCrews = [crew({ code: "C1" }), crew({ code: "C2" })];

function moved(problem: ScheduleProblem, move: Move) {
  const plan = solved(problem);
  const effect = tryMove(problem, plan, move);
  if (!effect.ok) throw new Error(JSON.stringify(effect.problems));
  const { plan: next, ...rest } = effect.value;
  return { ...rest, next };
}

describe("whyHere", () => {
  test("lists the other crew-days, cheapest first, with the difference by term", () => {
    const problem = tiny({ visits: [visit()] });
    const why = whyHere(problem, solved(problem), 0);
    if (!why.ok) throw new Error("refused");
    expect(why.value.now).toMatchObject({ startDay: 0 });
    expect(why.value.alternatives.map((x) => x.visit.startDay)).toEqual([1, 2, 3, 4]);
    // One day later costs one day until the finish and nothing else.
    expect(why.value.alternatives[0]!.difference).toMatchObject({
      total: DEFAULT_WEIGHTS.finishDay,
      finishDays: 1,
      crewDays: 0,
      travelKm: 0,
    });
    expect(why.value.impossible).toBe(0);
  });

  test("counts crew-days on which there is no place", () => {
    const windows = [window(5, { open: (d) => (d === 3 ? 0 : 0xffffff) })];
    const problem = tiny({ windows, visits: [visit({ segments: [step(120, { splittable: false })] })] });
    const why = whyHere(problem, solved(problem), 0);
    expect(why.ok && why.value.impossible).toBe(1);
    expect(why.ok && why.value.stops).toEqual([
      {
        rule: "weather",
        crewDays: 1,
        example: { crew: 0, day: 3, text: expect.stringContaining("no hours are open long enough") },
      },
    ]);
  });

  test("gathers the crew-days without a place by the rule that stops it there", () => {
    const problem = tiny({
      crews: twoCrews,
      visits: [visit({ releaseDay: 1, kitReadyDay: 2 }), visit({ after: [0], label: "the next" })],
    });
    const why = whyHere(problem, solved(problem), 0);
    if (!why.ok) throw new Error("refused");
    const { stops, impossible } = why.value;
    expect(stops.reduce((sum, s) => sum + s.crewDays, 0)).toBe(impossible);
    expect(stops.find((s) => s.rule === "gate")).toMatchObject({ crewDays: 2, example: { day: 0 } });
    expect(stops.find((s) => s.rule === "kit")).toMatchObject({ crewDays: 2, example: { day: 1 } });
    expect(stops.find((s) => s.rule === "order")?.crewDays).toBeGreaterThan(0);
  });

  test("offers no place to what is blocked, and says why", () => {
    const blocked = { blockedBy: "both ends transmit high", blockedRule: "design check" };
    const problem = tiny({ crews: twoCrews, visits: [visit(blocked)] });
    const why = whyHere(problem, { placed: [], nights: [] }, 0);
    if (!why.ok) throw new Error("refused");
    expect(why.value).toMatchObject({
      alternatives: [],
      impossible: 10,
      stops: [{ rule: "design check", crewDays: 10, example: { text: "both ends transmit high" } }],
    });
    // The other end of joint work is kept off with it, under its own name.
    const [a, b] = alignment(0, 1, 2);
    const joint = tiny({ road: [0, 30, 90], crews: twoCrews, visits: [{ ...a!, ...blocked }, b!] });
    const other = whyHere(joint, { placed: [], nights: [] }, 1);
    expect(other.ok && other.value.stops[0]!.example.text).toContain(": both ends transmit high");
    expect(other.ok && other.value.alternatives).toEqual([]);
  });

  test("moves both ends of joint work", () => {
    const problem = tiny({ road: [0, 30, 90], crews: twoCrews, visits: alignment(0, 1, 2) });
    const why = whyHere(problem, solved(problem), 1);
    if (!why.ok) throw new Error("refused");
    for (const x of why.value.alternatives) {
      expect(x.other).toMatchObject({ visit: 0, startDay: x.visit.startDay, startMin: x.visit.startMin });
      expect(x.other!.crew).not.toBe(x.visit.crew);
    }
  });

  test("refuses a visit that does not exist", () => {
    const problem = tiny({ visits: [visit()] });
    expect(whyHere(problem, solved(problem), 5).ok).toBe(false);
  });
});

describe("tryMove", () => {
  test("what is dropped against a rule still ends when its work does, over hours that are closed", () => {
    // Closed from 9 to 11: two hours from 08:30 are done at 12:30.
    const windows = [window(5, { open: () => hours(0, 9) | hours(11, 24) })];
    const crews = [
      crew({ code: "C1" }),
      crew({ code: "C2", days: Array(5).fill({ ...FULL_DAY, climbers: 1 }) }),
    ];
    const problem = tiny({ windows, crews, visits: [visit()] });
    const { broken, next } = moved(problem, { visit: 0, crew: 1, day: 1, startMin: 510 });
    expect(next.placed[0]).toMatchObject({ crew: 1, startDay: 1, startMin: 510, endMin: 750 });
    expect(broken.map((b) => b.rule)).toEqual(["people"]);
  });

  test("a legal drop: times follow, the cost before and after is told", () => {
    const problem = tiny({ visits: [visit()] });
    const { next, broken, before, after } = moved(problem, { visit: 0, crew: 0, day: 3 });
    expect(broken).toEqual([]);
    expect(when(placeOf(next, 0))).toBe("3 08:30 - 3 10:30");
    expect(after.total - before.total).toBe(3 * DEFAULT_WEIGHTS.finishDay!);
    expect(judge(problem, next)).toEqual([]);
  });

  test("an illegal drop stands where it was dropped and names the rules", () => {
    const problem = tiny({ visits: [visit({ releaseDay: 2, kitReadyDay: 2 })] });
    const { next, broken } = moved(problem, { visit: 0, crew: 0, day: 1 });
    expect(placeOf(next, 0)).toMatchObject({ startDay: 1, startMin: 510, endMin: 630 });
    expect(broken.map((x) => x.rule)).toEqual(["gate", "kit"]);
  });

  test("on a crew's day off it stands in the hours that shift, site and light leave, never in the night", () => {
    const off = crew({ days: [FULL_DAY, null, FULL_DAY, FULL_DAY, FULL_DAY] });
    const startOf = (over: Parameters<typeof tiny>[0]) =>
      placeOf(moved(tiny({ crews: [off], ...over }), { visit: 0, crew: 0, day: 1 }).next, 0).startMin;
    expect(startOf({ visits: [visit()] })).toBe(510);
    expect(startOf({ visits: [visit()], windows: [window(5, { open: () => hours(10, 17) })] })).toBe(600);
    const access = Array(7).fill({ fromMin: 540, toMin: 1020 });
    expect(startOf({ visits: [visit({ access })] })).toBe(570);
  });

  test("a drop between two visits keeps the order dropped in", () => {
    const problem = tiny({
      visits: [visit({ label: "a" }), visit({ label: "b" }), visit({ label: "c", segments: [step(60)] })],
    });
    const plan = solved(problem);
    const firstOfDay = [...plan.placed].sort(
      (a, b) => a.startDay - b.startDay || a.startMin - b.startMin,
    )[0]!;
    const mover = plan.placed.find((x) => x.visit !== firstOfDay.visit)!.visit;
    const { next } = moved(problem, { visit: mover, crew: 0, day: firstOfDay.startDay, startMin: 421 });
    expect(placeOf(next, mover).startMin).toBeLessThan(placeOf(next, firstOfDay.visit).startMin);
  });

  test("a drop where it stands changes nothing, though what follows could begin before it", () => {
    const far = visit({ place: 2, label: "far" });
    const near = visit({ place: 1, label: "near" });
    const road = [0, 30, 90];
    // The far one first: once it is out, the near one could begin at an earlier minute than it.
    const plan = solved(tiny({ road, visits: [far, { ...near, after: [0] }] }));
    const { startDay, startMin } = placeOf(plan, 0);
    const effect = tryMove(tiny({ road, visits: [far, near] }), plan, {
      visit: 0,
      crew: 0,
      day: startDay,
      startMin,
    });
    if (!effect.ok) throw new Error(JSON.stringify(effect.problems));
    expect(placeOf(plan, 1)).toMatchObject({ startDay });
    expect([0, 1].map((v) => when(placeOf(effect.value.plan, v)))).toEqual(
      [0, 1].map((v) => when(placeOf(plan, v))),
    );
  });

  test("joint work moves with both crews", () => {
    const problem = tiny({ road: [0, 30, 90], crews: twoCrews, visits: alignment(0, 1, 2) });
    const { next, broken } = moved(problem, { visit: 0, crew: 1, day: 2 });
    expect(broken).toEqual([]);
    expect(placeOf(next, 0)).toMatchObject({ crew: 1, startDay: 2 });
    expect(placeOf(next, 1)).toMatchObject({ crew: 0, startDay: 2, startMin: placeOf(next, 0).startMin });
  });

  test("a pinned visit can be moved by hand, and the judge tells of the pin", () => {
    const pinned = [{ visit: 0, crew: 0, startDay: 0, startMin: 510, endDay: 0, endMin: 630 }];
    const { broken } = moved(tiny({ visits: [visit()], pinned }), { visit: 0, crew: 0, day: 2 });
    expect(broken.map((x) => x.rule)).toEqual(["kept"]);
  });

  test("an unplaced visit can be dropped in", () => {
    const problem = tiny({ visits: [visit({ kitReadyDay: 9 })] });
    const { next, broken } = moved(problem, { visit: 0, crew: 0, day: 0 });
    expect(next.unplaced).toEqual([]);
    expect(broken.map((x) => x.rule)).toEqual(["kit"]);
  });

  test("refuses a crew or day that does not exist", () => {
    const problem = tiny({ visits: [visit()] });
    expect(tryMove(problem, solved(problem), { visit: 0, crew: 3, day: 0 }).ok).toBe(false);
    expect(tryMove(problem, solved(problem), { visit: 0, crew: 0, day: 5 }).ok).toBe(false);
  });
});

describe("a move in a plan whose data changed since", () => {
  const hops = [0, 1, 2, 3].map((n) => ({ id: `h${n}`, code: `H${n}`, weight: 1 }));
  const visits = [0, 1, 2, 3].map((hop) => visit({ hop, label: `v${hop}`, releaseDay: hop < 2 ? 0 : 2 }));
  const problem = tiny({ crews: twoCrews, hops, visits });
  const longer: ScheduleProblem = {
    ...problem,
    visits: problem.visits.map((v) => ({ ...v, segments: v.segments.map((s) => step(s.durationMin + 7)) })),
  };
  const day = (visit: number, crew: number, startDay: number, startMin: number) => ({
    visit,
    crew,
    startDay,
    startMin,
    endDay: startDay,
    endMin: startMin + 120,
  });
  const placed = [day(0, 0, 0, 510), day(1, 0, 0, 630), day(2, 1, 2, 510), day(3, 1, 2, 630)];
  const plan = { ...solved(problem), placed };
  if (judge(problem, plan).length > 0) throw new Error("the plan is to be legal before the data change");
  const at = plan.placed[0]!;
  const effect = tryMove(longer, plan, { visit: at.visit, crew: at.crew, day: 4 });
  if (!effect.ok) throw new Error("refused");

  test("keeps the times of what it does not reach, and breaks nothing there", () => {
    const mine = (x: { crew: number; startDay: number }) => x.crew === at.crew && x.startDay === at.startDay;
    const byVisit = (a: { visit: number }, b: { visit: number }) => a.visit - b.visit;
    const others = plan.placed.filter((x) => !mine(x)).sort(byVisit);
    expect(others.length).toBeGreaterThan(0);
    const then = effect.value.plan.placed.filter((x) => others.some((o) => o.visit === x.visit));
    expect(then.sort(byVisit)).toEqual(others);
    expect(effect.value.broken).toEqual([]);
  });

  test("tells apart what was broken before", () => {
    expect(effect.value.brokenBefore.map((x) => x.rule)).toContain("work");
    expect(judge(longer, effect.value.plan)).toHaveLength(effect.value.brokenBefore.length);
  });

  test("is taken back without a word about what the plan broke already", () => {
    const to = tryPlaces(
      longer,
      effect.value.plan,
      plan.placed.map((x) => ({ visit: x.visit, to: x })),
      plan,
    );
    if (!to.ok) throw new Error("refused");
    expect(to.value.broken).toEqual([]);
    expect(to.value.brokenBefore.length).toBeGreaterThan(0);
    const held = tryPlaces(
      longer,
      effect.value.plan,
      [{ visit: at.visit, to: { ...at, startMin: 0 } }],
      plan,
    );
    expect(held.ok && held.value.broken.length).toBeGreaterThan(0);
  });
});
