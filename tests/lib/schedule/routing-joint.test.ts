import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type JointCase, type JointVisit, routeJointVisits } from "@/lib/schedule";
import { checkJointVisits } from "../../bench/jointChecker";

const CREWS = 3;
const someCrews = fc.constantFrom([0, 1], [1, 2], [0, 2], [0, 1, 2]);
const drawnVisit = fc.record({
  x: fc.integer({ min: 0, max: 30 }),
  y: fc.integer({ min: 0, max: 30 }),
  ready: fc.integer({ min: 0, max: 100 }),
  width: fc.integer({ min: 0, max: 60 }),
  durations: fc.array(fc.integer({ min: 1, max: 12 }), { minLength: 1, maxLength: 2 }),
  crews: fc.tuple(someCrews, someCrews),
  least: fc.integer({ min: 0, max: 20 }),
  slack: fc.integer({ min: 0, max: 20 }),
});

const drawn = fc.array(drawnVisit, { minLength: 1, maxLength: 14 }).map((list): JointCase => {
  const at = [{ x: 15, y: 15 }, ...list];
  return {
    name: "drawn",
    crews: CREWS,
    places: at.length,
    distance: Float64Array.from(at.flatMap((a) => at.map((b) => Math.abs(a.x - b.x) + Math.abs(a.y - b.y)))),
    visits: list.map((v, i) => ({
      place: i + 1,
      ready: v.ready,
      due: v.ready + v.width,
      parts: v.durations.map((duration, p) => ({
        duration,
        crews: v.crews[p]!,
      })) as unknown as JointVisit["parts"],
      gap: { least: v.least, most: v.least + v.slack },
    })),
  };
});

const solved = (c: JointCase, maxIterations: number) => {
  const result = routeJointVisits(c, { seed: "j", maxIterations });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.value;
};

describe("routeJointVisits", () => {
  test("plans pass the checker and cost what they say", () => {
    fc.assert(
      fc.property(drawn, (c) => {
        const plan = solved(c, 150);
        const checked = checkJointVisits(c, plan.routes);
        expect(checked.faults).toEqual([]);
        const { travel, tardiness, largestTardiness, cost } = plan;
        expect({ travel, tardiness, largestTardiness, cost, faults: [] }).toEqual(checked);
      }),
      { numRuns: 60, seed: 3 },
    );
  });

  test("more iterations never cost more, the same seed gives the same plan", () => {
    fc.assert(
      fc.property(drawn, (c) => {
        expect(solved(c, 200).cost).toBeLessThanOrEqual(solved(c, 20).cost);
        expect(solved(c, 20)).toEqual(solved(c, 20));
      }),
      { numRuns: 15, seed: 4 },
    );
  });

  /**
   * By hand: a line, the depot at 0, place 1 at 10, place 2 at 20. Visit 0 at place 1 by both crews at once; visit 1 at
   * place 2 by crew 0, then crew 1 between 5 and 8 later.
   */
  const line: JointCase = {
    name: "line",
    crews: 2,
    places: 3,
    distance: Float64Array.from([0, 10, 20, 10, 0, 10, 20, 10, 0]),
    visits: [
      {
        place: 1,
        ready: 12,
        due: 12,
        parts: [
          { duration: 4, crews: [0, 1] },
          { duration: 4, crews: [0, 1] },
        ],
        gap: { least: 0, most: 0 },
      },
      {
        place: 2,
        ready: 0,
        due: 25,
        parts: [
          { duration: 3, crews: [0] },
          { duration: 2, crews: [1] },
        ],
        gap: { least: 5, most: 8 },
      },
    ],
  };

  test("at once and in sequence: starts 12, 12, 26 and 31, late by 1 and 6", () => {
    const plan = solved(line, 50);
    const start = (visit: number, part: number) =>
      plan.routes.flat().find((stop) => stop.visit === visit && stop.part === part)?.start;
    expect([start(0, 0), start(0, 1), start(1, 0), start(1, 1)]).toEqual([12, 12, 26, 31]);
    expect([plan.travel, plan.tardiness, plan.largestTardiness, plan.cost]).toEqual([80, 7, 6, 31]);
  });

  test("a part waits when the other may not come so soon after", () => {
    const late: JointCase = {
      ...line,
      visits: [
        { ...line.visits[0]!, ready: 50, due: 50, parts: [{ duration: 4, crews: [1] }] },
        { ...line.visits[1]!, due: 100 },
      ],
    };
    const plan = solved(late, 100);
    expect(checkJointVisits(late, plan.routes).faults).toEqual([]);
    const at = plan.routes.flat().filter((stop) => stop.visit === 1);
    const [one, two] = [at.find((s) => s.part === 0)!, at.find((s) => s.part === 1)!];
    expect(two.start - one.start).toBeGreaterThanOrEqual(5);
    expect(two.start - one.start).toBeLessThanOrEqual(8);
    expect(plan.travel).toBe(80);
  });

  test("refuses what cannot be read as a case, with all that is wrong", () => {
    const bad: JointCase = {
      ...line,
      crews: 1,
      distance: new Float64Array(4),
      visits: [{ ...line.visits[0]!, place: 7, ready: 3, due: 1, gap: { least: 2, most: 1 } }],
    };
    const result = routeJointVisits(bad, { seed: "x", maxIterations: 1 });
    expect(result.ok ? [] : result.problems.map((x) => x.path)).toEqual([
      "distance",
      "visits[0].place",
      "visits[0].due",
      "visits[0].gap",
      "visits[0].parts[0].crews",
      "visits[0].parts[1].crews",
    ]);
  });
});
