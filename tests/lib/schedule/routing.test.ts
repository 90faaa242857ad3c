import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type RoutingCase, routeVisits } from "@/lib/schedule";
import { checkRoutes } from "../../bench/routeChecker";

const place = fc.record({
  x: fc.integer({ min: 0, max: 40 }),
  y: fc.integer({ min: 0, max: 40 }),
  demand: fc.integer({ min: 1, max: 9 }),
  ready: fc.integer({ min: 0, max: 150 }),
  width: fc.integer({ min: 5, max: 150 }),
});

const drawn = fc.array(place, { minLength: 2, maxLength: 25 }).map((list): RoutingCase => {
  const at = [{ x: 20, y: 20, demand: 0, ready: 0, width: 400 }, ...list];
  return {
    name: "drawn",
    vehicles: 8,
    capacity: 25,
    demand: at.map((p) => p.demand),
    ready: at.map((p) => p.ready),
    due: at.map((p) => p.ready + p.width),
    service: at.map((_, i) => (i === 0 ? 0 : 5)),
    distance: Float64Array.from(at.flatMap((a) => at.map((b) => Math.abs(a.x - b.x) + Math.abs(a.y - b.y)))),
  };
});

const solvedRoutes = (c: RoutingCase, maxIterations: number, seed = "r") => {
  const result = routeVisits(c, { seed, maxIterations });
  if (!result.ok) throw new Error("refused");
  return result.value;
};

describe("routeVisits", () => {
  test("routes pass the checker and are as long as they say", () => {
    fc.assert(
      fc.property(drawn, (c) => {
        const plan = solvedRoutes(c, 200);
        const { faults, distance } = checkRoutes(c, plan.routes);
        expect(
          faults.filter((f) => !plan.unserved.some((v) => f === `customer ${v} is served 0 times`)),
        ).toEqual([]);
        expect(distance).toBe(plan.distance);
      }),
      { numRuns: 40, seed: 7 },
    );
  });

  test("more iterations never make it longer, the same seed gives the same routes", () => {
    fc.assert(
      fc.property(drawn, (c) => {
        const [few, more] = [solvedRoutes(c, 50), solvedRoutes(c, 400)];
        const penalised = (x: typeof few) => 1e6 * x.unserved.length + x.distance;
        expect(penalised(more)).toBeLessThanOrEqual(penalised(few));
        expect(solvedRoutes(c, 50)).toEqual(few);
      }),
      { numRuns: 15, seed: 8 },
    );
  });

  test("refuses a case whose tables do not fit together", () => {
    const bad: RoutingCase = {
      name: "bad",
      vehicles: 0,
      capacity: 1,
      demand: [0, 1],
      ready: [0],
      due: [0, 1],
      service: [0, 1],
      distance: new Float64Array(3),
    };
    const result = routeVisits(bad, { seed: "x", maxIterations: 1 });
    expect(result.ok ? [] : result.problems.map((x) => x.path)).toEqual(["ready", "distance", "vehicles"]);
  });
});
