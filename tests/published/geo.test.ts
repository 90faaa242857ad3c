/** Great-circle distances against published pairs. */
import { describe, expect, it } from "vitest";
import { distanceKm } from "@/lib/geo";

const CODE_TASK = "multi-language code-task page for the haversine formula";
const TEACHING = "university teaching page, truncated";
const WILLIAMS = "E. Williams, Aviation Formulary (M), recomputed";
const RECOMPUTED = "haversine with the IUGG mean radius, recomputed";

const rows: {
  source: string;
  mark: string;
  a: [number, number];
  b: [number, number];
  radiusKm?: number;
  expected: number;
  tolerance: number;
}[] = [
  {
    source: CODE_TASK,
    mark: "V",
    a: [36.12, -86.67],
    b: [33.94, -118.4],
    radiusKm: 6371.0,
    expected: 2886.44444283799,
    tolerance: 1e-6,
  },
  {
    source: CODE_TASK,
    mark: "V",
    a: [36.12, -86.67],
    b: [33.94, -118.4],
    radiusKm: 6372.8,
    expected: 2887.25995060711,
    tolerance: 1e-6,
  },
  {
    source: RECOMPUTED,
    mark: "R",
    a: [36.12, -86.67],
    b: [33.94, -118.4],
    expected: 2886.4484,
    tolerance: 1e-3,
  },
  { source: TEACHING, mark: "V", a: [31.75, 35.25], b: [34, -118], expected: 12185, tolerance: 1 },
  {
    source: WILLIAMS,
    mark: "M + R",
    a: [33.95, -118.4],
    b: [40 + 38 / 60, -(73 + 47 / 60)],
    radiusKm: 1,
    expected: 0.623585,
    tolerance: 1e-6,
  },
  {
    source: RECOMPUTED,
    mark: "R",
    a: [40.7128, -74.006],
    b: [51.5074, -0.1278],
    expected: 5570.2299,
    tolerance: 1e-3,
  },
  { source: RECOMPUTED, mark: "R", a: [0, 0], b: [1, 0], expected: 111.1951, tolerance: 1e-3 },
  { source: RECOMPUTED, mark: "R", a: [0, 0], b: [0, 180], expected: 20015.1144, tolerance: 1e-3 },
  { source: RECOMPUTED, mark: "R", a: [60, 10], b: [60.01, 10.02], expected: 1.5724, tolerance: 1e-4 },
];

describe("distanceKm", () => {
  it.each(rows)("$a to $b: $expected ($source)", (row) => {
    const at = ([latDeg, lonDeg]: [number, number]) => ({ latDeg, lonDeg });
    const km = distanceKm(at(row.a), at(row.b), row.radiusKm);
    expect(Math.abs(km - row.expected), `${row.source} (${row.mark})`).toBeLessThanOrEqual(row.tolerance);
  });
});
