/**
 * Cases with known optima. TSPLIB GEO: 3323 and 6859 are the published best values, confirmed by exact dynamic
 * programming (V; distance function from memory, confirmed by both). The time-window case is constructed, its optimum
 * by exhaustive search (C).
 */
import { describe, expect, test } from "vitest";
import {
  judge,
  type RoutingCase,
  routeVisits,
  type ScheduleProblem,
  schedule,
  type VehicleKind,
} from "@/lib/schedule";
import { checkRoutes } from "../bench/routeChecker";
import { crew, FULL_DAY, step, tiny, visit, window } from "../lib/schedule/tiny";

/** TSPLIB's GEO distance: degrees.minutes to radians with its own pi and radius, truncated after adding 1. */
function geoDistance(
  [latA, lonA]: readonly [number, number],
  [latB, lonB]: readonly [number, number],
): number {
  // biome-ignore lint/suspicious/noApproximativeNumericConstant: TSPLIB defines it with this value
  const rad = (x: number) => (3.141592 * (Math.trunc(x) + (5 * (x - Math.trunc(x))) / 3)) / 180;
  const q1 = Math.cos(rad(lonA) - rad(lonB));
  const q2 = Math.cos(rad(latA) - rad(latB));
  const q3 = Math.cos(rad(latA) + rad(latB));
  return Math.trunc(6378.388 * Math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1);
}

const alike = (count: number): VehicleKind => ({
  count,
  depot: 0,
  capacity: Number.POSITIVE_INFINITY,
  longest: Number.POSITIVE_INFINITY,
});

/** One vehicle, no windows, no load: the travelling salesman from the first city. */
function salesman(name: string, cities: readonly (readonly [number, number])[]): RoutingCase {
  const each = (value: number) => cities.map(() => value);
  return {
    name,
    depots: 1,
    fleet: [alike(1)],
    demand: each(0),
    ready: each(0),
    due: each(Number.POSITIVE_INFINITY),
    service: each(0),
    distance: Float64Array.from(cities.flatMap((a) => cities.map((b) => (a === b ? 0 : geoDistance(a, b))))),
  };
}

const BURMA14 = [
  [16.47, 96.1],
  [16.47, 94.44],
  [20.09, 92.54],
  [22.39, 93.37],
  [25.23, 97.24],
  [22.0, 96.05],
  [20.47, 97.02],
  [17.2, 96.29],
  [16.3, 97.38],
  [14.05, 98.12],
  [16.53, 97.38],
  [21.52, 95.59],
  [19.41, 97.13],
  [20.09, 94.55],
] as const;
const ULYSSES16 = [
  [38.24, 20.42],
  [39.57, 26.15],
  [40.56, 25.32],
  [36.26, 23.12],
  [33.48, 10.54],
  [37.56, 12.19],
  [38.42, 13.11],
  [37.52, 20.44],
  [41.23, 9.1],
  [41.17, 13.05],
  [36.08, -5.21],
  [38.47, 15.13],
  [38.15, 15.35],
  [37.51, 15.17],
  [35.49, 14.32],
  [39.36, 19.56],
] as const;

const SALESMEN = [
  { source: "TSPLIB burma14", mark: "V", inputs: BURMA14, expected: 3323, tolerance: 0, d12: 153, d13: 510 },
  {
    source: "TSPLIB ulysses16",
    mark: "V",
    inputs: ULYSSES16,
    expected: 6859,
    tolerance: 0,
    d12: 509,
    d13: 501,
  },
];

describe("published tours", () => {
  test.each(SALESMEN)(
    "$source ($mark): length $expected",
    ({ source, inputs, expected, tolerance, d12, d13 }) => {
      expect([geoDistance(inputs[0]!, inputs[1]!), geoDistance(inputs[0]!, inputs[2]!)], source).toEqual([
        d12,
        d13,
      ]);
      const problem = salesman(source, inputs);
      const plan = routeVisits(problem, { seed: "published", maxIterations: 3000 });
      if (!plan.ok) throw new Error("refused");
      const checked = checkRoutes(problem, plan.value.routes);
      expect(checked.faults, source).toEqual([]);
      expect(Math.abs(checked.distance - expected), source).toBeLessThanOrEqual(tolerance);
      expect(plan.value.distance, source).toBe(checked.distance);
    },
  );
});

/** Manhattan distances, speed 1, service 2, depot without a deadline; x, y, ready, due. */
const WINDOWS = {
  source: "constructed case of five customers, exhaustive",
  mark: "C",
  rows: [
    [0, 0, 0, Number.POSITIVE_INFINITY],
    [2, 4, 4, 10],
    [5, 1, 6, 14],
    [-3, 2, 0, 9],
    [-4, -2, 8, 20],
    [1, -5, 15, 30],
  ] as const,
};

function windowCase(vehicles: number): RoutingCase {
  const { rows } = WINDOWS;
  return {
    name: WINDOWS.source,
    depots: 1,
    fleet: [alike(vehicles)],
    demand: rows.map(() => 0),
    ready: rows.map((r) => r[2]),
    due: rows.map((r) => r[3]),
    service: rows.map((_, i) => (i === 0 ? 0 : 2)),
    distance: Float64Array.from(
      rows.flatMap((a) => rows.map((b) => Math.abs(a[0] - b[0]) + Math.abs(a[1] - b[1]))),
    ),
  };
}

describe(`${WINDOWS.source} (${WINDOWS.mark})`, () => {
  test("two vehicles: 42, by the routes 1-2 and 3-4-5", () => {
    const plan = routeVisits(windowCase(2), { seed: "x", maxIterations: 500 });
    if (!plan.ok) throw new Error("refused");
    expect(plan.value.distance, WINDOWS.source).toBe(42);
    expect(
      plan.value.routes.map((route) => route.stops).sort((a, b) => a[0]! - b[0]!),
      WINDOWS.source,
    ).toEqual([
      [1, 2],
      [3, 4, 5],
    ]);
    expect(checkRoutes(windowCase(2), plan.value.routes).faults).toEqual([]);
  });

  test("a third vehicle does not make it shorter: exactly three would cost 46", () => {
    const plan = routeVisits(windowCase(3), { seed: "x", maxIterations: 500 });
    expect(plan.ok && plan.value.distance, WINDOWS.source).toBe(42);
  });

  test("one vehicle cannot serve all", () => {
    const plan = routeVisits(windowCase(1), { seed: "x", maxIterations: 500 });
    expect(plan.ok && plan.value.unserved.length, WINDOWS.source).toBeGreaterThan(0);
  });

  test("the crew engine finds the same two days out: one day, crews alike, windows as access hours", () => {
    const MINUTE = 10; // a unit of the case in minutes: the day then holds it
    const rows = WINDOWS.rows.slice(1);
    const week = (ready: number, due: number) =>
      Array.from({ length: 7 }, () => ({ fromMin: ready * MINUTE, toMin: (due + 2) * MINUTE }));
    const day = { ...FULL_DAY, fromMin: 0, toMin: 1440 };
    const problem: ScheduleProblem = tiny({
      dayCount: 1,
      crews: [1, 2, 3].map((i) => crew({ code: `C${i}`, days: [day], overtimeMaxMin: 0 })),
      hops: rows.map((_, i) => ({ id: `h${i}`, code: `H${i}`, weight: 1 })),
      road: WINDOWS.rows.map(() => 0),
      windows: [window(1)],
      visits: rows.map((r, i) =>
        visit({
          label: `customer ${i + 1}`,
          hop: i,
          place: i + 1,
          setupMin: 0,
          segments: [step(2 * MINUTE, { splittable: false })],
          access: week(r[2], r[3]),
        }),
      ),
      weights: { crewDay: 0, travelMin: 0, travelKm: 1, overtimeMin: 0, imbalanceMin: 0 },
    });
    const units = windowCase(1).distance;
    const result = schedule(
      {
        ...problem,
        travelKm: Float32Array.from(units),
        travelMin: Float32Array.from(units, (d) => d * MINUTE),
      },
      { seed: "x", maxIterations: 800 },
    );
    if (!result.ok) throw new Error(JSON.stringify(result.problems));
    expect(result.value.unplaced).toEqual([]);
    expect(result.value.cost.travelKm, WINDOWS.source).toBe(42);
    expect(
      judge(
        {
          ...problem,
          travelKm: Float32Array.from(units),
          travelMin: Float32Array.from(units, (d) => d * MINUTE),
        },
        result.value,
      ),
    ).toEqual([]);
  });
});
