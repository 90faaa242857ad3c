/** Items that visits share as they come in: who waits is the search's to choose, never more is taken than has come. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { judge, schedule } from "@/lib/schedule";
import { PlanEdit } from "@/lib/schedule/edit";
import { buildModel } from "@/lib/schedule/model";
import { PlanState } from "@/lib/schedule/plan";
import { syntheticProgramme } from "@/seed/syntheticProgramme";
import { solved } from "./plans";
import { withScarceItems } from "./scarce";
import { crew, step, tiny, visit } from "./tiny";

const INF = Number.POSITIVE_INFINITY;
const cable = (...byDay: number[]) => [{ id: "CABLE", code: "CABLE", byDay: Float64Array.from(byDay) }];
const takesOne = { takes: [{ item: 0, quantity: 1 }] };

/** Two sites, two crews, two hops of one visit each: the first hop is promised first. */
const two = (over: object, first: object = {}, second: object = {}) =>
  tiny({
    road: [0, 30, 60],
    crews: [crew(), crew({ id: "d", code: "C2" })],
    hops: [
      { id: "h1", code: "H1", weight: 1, promiseDay: 2 },
      { id: "h2", code: "H2", weight: 1, promiseDay: 4 },
    ],
    visits: [
      visit({ label: "one", hop: 0, place: 1, ...takesOne, ...first }),
      visit({ label: "two", hop: 1, place: 2, ...takesOne, ...second }),
    ],
    ...over,
  });

const daysOf = (problem: ReturnType<typeof two>) => {
  const plan = solved(problem, 200);
  expect(judge(problem, plan)).toEqual([]);
  return [0, 1].map((v) => plan.placed.find((x) => x.visit === v)?.startDay);
};

describe("a scarce item", () => {
  it("goes to the visit that is promised first while there is one only", () => {
    expect(daysOf(two({ scarce: cable(1, 1, 1, 2, 2) }))).toEqual([0, 3]);
  });

  it("goes to the other when the first cannot start yet, and the second drum serves the first", () => {
    const mondays = Array.from({ length: 7 }, (_, i) => (i === 0 ? { fromMin: 0, toMin: 1440 } : null));
    const days = daysOf(two({ scarce: cable(1, 1, 2, 2, 2) }, { releaseDay: 2 }, { access: mondays }));
    expect(days).toEqual([2, 0]);
  });

  it("holds nobody from the day on which any quantity can be had", () => {
    expect(daysOf(two({ scarce: cable(0, INF, INF, INF, INF) }))).toEqual([1, 1]);
  });

  it("is named where it keeps a visit out, with the remedy", () => {
    const problem = two({ scarce: cable(1, 1, 1, 1, 1) });
    const made = schedule(problem, { seed: "s", maxIterations: 200 });
    if (!made.ok) throw new Error("refused");
    expect(made.value.unplaced).toHaveLength(1);
    expect(made.value.unplaced[0]!.rule).toBe("kit");
    expect(made.value.unplaced[0]!.detail).toContain("CABLE");
    expect(made.value.unplaced[0]!.detail).toContain("the kit whole");
  });

  it("is watched by the judge: two kits cannot take one drum", () => {
    const problem = two({ scarce: cable(2, 2, 2, 2, 2) });
    const plan = solved(problem, 50);
    const broken = judge({ ...problem, scarce: cable(1, 1, 1, 1, 1) }, plan);
    expect(broken.map((b) => b.rule)).toEqual(["kit"]);
    expect(broken[0]!.message).toContain("take 2 of CABLE, of which 1 have come");
  });

  it("is refused where the supply falls, and on joint work", () => {
    const falling = schedule(two({ scarce: cable(2, 1, 1, 1, 1) }), { seed: "s", maxIterations: 1 });
    expect(falling.ok ? [] : falling.problems.map((p) => p.rule)).toEqual(["supply"]);
    const pair = { segments: [step(60, { workClass: "alignment" })] };
    const joint = two(
      { scarce: cable(2, 2, 2, 2, 2) },
      { ...pair, togetherWith: 1 },
      { ...pair, togetherWith: 0, takes: undefined },
    );
    const refused = schedule(joint, { seed: "s", maxIterations: 1 });
    expect(refused.ok ? [] : refused.problems.map((p) => p.rule)).toEqual(["pair"]);
  });
});

describe("claims under edit", () => {
  const drawn = fc
    .record({
      seed: fc.string({ minLength: 1, maxLength: 6 }),
      picks: fc.array(fc.nat(1e6), { maxLength: 30 }),
    })
    .map(({ seed, picks }) => ({
      picks,
      problem: withScarceItems(syntheticProgramme({ seed, sites: 10, hops: 8, crews: 3, weeks: 4 }), seed),
    }));

  it("are what the placed visits take, day by day, after any removals, and undo gives them back", () => {
    fc.assert(
      fc.property(drawn, ({ problem, picks }) => {
        const plan = solved(problem, 40);
        const built = buildModel(problem);
        if (!built.ok) throw new Error("refused");
        const m = built.value;
        const edit = new PlanEdit(m, new PlanState(m));
        edit.start();
        for (const x of [...plan.placed].sort((a, b) => a.startDay - b.startDay || a.startMin - b.startMin))
          edit.adopt(x.visit, x);
        edit.state.forget();
        const before = [...edit.state.unclaimed, ...edit.state.spare];
        for (const pick of picks) {
          const placed = problem.visits.map((_, v) => v).filter((v) => edit.state.crewOf[v]! >= 0);
          if (placed.length > 0) edit.drop(placed[pick % placed.length]!);
        }
        problem.scarce!.forEach((item, i) => {
          let spare = INF;
          for (let day = problem.dayCount - 1; day >= 0; day--) {
            const taken = problem.visits.reduce(
              (sum, v, at) =>
                edit.state.crewOf[at]! >= 0 && edit.state.startDay[at]! <= day
                  ? sum + (v.takes?.find((t) => t.item === i)?.quantity ?? 0)
                  : sum,
              0,
            );
            spare = Math.min(spare, item.byDay[day]! - taken);
            expect(edit.state.unclaimed[i * problem.dayCount + day]).toBe(item.byDay[day]! - taken);
            expect(edit.state.spare[i * problem.dayCount + day]).toBe(spare);
          }
        });
        edit.state.undoAll();
        expect([...edit.state.unclaimed, ...edit.state.spare]).toEqual(before);
      }),
      { numRuns: 20, seed: 20260302 },
    );
  });
});
