import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { DEFAULT_NORMS, type EndTask, estimateHours, WORK_CLASSES_BY_DEMAND } from "@/lib/hours";
import { segmentsOf } from "../../../lib/hours/segments";
import { CREW_OF_FOUR, endWork, standbyWork } from "./work";

function task(id: string, changes: Partial<EndTask>): EndTask {
  return {
    id,
    name: id,
    where: "ground",
    workClass: "ground",
    people: {},
    duration: { aMin: 1, mMin: 1, bMin: 1 },
    after: [],
    splittable: true,
    usesDropZone: false,
    source: "made up for the test",
    ...changes,
  };
}

const hoist = task("hoist", { where: "aloft", workClass: "hoist", splittable: false });
const aloft = task("aloft", { where: "aloft", workClass: "aloft" });
const indoor = task("indoor", { where: "indoor", workClass: "indoor" });

describe("segmentsOf", () => {
  it("asks for the most demanding class of what runs at once", () => {
    const segments = segmentsOf([indoor, aloft], [0, 20], [60, 20], 15);
    expect(segments.map((s) => [s.workClass, s.durationMin])).toEqual([
      ["indoor", 20],
      ["aloft", 20],
      ["indoor", 20],
    ]);
  });

  it("joins neighbours of one class that may pause, and charges a pause only aloft", () => {
    const segments = segmentsOf([aloft, { ...aloft, id: "more" }, indoor], [0, 70, 140], [70, 70, 30], 15);
    expect(segments).toEqual([
      { workClass: "aloft", durationMin: 140, splittable: true, pauseMin: 15 },
      { workClass: "indoor", durationMin: 30, splittable: true, pauseMin: undefined },
    ]);
  });

  it("may not pause inside a lift, but between two lifts that are long", () => {
    const segments = segmentsOf([hoist, { ...hoist, id: "second" }], [0, 40], [40, 40], 15);
    expect(segments.map((s) => [s.durationMin, s.splittable])).toEqual([
      [40, false],
      [40, false],
    ]);
  });

  it("keeps a dry spell in one piece from its first task to its last", () => {
    const open = { where: "aloft", workClass: "open connection", spell: "s", splittable: true } as const;
    const tasks = [task("connect", open), task("weatherproof", open), aloft];
    const segments = segmentsOf(tasks, [0, 70, 30], [20, 20, 30], 15);
    expect(segments.map((s) => [s.workClass, s.durationMin, s.splittable])).toEqual([
      ["open connection", 90, false],
    ]);
  });

  it("gives a short stretch to the neighbour with the stricter class, never the other way", () => {
    const segments = segmentsOf([aloft, indoor, { ...aloft, id: "more" }], [0, 40, 50], [40, 10, 40], 15);
    expect(segments).toHaveLength(1);
    expect(segments[0]).toMatchObject({ workClass: "aloft", durationMin: 90 });
  });

  it("adds up to the make-span and stays a few segments, for whole ends", () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 100 }), fc.boolean(), (heightM, isStandby) => {
        const make = isStandby ? standbyWork : endWork;
        const runs = isStandby ? 2 : 1;
        const e = estimateHours(
          make({ drivers: { maxMountHeightM: heightM, outdoorM: runs * (heightM + 8) } }),
          DEFAULT_NORMS,
          CREW_OF_FOUR,
          undefined,
          { budget: { nodes: 0, passes: 0 }, samples: 10 },
        );
        expect(e.segments.reduce((sum, s) => sum + s.durationMin, 0)).toBe(e.durationMin);
        expect(e.segments.length).toBeLessThanOrEqual(8 + 7 * e.ascents!);
        for (const s of e.segments) {
          expect(s.durationMin).toBeGreaterThan(0);
          expect(WORK_CLASSES_BY_DEMAND).toContain(s.workClass);
        }
      }),
      { numRuns: 25 },
    );
  });
});
