/** The fewest vehicles where loads fit to the unit: overload has a price by the way and is never in the answer. */
import { describe, expect, test } from "vitest";
import { type RoutingCase, routeVisits } from "@/lib/schedule";
import { checkRoutes } from "../../bench/routeChecker";

describe("the fewest vehicles, full to the unit", () => {
  // Three towns far apart, each a load of 10 in parts that fit one vehicle only as they are: 5+3+2, 6+4, 7+2+1.
  const towns = [
    [5, 3, 2],
    [6, 4],
    [7, 2, 1],
  ];
  const at = [
    { x: 0, y: 0, demand: 0 },
    ...towns.flatMap((parts, town) =>
      parts.map((demand, i) => ({
        x: 100 * Math.cos(town * 2.1) + i,
        y: 100 * Math.sin(town * 2.1),
        demand,
      })),
    ),
  ];
  const full: RoutingCase = {
    name: "full",
    depots: 1,
    fleet: [{ count: 6, depot: 0, capacity: 10, longest: Number.POSITIVE_INFINITY }],
    demand: at.map((p) => p.demand),
    ready: at.map(() => 0),
    due: at.map(() => 10_000),
    service: at.map(() => 0),
    distance: Float64Array.from(at.flatMap((a) => at.map((b) => Math.hypot(a.x - b.x, a.y - b.y)))),
  };

  test.each(["a", "b", "c"])("one vehicle a town, nothing over its load (seed %s)", (seed) => {
    const result = routeVisits(full, { seed, maxIterations: 4_000, aim: "vehicles" });
    if (!result.ok) throw new Error("refused");
    const { routes, unserved } = result.value;
    expect(unserved).toEqual([]);
    expect(checkRoutes(full, routes).faults).toEqual([]);
    expect(routes.map((r) => [...r.stops].sort((a, b) => a - b)).sort((a, b) => a[0]! - b[0]!)).toEqual([
      [1, 2, 3],
      [4, 5],
      [6, 7, 8],
    ]);
  });

  test("too few vehicles: as many customers as may be are served, and no load is exceeded", () => {
    const short = { ...full, fleet: [{ ...full.fleet[0]!, count: 2 }] };
    const result = routeVisits(short, { seed: "a", maxIterations: 4_000, aim: "vehicles" });
    if (!result.ok) throw new Error("refused");
    const { routes, unserved } = result.value;
    expect(routes.length).toBe(2);
    // Two loads of 10 hold six of the eight: 1+2+2+5 or 1+2+3+4 and the like.
    expect(unserved.length).toBe(2);
    for (const r of routes)
      expect(r.stops.reduce((sum, v) => sum + full.demand[v]!, 0)).toBeLessThanOrEqual(10);
  });
});
