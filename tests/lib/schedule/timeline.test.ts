import { describe, expect, test } from "vitest";
import { judge } from "@/lib/schedule";
import { placeOf, solved, when } from "./plans";
import { alignment, crew, FULL_DAY, hours, step, tiny, visit, window } from "./tiny";

const legal = (problem: Parameters<typeof solved>[0], maxIterations?: number) => {
  const plan = solved(problem, maxIterations);
  expect(judge(problem, plan)).toEqual([]);
  return plan;
};

describe("one crew's day", () => {
  test("starts after the way and the set-up: 07:00 + 60 min + 30 min", () => {
    const plan = legal(tiny({ visits: [visit()] }));
    expect(when(placeOf(plan, 0))).toBe("0 08:30 - 0 10:30");
    expect(plan.cost).toMatchObject({
      crewDays: 1,
      travelKm: 120,
      travelMin: 120,
      overtimeMin: 0,
      unplacedVisits: 0,
    });
  });

  test("pays the set-up of a site once a day", () => {
    const plan = legal(tiny({ visits: [visit(), visit({ segments: [step(60)], after: [0] })] }));
    expect([when(placeOf(plan, 0)), when(placeOf(plan, 1))]).toEqual([
      "0 08:30 - 0 10:30",
      "0 10:30 - 0 11:30",
    ]);
  });

  test("pays the rest when the second visit on a site asks for a longer set-up", () => {
    const problem = tiny({ visits: [visit(), visit({ setupMin: 45, after: [0] })] });
    expect(when(placeOf(legal(problem), 1))).toBe("0 10:45 - 0 12:45");
  });

  test("waits until the site opens, then sets up", () => {
    const access = Array.from({ length: 7 }, () => ({ fromMin: 600, toMin: 900 }));
    expect(when(placeOf(legal(tiny({ visits: [visit({ access })] })), 0))).toBe("0 10:30 - 0 12:30");
  });

  test("pauses splittable work over closed hours and uses parts of hours", () => {
    // Open 08-09 and 11-13: 30 min before the gap, 90 min after it.
    const windows = [window(5, { open: () => hours(8, 9) | hours(11, 13) })];
    expect(when(placeOf(legal(tiny({ windows, visits: [visit()] })), 0))).toBe("0 08:30 - 0 12:30");
  });

  test("waits for an unbroken stretch when work may not pause", () => {
    const windows = [window(5, { open: () => hours(8, 9) | hours(11, 15) })];
    const segments = [step(120, { splittable: false })];
    expect(when(placeOf(legal(tiny({ windows, visits: [visit({ segments })] })), 0))).toBe(
      "0 11:00 - 0 13:00",
    );
  });

  test("multiplies the work by the crew's pace and the day's stretch", () => {
    const windows = [window(5, { stretch: () => 1.5 })];
    const problem = tiny({ windows, crews: [crew({ pace: 0.8 })], visits: [visit()] });
    expect(when(placeOf(legal(problem), 0))).toBe("0 08:30 - 0 10:54"); // 120 x 0.8 x 1.5 = 144 min
  });

  test("ends a visit in overtime rather than on a second day when the limit allows it", () => {
    // 08:30 + 480 = 16:30, home 17:30: 30 of 60 min of overtime.
    const plan = legal(tiny({ visits: [visit({ segments: [step(480)] })] }));
    expect(when(placeOf(plan, 0))).toBe("0 08:30 - 0 16:30");
    expect(plan.cost.overtimeMin).toBe(30);
  });

  test("goes on the next working day: work until the crew must drive home, set up again", () => {
    // Day 0: 08:30 to 16:00 = 450 min, home at 17:00. Day 1: 08:30, 150 min left.
    const plan = legal(tiny({ visits: [visit({ segments: [step(600)] })] }));
    expect(when(placeOf(plan, 0))).toBe("0 08:30 - 1 11:00");
    expect(plan.cost).toMatchObject({ crewDays: 2, travelKm: 240, overtimeMin: 0 });
  });

  test("blocks the days between and goes over the weekend", () => {
    const dayCount = 9;
    const days = Array.from({ length: dayCount }, (_, d) => (d === 5 || d === 6 ? null : FULL_DAY));
    const problem = tiny({
      dayCount,
      crews: [crew({ days })],
      windows: [window(dayCount)],
      visits: [visit({ releaseDay: 4, segments: [step(600)] })],
    });
    expect(when(placeOf(legal(problem), 0))).toBe("4 08:30 - 7 11:00");
  });

  test("loses a day without a workable hour, and still holds the crew on it", () => {
    const windows = [window(3, { open: (d) => (d === 1 ? 0 : 0xffffff) })];
    const plan = legal(tiny({ dayCount: 3, windows, visits: [visit({ segments: [step(600)] })] }));
    expect(when(placeOf(plan, 0))).toBe("0 08:30 - 2 11:00");
    expect(plan.cost).toMatchObject({ crewDays: 3, travelKm: 240 });
  });

  test("sleeps near the site when that is cheaper than the way home and out", () => {
    // 180 min out: home and out again would cost 2 x (90 + 54) = 288, a night 90.
    const problem = tiny({
      road: [0, 180],
      crews: [crew({ nightsAwayMax: 2 })],
      visits: [visit({ segments: [step(600)] })],
    });
    const plan = legal(problem);
    // Day 0: 10:30 to 17:00 = 390 min; day 1 from 07:00 with set-up: 07:30, 210 min.
    expect(when(placeOf(plan, 0))).toBe("0 10:30 - 1 11:00");
    expect(plan.nights).toEqual([{ crew: 0, day: 0, place: 1 }]);
    expect(plan.cost).toMatchObject({ nightsAway: 1, travelKm: 360 });
  });

  test("goes home when no night away is allowed", () => {
    const problem = tiny({ road: [0, 180], visits: [visit({ segments: [step(300)] })] });
    const plan = legal(problem);
    expect(plan.nights).toEqual([]);
    // 10:30 to 14:00 on two days is 420 min; 14:00 + 60 min of overtime would not be enough for 300 on one.
    expect(when(placeOf(plan, 0))).toBe("0 10:30 - 1 12:00");
  });
});

describe("joint work", () => {
  const twoCrews = [crew({ code: "C1" }), crew({ code: "C2" })];

  test("starts in the same minute with two crews and lasts as long for both", () => {
    // Places at 30 and 90: the farther crew arrives at 08:30, sets up 20 min.
    const plan = legal(tiny({ road: [0, 30, 90], crews: twoCrews, visits: alignment(0, 1, 2) }));
    expect([when(placeOf(plan, 0)), when(placeOf(plan, 1))]).toEqual([
      "0 08:50 - 0 09:50",
      "0 08:50 - 0 09:50",
    ]);
    expect(placeOf(plan, 0).crew).not.toBe(placeOf(plan, 1).crew);
  });

  test("takes an hour that is open at both ends", () => {
    const windows = [window(5, { open: () => hours(8, 12) }), window(5, { open: () => hours(11, 16) })];
    const [near, far] = alignment(0, 1, 2);
    const visits = [near!, { ...far!, window: 1 }];
    const plan = legal(tiny({ road: [0, 30, 90], crews: twoCrews, windows, visits }));
    expect(when(placeOf(plan, 0))).toBe("0 11:00 - 0 12:00");
  });

  test("lasts as long as the slower crew needs", () => {
    const crews = [crew({ code: "C1", pace: 1.5 }), crew({ code: "C2" })];
    const plan = legal(tiny({ road: [0, 30, 90], crews, visits: alignment(0, 1, 2) }));
    const end = placeOf(plan, 0).endMin - placeOf(plan, 0).startMin;
    expect(end).toBe(90);
    expect(placeOf(plan, 1).endMin).toBe(placeOf(plan, 0).endMin);
  });

  test("follows both installs, the same afternoon where both crews are done", () => {
    const visits = [
      visit({ label: "near", place: 1 }),
      visit({ label: "far", place: 2, segments: [step(200)] }),
      ...alignment(2, 1, 2, [0, 1]),
    ];
    // A low price of later finishes, so that the two installs go to two crews.
    const weights = { finishDay: 1 };
    // One crew for both installs differs by the balance alone, hence the many iterations.
    const plan = legal(tiny({ road: [0, 30, 90], crews: twoCrews, visits, weights }), 1000);
    // The far install ends at 09:00 + 200 min = 12:20; both crews are on site with their set-up paid.
    expect(when(placeOf(plan, 2))).toBe("0 12:20 - 0 13:20");
    expect(plan.cost).toMatchObject({ crewDays: 2, openEndDays: 0 });
  });

  test("has no place with a single crew, and says so", () => {
    const plan = solved(tiny({ road: [0, 30, 90], visits: alignment(0, 1, 2) }));
    expect(plan.unplaced.map((x) => x.rule)).toEqual(["together", "together"]);
    expect(plan.unplaced[0]!.detail).toContain("alignment far");
  });
});
