import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RouteSegment } from "@/lib/site";
import { DEFAULT_CATALOGUE, DEFAULT_POLICY, earthRun, type TakeoffLine } from "@/lib/takeoff";
import { indexCatalogue } from "@/lib/takeoff/catalogue";
import { checkLeads } from "@/lib/takeoff/earthing";
import { makeRoute } from "../../helpers/hop";

const earth = (route: readonly RouteSegment[], mountHeightM = 100, over = {}) =>
  earthRun(route, mountHeightM, { ...DEFAULT_POLICY, ...over });
const kinds = (route: readonly RouteSegment[], over = {}) =>
  earth(route, 100, over).points.map((p) => p.kind);

describe("earthRun", () => {
  it("earths near the ODU, at the foot and at the entry", () => {
    expect(earth(makeRoute(28, 8, 6), 30).points).toEqual([
      { kind: "near ODU", distanceM: 1, heightM: 29, movedM: 0 },
      { kind: "structure foot", distanceM: 27.7, heightM: 2.3, movedM: 0.3 }, // before the turn to the bridge
      { kind: "entry", distanceM: 35.7, heightM: 2, movedM: 0 },
    ]);
  });

  it("puts a third in the middle where there is no bridge", () => {
    const points = earth([{ kind: "vertical", lengthM: 20, bendAtEnd: false }], 22).points;
    expect(points.map((p) => p.kind)).toEqual(["near ODU", "middle", "entry"]);
    expect(points[1]?.distanceM).toBeCloseTo((1 + 19.7) / 2, 9);
  });

  it("is content with two on an outdoor run under 10 m, bridge or not, and has three from 10 m", () => {
    expect(kinds([{ kind: "vertical", lengthM: 9.9, bendAtEnd: false }])).toEqual(["near ODU", "entry"]);
    expect(kinds(makeRoute(6, 3.9, 4))).toEqual(["near ODU", "entry"]);
    expect(kinds([{ kind: "vertical", lengthM: 10, bendAtEnd: false }])).toHaveLength(3);
  });

  it("spreads intermediate points evenly where the spacing asks for them", () => {
    const { points, largestGapM } = earth(makeRoute(130, 8, 6), 132);
    expect(points.map((p) => p.kind)).toEqual([
      "near ODU",
      "intermediate",
      "intermediate",
      "structure foot",
      "entry",
    ]);
    expect(points[1]!.distanceM).toBeCloseTo(1 + 128.7 / 3, 6);
    expect(largestGapM).toBeLessThanOrEqual(60);
  });

  it("needs none between at exactly the spacing, one just beyond", () => {
    const vertical = (lengthM: number): RouteSegment[] => [
      { kind: "vertical", lengthM, bendAtEnd: false },
      { kind: "bridge", lengthM: 6, bendAtEnd: false },
    ];
    expect(kinds(vertical(61))).toEqual(["near ODU", "structure foot", "entry"]);
    expect(kinds(vertical(61.01))).toContain("intermediate");
  });

  it("moves a point along the run to clear a bend, and shows by how much", () => {
    const { points } = earth([
      { kind: "vertical", lengthM: 10.4, bendAtEnd: true },
      { kind: "tray", lengthM: 9.6, bendAtEnd: false },
    ]);
    const middle = points.find((p) => p.kind === "middle")!; // wanted at 10.35 m, 0.05 m before the bend
    expect(middle.distanceM).toBeCloseTo(10.1, 9);
    expect(middle.movedM).toBeCloseTo(0.25, 9);
  });

  it("keeps the foot before the turn to the bridge, also where the nearest clear place lies beyond it", () => {
    const { points } = earth([
      { kind: "vertical", lengthM: 19.8, bendAtEnd: true },
      { kind: "vertical", lengthM: 0.2, bendAtEnd: true },
      { kind: "bridge", lengthM: 10, bendAtEnd: false },
    ]);
    expect(points.find((p) => p.kind === "structure foot")).toMatchObject({ distanceM: 19.5, movedM: 0.5 });
  });

  it("adds a point where moving off a bend would leave too wide a gap", () => {
    const straight: RouteSegment[] = [{ kind: "vertical", lengthM: 121.3, bendAtEnd: false }];
    const bent: RouteSegment[] = [
      { kind: "vertical", lengthM: 61, bendAtEnd: true },
      { kind: "vertical", lengthM: 60.3, bendAtEnd: false },
    ];
    expect(earth(straight).points).toHaveLength(3); // 1 m, 61 m, 121 m: gaps of exactly 60 m
    expect(earth(bent).points).toHaveLength(4);
    expect(earth(bent).largestGapM).toBeLessThanOrEqual(60);
  });

  it("says which points stay near a bend when no place is clear", () => {
    const { points, nearBend } = earth([{ kind: "vertical", lengthM: 0.2, bendAtEnd: true }], 3);
    expect(points).toHaveLength(2);
    expect(nearBend.length).toBeGreaterThan(0);
  });

  it("leaves out the foot where the bridge is too short to have one of its own", () => {
    const { points } = earth([
      { kind: "vertical", lengthM: 20, bendAtEnd: false },
      { kind: "bridge", lengthM: 0.32, bendAtEnd: false },
    ]);
    expect(points.map((p) => p.kind)).toEqual(["near ODU", "middle", "entry"]);
  });

  it("has no point on a run without an outdoor part", () => {
    expect(earth([{ kind: "indoor", lengthM: 5, bendAtEnd: false }]).points).toEqual([]);
    expect(earth([]).points).toEqual([]);
  });

  it("follows a policy with more points", () => {
    expect(kinds(makeRoute(28, 8, 6), { minEarthingPoints: 5 })).toHaveLength(5);
  });

  const segment = fc.record({
    kind: fc.constantFrom("vertical" as const, "bridge" as const, "tray" as const),
    lengthM: fc.integer({ min: 20, max: 900 }).map((d) => d / 10),
    bendAtEnd: fc.boolean(),
  });

  it("never leaves a gap above the spacing, never stands within the clearance of a bend, stays in order", () => {
    fc.assert(
      fc.property(
        fc.array(segment, { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 15, max: 90 }),
        (route, spacingM) => {
          const { points, largestGapM, nearBend } = earth(route, 300, { maxEarthingSpacingM: spacingM });
          const outdoorM = route.reduce((sum, s) => sum + s.lengthM, 0);
          expect(largestGapM).toBeLessThanOrEqual(spacingM + 1e-6);
          expect(nearBend).toEqual([]); // segments of 2 m and more always leave a clear place
          expect(points.length).toBeGreaterThanOrEqual(outdoorM < 10 ? 2 : 3);
          const distances = points.map((p) => p.distanceM);
          expect(distances).toEqual([...distances].sort((a, b) => a - b));
          expect(new Set(distances).size).toBe(distances.length);
          expect(Math.min(...distances)).toBeGreaterThan(0);
          expect(Math.max(...distances)).toBeLessThanOrEqual(outdoorM);
        },
      ),
    );
  });
});

describe("checkLeads", () => {
  const index = indexCatalogue([
    ...DEFAULT_CATALOGUE,
    {
      ...DEFAULT_CATALOGUE.find((i) => i.code === "EL-16")!,
      code: "EL-10",
      attributes: { crossSectionMm2: 10 },
    },
    { ...DEFAULT_CATALOGUE.find((i) => i.code === "EL-16")!, code: "EL-X", attributes: {} },
  ]);
  const line = (itemCode: string) => ({ itemCode }) as TakeoffLine;

  it("fails a lead below the least section or of unknown section, and only leads", () => {
    const checks = checkLeads(
      [line("EL-10"), line("EL-X"), line("EL-16"), line("TIE-UV")],
      index,
      "near",
      DEFAULT_POLICY,
    );
    expect(checks.map((c) => [c.rule, c.state, c.figure, c.limit])).toEqual([
      ["earthing-section", "fail", 10, 16],
      ["earthing-section", "fail", undefined, 16],
    ]);
  });
});
