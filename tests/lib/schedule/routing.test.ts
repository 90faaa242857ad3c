import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type RoutingCase, type RoutingOptions, routeVisits } from "@/lib/schedule";
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
    depots: 1,
    fleet: [{ count: 8, depot: 0, capacity: 25, longest: Number.POSITIVE_INFINITY }],
    demand: at.map((p) => p.demand),
    ready: at.map((p) => p.ready),
    due: at.map((p) => p.ready + p.width),
    service: at.map((_, i) => (i === 0 ? 0 : 5)),
    distance: Float64Array.from(at.flatMap((a) => at.map((b) => Math.abs(a.x - b.x) + Math.abs(a.y - b.y)))),
  };
});

/** The same places with two depots, skills and a longest duty. */
const mixed = drawn.map((c): RoutingCase => {
  const places = c.demand.length;
  const all = Array.from({ length: places - 2 }, (_, i) => i + 2);
  return {
    ...c,
    depots: 2,
    demand: c.demand.map((d, i) => (i < 2 ? 0 : d)),
    ready: c.ready.map((r, i) => (i < 2 ? 0 : r)),
    due: c.due.map((d, i) => (i < 2 ? 400 : d)),
    service: c.service.map((x, i) => (i < 2 ? 0 : x)),
    fleet: [
      { count: 3, depot: 0, capacity: 25, longest: 150 },
      { count: 2, depot: 1, capacity: 40, longest: 90, serves: all.filter((v) => v % 2 === 0) },
      {
        count: 2,
        depot: 1,
        capacity: 15,
        longest: Number.POSITIVE_INFINITY,
        serves: all.filter((v) => v % 3 > 0),
      },
    ],
  };
});

const solvedRoutes = (c: RoutingCase, maxIterations: number, aim: RoutingOptions["aim"] = "distance") => {
  const result = routeVisits(c, { seed: "r", maxIterations, aim });
  if (!result.ok) throw new Error("refused");
  return result.value;
};

describe("routeVisits", () => {
  test.each([
    ["plain", drawn, "distance"],
    ["plain, fewest vehicles", drawn, "vehicles"],
    ["several depots, skills and longest duties", mixed, "distance"],
    ["the same, fewest vehicles", mixed, "vehicles"],
  ] as const)("%s: routes pass the checker and are as long as they say", (_name, cases, aim) => {
    fc.assert(
      fc.property(cases, (c) => {
        const plan = solvedRoutes(c, 200, aim);
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

  /** By hand: two customers 10 out on either side of the depot; the second is open when the first is done. */
  const eitherSide: RoutingCase = {
    name: "either side",
    depots: 1,
    fleet: [{ count: 2, depot: 0, capacity: 2, longest: 60 }],
    demand: [0, 1, 1],
    ready: [0, 0, 40],
    due: [100, 20, 45],
    service: [0, 0, 0],
    distance: Float64Array.from([0, 10, 10, 10, 0, 21, 10, 21, 0]),
  };

  test("vehicles first: one route of 41 in place of two of 20", () => {
    expect(solvedRoutes(eitherSide, 50)).toMatchObject({ distance: 40 });
    const { routes, distance } = solvedRoutes(eitherSide, 50, "vehicles");
    expect({ routes, distance }).toEqual({ routes: [{ kind: 0, stops: [1, 2] }], distance: 41 });
  });

  test("a duty counts from the latest departure: both together take 41", () => {
    const within = (longest: number) => {
      const c = { ...eitherSide, fleet: [{ ...eitherSide.fleet[0]!, longest }] };
      return solvedRoutes(c, 50, "vehicles").routes.length;
    };
    // Out at 9, at the first at 19, at the second at 40, home at 50. Whoever leaves earlier waits for the second.
    expect([within(41), within(40.9)]).toEqual([1, 2]);
  });

  test("refuses a case whose tables do not fit together", () => {
    const bad: RoutingCase = {
      name: "bad",
      depots: 1,
      fleet: [{ count: 0, depot: 0, capacity: 1, longest: 1 }],
      demand: [0, 1],
      ready: [0],
      due: [0, 1],
      service: [0, 1],
      distance: new Float64Array(3),
    };
    const result = routeVisits(bad, { seed: "x", maxIterations: 1 });
    expect(result.ok ? [] : result.problems.map((x) => x.path)).toEqual([
      "ready",
      "distance",
      "fleet[0].count",
    ]);
  });
});
