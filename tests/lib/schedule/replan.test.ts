import { describe, expect, test } from "vitest";
import { judge, type ScheduleProblem } from "@/lib/schedule";
import { DEMO_SIZE, syntheticProgramme } from "@/seed/syntheticProgramme";
import { placeOf, solved } from "./plans";
import { tiny, visit, window } from "./tiny";

describe("planning on from a plan in force", () => {
  test("with nothing changed next to nothing moves", () => {
    const problem = syntheticProgramme({ ...DEMO_SIZE, sites: 24, hops: 16, crews: 3, weeks: 6 });
    const before = solved(problem, 1500);
    const after = solved({ ...problem, inForce: before.placed }, 300);
    expect(after.cost.movedVisits).toBeLessThanOrEqual(0.05 * before.placed.length);
    expect(after.cost.total).toBeLessThanOrEqual(before.cost.total + 1e-6);
  });

  test("after a day of bad weather few of the visits whose old slot is still legal move", () => {
    const problem = syntheticProgramme({ ...DEMO_SIZE, sites: 24, hops: 16, crews: 3, weeks: 6 });
    const before = solved(problem, 1500);
    const stormDay = 3;
    const changed: ScheduleProblem = {
      ...problem,
      inForce: before.placed,
      frozenUntilDay: 1,
      windows: problem.windows.map((w) => ({
        ...w,
        masks: w.masks.map((mask, i) =>
          i % problem.dayCount === stormDay && Math.floor(i / problem.dayCount) !== 5 ? 0 : mask,
        ),
      })),
    };
    const after = solved(changed, 300);
    expect(judge(changed, after)).toEqual([]);
    const onStorm = (x: { startDay: number; endDay: number }) =>
      x.startDay <= stormDay && stormDay <= x.endDay;
    const stillLegal = before.placed.filter((x) => !onStorm(x));
    const moved = stillLegal.filter((x) => {
      const now = after.placed.find((y) => y.visit === x.visit);
      return now === undefined || now.crew !== x.crew || now.startDay !== x.startDay;
    });
    expect(moved.length / stillLegal.length).toBeLessThanOrEqual(0.05);
    for (const x of before.placed.filter((y) => y.startDay < 1)) expect(placeOf(after, x.visit)).toEqual(x);
  });

  test("a visit whose slot is lost is placed anew", () => {
    const problem = tiny({ visits: [visit()] });
    const inForce = solved(problem).placed;
    const windows = [window(5, { open: (d) => (d === 0 ? 0 : 0xffffff) })];
    const after = solved({ ...problem, windows, inForce });
    expect(placeOf(after, 0).startDay).toBe(1);
    expect(after.cost).toMatchObject({ movedVisits: 1, movedDays: 1 });
  });
});
