import { describe, expect, test } from "vitest";
import { judge, type ScheduleProblem, schedule } from "@/lib/schedule";
import { DEMO_SIZE, syntheticProgramme } from "@/seed/syntheticProgramme";
import { solved } from "./plans";
import { crew, tiny, visit } from "./tiny";

const small = (seed: string) => syntheticProgramme({ seed, sites: 14, hops: 10, crews: 3, weeks: 4 });

describe("schedule", () => {
  test("a plan of the demonstration's size passes the judge and places all that no gate keeps out", () => {
    const problem = syntheticProgramme(DEMO_SIZE);
    const plan = solved(problem, 200);
    expect(judge(problem, plan)).toEqual([]);
    for (const x of plan.unplaced) expect(x.rule).toMatch(/^(gate|waits for )/);
  });

  test("the same seed and iterations give the same plan; another seed another course", () => {
    const problem = small("d");
    expect(solved(problem, 300, "one")).toEqual(solved(problem, 300, "one"));
    const other = solved(problem, 300, "two");
    expect(other.seed).toBe("two");
    expect(other.placed).not.toEqual(solved(problem, 300, "one").placed);
  });

  test("more iterations never make the plan worse", () => {
    const problem = small("m");
    const totals = [0, 50, 200, 600, 1500].map((n) => solved(problem, n).cost.total);
    for (let i = 1; i < totals.length; i++) expect(totals[i]!).toBeLessThanOrEqual(totals[i - 1]!);
    expect(totals.at(-1)!).toBeLessThan(totals[0]!);
  });

  test("alike crews in another order give a plan of the same cost", () => {
    const crews = ["C1", "C2", "C3"].map((code, i) => crew({ code, id: code, restMin: 600 + i }));
    const visits = [60, 90, 120, 200, 240].map((min, i) =>
      visit({
        label: `v${i}`,
        place: 1 + (i % 3),
        segments: [{ workClass: "aloft", durationMin: min, splittable: true }],
      }),
    );
    const problem = tiny({ road: [0, 40, 80, 120], crews, visits });
    const turned = { ...problem, crews: [crews[2]!, crews[0]!, crews[1]!] };
    expect(solved(turned, 400).cost.total).toBeCloseTo(solved(problem, 400).cost.total, 6);
  });

  test("stops when told, also at once, and still hands over a legal plan", () => {
    const problem = small("s");
    for (const polls of [0, 3, 30]) {
      let left = polls;
      const result = schedule(problem, { seed: "x", maxIterations: 1e9, shouldStop: () => left-- <= 0 });
      if (!result.ok) throw new Error("refused");
      expect(judge(problem, result.value)).toEqual([]);
    }
  });

  test("reports progress as often as asked, the best never rising", () => {
    const seen: { iteration: number; total: number; placed: number }[] = [];
    const problem = small("p");
    const plan = schedule(problem, {
      seed: "x",
      maxIterations: 200,
      progressEvery: 50,
      onProgress: (x) =>
        seen.push({ iteration: x.iteration, total: x.best.total, placed: x.placed + x.unplaced }),
    });
    expect(seen.filter((x) => x.iteration > 0).map((x) => x.iteration)).toEqual([50, 100, 150, 200]);
    const totals = seen.filter((x) => x.iteration > 0).map((x) => x.total);
    expect([...totals].sort((a, b) => b - a)).toEqual(totals);
    expect(seen.every((x) => x.placed === problem.visits.length)).toBe(true);
    expect(plan.ok && plan.value.iterations).toBe(200);
  });

  test("hands back all problems of the input instead of a plan", () => {
    const bad: ScheduleProblem = tiny({ visits: [visit({ place: 9 }), visit({ window: 4 })] });
    const result = schedule(bad, { seed: "x", maxIterations: 1 });
    expect(result.ok ? [] : result.problems.map((x) => x.path)).toEqual([
      "visits[0].place",
      "visits[1].window",
    ]);
  });

  test("an empty programme has an empty plan that costs nothing", () => {
    const plan = solved(tiny({ hops: [] }), 10);
    expect(plan).toMatchObject({ placed: [], unplaced: [], nights: [], lowerBound: 0 });
    expect(plan.cost.total).toBe(0);
  });
});
