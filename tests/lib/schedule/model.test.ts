import { describe, expect, test } from "vitest";
import type { PlanVisit, ScheduleProblem } from "@/lib/schedule";
import { buildModel } from "@/lib/schedule/model";
import { alignment, crew, step, tiny, visit, window } from "./tiny";

function problemsOf(problem: ScheduleProblem) {
  const built = buildModel(problem);
  return built.ok ? [] : built.problems;
}
const rulesOf = (problem: ScheduleProblem) => [...new Set(problemsOf(problem).map((x) => x.rule))];
const withVisit = (over: Partial<PlanVisit>) => tiny({ visits: [visit(over)] });

describe("buildModel", () => {
  test("takes a sound problem", () => {
    expect(
      problemsOf(tiny({ crews: [crew(), crew()], road: [0, 30, 90], visits: alignment(0, 1, 2) })),
    ).toEqual([]);
  });

  test("tells everything that is wrong at once, with path and remedy", () => {
    const problems = problemsOf(
      tiny({
        crews: [crew({ depotPlace: 9, pace: 0 })],
        visits: [visit({ place: 5, hop: 3, segments: [] })],
      }),
    );
    expect(problems.map((x) => x.path)).toEqual(
      expect.arrayContaining([
        "crews[0].depotPlace",
        "crews[0].pace",
        "visits[0].place",
        "visits[0].hop",
        "visits[0].segments",
      ]),
    );
    for (const x of problems) expect(x.remedy).not.toBe("");
  });

  test("refuses tables of the wrong size", () => {
    expect(rulesOf(tiny({ travelKm: new Float32Array(3) }))).toContain("size");
    expect(rulesOf(tiny({ windows: [window(4)] }))).toContain("size");
    expect(rulesOf(tiny({ crews: [crew({ dayCount: 4 })] }))).toContain("size");
    expect(rulesOf(withVisit({ access: [] }))).toContain("size");
  });

  test("refuses figures that make no sense", () => {
    expect(rulesOf(tiny({ travelMin: Float32Array.of(0, Number.NaN, 60, 0) }))).toContain("number-range");
    expect(rulesOf(tiny({ travelMin: Float32Array.of(5, 60, 60, 0) }))).toContain("number-range");
    expect(rulesOf(tiny({ windows: [window(5, { stretch: () => 0 })] }))).toContain("number-range");
    expect(rulesOf(tiny({ weights: { crewDay: -1 } }))).toContain("number-range");
    expect(rulesOf(withVisit({ segments: [step(0)] }))).toContain("number-range");
    expect(rulesOf(withVisit({ releaseDay: Number.NaN }))).toContain("number-range");
    expect(rulesOf(tiny({ dayCount: 0 }))).toContain("number-range");
  });

  test("refuses shifts and access that end before they start", () => {
    const backwards = { ...crew().days[0]!, fromMin: 900, toMin: 420 };
    expect(rulesOf(tiny({ crews: [crew({ days: Array(5).fill(backwards) })] }))).toContain("shift");
    expect(rulesOf(withVisit({ access: Array(7).fill({ fromMin: 600, toMin: 500 }) }))).toContain("access");
  });

  test("refuses visits that wait for each other, also through a pair", () => {
    const circle = problemsOf(
      tiny({
        visits: [
          visit({ label: "a", after: [1] }),
          visit({ label: "b", after: [2] }),
          visit({ label: "c", after: [0] }),
        ],
      }),
    );
    expect(circle.map((x) => x.rule)).toEqual(["cycle"]);
    expect(circle[0]!.message).toMatch(/a|b|c/);
    const throughPair = tiny({
      road: [0, 30, 90],
      visits: [...alignment(0, 1, 2, [2]), visit({ label: "acceptance", after: [1] })],
    });
    expect(rulesOf(throughPair)).toEqual(["cycle"]);
    expect(rulesOf(withVisit({ after: [0] }))).toEqual(["cycle"]);
  });

  test("refuses pairs that are not mutual or not alike", () => {
    const [near, far] = alignment(0, 1, 2);
    const road = [0, 30, 90];
    expect(rulesOf(tiny({ road, visits: [near!, { ...far!, togetherWith: undefined }] }))).toContain("pair");
    expect(rulesOf(tiny({ road, visits: [near!, { ...far!, segments: [step(60), step(60)] }] }))).toContain(
      "pair",
    );
    expect(rulesOf(tiny({ visits: [visit({ togetherWith: 0 })] }))).toContain("pair");
  });

  test("refuses pins that cannot be read", () => {
    const pin = { visit: 0, crew: 0, startDay: 0, startMin: 510, endDay: 0, endMin: 630 };
    expect(rulesOf(tiny({ visits: [visit()], pinned: [pin, pin] }))).toEqual(["twice"]);
    expect(rulesOf(tiny({ visits: [visit()], pinned: [{ ...pin, endDay: -1 }] }))).toEqual(["time-order"]);
    expect(rulesOf(tiny({ visits: [visit()], pinned: [{ ...pin, crew: 4 }] }))).toEqual(["index-range"]);
  });

  test("blocks what waits for a blocked visit, and its other end", () => {
    const built = buildModel(
      tiny({
        road: [0, 30, 90],
        visits: [visit({ blockedBy: "approval is open" }), visit({ place: 2 }), ...alignment(2, 1, 2, [0])],
      }),
    );
    if (!built.ok) throw new Error("refused");
    expect([...built.value.blocked]).toEqual([1, 0, 1, 1]);
  });

  test("ends a day early enough for the rest before the next shift", () => {
    const built = buildModel(tiny({ crews: [crew({ restMin: 840, overtimeMaxMin: 120 })] }));
    if (!built.ok) throw new Error("refused");
    // 07:00 the next day less 14 h = 17:00, though overtime would allow 19:00; no shift follows the last day.
    expect([...built.value.homeByMin]).toEqual([1020, 1020, 1020, 1020, 1140]);
  });
});
