/** Each hard rule on a problem in which it is the one that decides, by hand. */
import { describe, expect, test } from "vitest";
import { judge, type ScheduleProblem } from "@/lib/schedule";
import { placeOf, solved, when } from "./plans";
import { alignment, crew, FULL_DAY, hours, step, tiny, visit, window } from "./tiny";

function legal(problem: ScheduleProblem) {
  const plan = solved(problem);
  expect(judge(problem, plan)).toEqual([]);
  return plan;
}
const one = (over: Parameters<typeof visit>[0], more: Parameters<typeof tiny>[0] = {}) =>
  tiny({ visits: [visit(over)], ...more });

describe("hard rules", () => {
  test("gate and kit: nothing starts before both dates", () => {
    expect(when(placeOf(legal(one({ releaseDay: 1, kitReadyDay: 3 })), 0))).toBe("3 08:30 - 3 10:30");
  });

  test("a gate after the plan's end leaves the visit out", () => {
    const plan = legal(one({ releaseDay: 9 }));
    expect(plan.unplaced).toHaveLength(1);
  });

  test("notice: the first day that can still be told", () => {
    expect(placeOf(legal(one({ noticeDays: 2 })), 0).startDay).toBe(2);
  });

  test("notice: a day in force was told already", () => {
    const inForce = [{ visit: 0, crew: 0, startDay: 1, startMin: 510, endDay: 1, endMin: 630 }];
    expect(placeOf(legal(one({ noticeDays: 3 }, { inForce })), 0).startDay).toBe(1);
  });

  test("access: closed weekdays are passed over", () => {
    const access = [null, null, ...Array(5).fill({ fromMin: 0, toMin: 1440 })];
    expect(placeOf(legal(one({ access })), 0).startDay).toBe(2);
  });

  test("access: work that does not fit before closing moves on or stays out", () => {
    const access = Array(7).fill({ fromMin: 600, toMin: 700 });
    const plan = legal(one({ access, segments: [step(120, { splittable: false })] }));
    expect(plan.unplaced.map((x) => x.rule)).toEqual(["access"]);
    expect(plan.unplaced[0]!.detail).toContain("the site open all day");
  });

  test("people: the first day on which the technician is there", () => {
    const without = { ...FULL_DAY, technicians: 0 };
    const needs = { climbers: 0, rescuers: 0, riggers: 0, technicians: 1, people: 1 };
    const crews = [crew({ days: [without, without, FULL_DAY, FULL_DAY, FULL_DAY] })];
    expect(placeOf(legal(one({ needs }, { crews })), 0).startDay).toBe(2);
  });

  test("weather: the first day with open hours", () => {
    const windows = [window(5, { open: (d) => (d < 3 ? 0 : hours(7, 17)) })];
    expect(placeOf(legal(one({}, { windows })), 0).startDay).toBe(3);
  });

  test("shift: work that may not pause and is longer than a day stays out", () => {
    const plan = legal(one({ segments: [step(600, { splittable: false })] }));
    expect(plan.unplaced.map((x) => x.rule)).toEqual(["shift"]);
  });

  test("weekly hours: the second long day waits for the next week", () => {
    const dayCount = 10;
    const problem = tiny({
      dayCount,
      crews: [crew({ dayCount, weeklyMaxMin: 700 })],
      windows: [window(dayCount)],
      visits: [visit({ segments: [step(400)] }), visit({ segments: [step(400)] })],
    });
    const days = legal(problem).placed.map((x) => x.startDay);
    expect(Math.floor(days[0]! / 7)).not.toBe(Math.floor(days[1]! / 7));
  });

  test("rest: overtime ends where the rest must begin", () => {
    // 08:30 + 480 = 16:30, home 17:30; 14 h of rest would end at 07:30: it goes on the next day instead.
    const open = { fromMin: 0, toMin: 1440 };
    const access = [open, open, null, null, null, null, null]; // the last day has no shift behind it: not offered
    const problem = one({ access, segments: [step(480)] }, { crews: [crew({ restMin: 840 })] });
    expect(when(placeOf(legal(problem), 0))).toBe("0 08:30 - 1 09:00");
  });

  test("nights away: no more in a row than allowed", () => {
    const problem = one(
      { segments: [step(1500)] },
      {
        road: [0, 180],
        dayCount: 12,
        crews: [crew({ dayCount: 12, nightsAwayMax: 2 })],
        windows: [window(12)],
      },
    );
    const plan = legal(problem);
    const nights = plan.nights!.map((x) => x.day);
    expect(nights.length).toBeGreaterThan(0);
    for (const d of nights) expect([d + 1, d + 2].every((e) => nights.includes(e))).toBe(false);
  });

  test("payload: kits that do not fit together go on two days", () => {
    const small = { segments: [step(60)], loadKg: 60 };
    const problem = tiny({ crews: [crew({ payloadKg: 100 })], visits: [visit(small), visit(small)] });
    const plan = legal(problem);
    expect(new Set(plan.placed.map((x) => x.startDay)).size).toBe(2);
  });

  test("site lock: two crews follow each other on a site", () => {
    const work = { segments: [step(300)], releaseDay: 0 };
    const crews = [crew({ code: "C1" }), crew({ code: "C2" })];
    const locked = tiny({
      dayCount: 1,
      crews: crews.map((c) => ({ ...c, days: [FULL_DAY] })),
      windows: [window(1)],
      visits: [visit(work), visit(work)],
    });
    expect(legal(locked).placed).toHaveLength(1);
    const free = { ...locked, visits: locked.visits.map((v) => ({ ...v, siteLock: false })) };
    expect(legal(free).placed).toHaveLength(2);
  });

  test("order: across crews the second waits for the first", () => {
    const needs = { climbers: 0, rescuers: 0, riggers: 0, technicians: 1, people: 1 }; // only the second crew has one
    const problem = tiny({
      road: [0, 60, 60],
      dayCount: 1,
      crews: [
        crew({ days: [{ ...FULL_DAY, technicians: 0 }] }),
        crew({ days: [{ ...FULL_DAY, climbers: 0 }] }),
      ],
      windows: [window(1)],
      visits: [
        visit({ segments: [step(200)] }),
        visit({ place: 2, segments: [step(200)], after: [0], needs }),
      ],
    });
    const plan = legal(problem);
    expect(when(placeOf(plan, 1))).toBe("0 11:50 - 0 15:10");
  });

  test("order: what waits for an unplaced visit is unplaced by its name", () => {
    const problem = tiny({
      visits: [visit({ label: "near install", releaseDay: 99 }), visit({ label: "acceptance", after: [0] })],
    });
    const plan = legal(problem);
    expect(plan.unplaced[1]).toMatchObject({ visit: 1, rule: "waits for near install" });
  });

  test("blocked visits are listed with their reason and never tried", () => {
    const plan = legal(one({ blockedBy: "structure approval is open" }));
    expect(plan.unplaced).toEqual([{ visit: 0, rule: "gate", detail: "structure approval is open" }]);
  });

  test("together: one end pinned, the other comes to its minute", () => {
    const crews = [crew({ code: "C1" }), crew({ code: "C2" })];
    const pinned = [{ visit: 0, crew: 0, startDay: 2, startMin: 600, endDay: 2, endMin: 660 }];
    const problem = tiny({ road: [0, 30, 90], crews, visits: alignment(0, 1, 2), pinned });
    const plan = legal(problem);
    expect(when(placeOf(plan, 1))).toBe("2 10:00 - 2 11:00");
    expect(placeOf(plan, 1).crew).toBe(1);
  });

  test("kept: pinned visits stay to the minute, other work goes around them", () => {
    const pinned = [{ visit: 0, crew: 0, startDay: 0, startMin: 700, endDay: 0, endMin: 820 }];
    const problem = tiny({ visits: [visit(), visit({ segments: [step(100)] })], pinned });
    const plan = legal(problem);
    expect(placeOf(plan, 0)).toEqual(pinned[0]);
    expect(when(placeOf(plan, 1))).toBe("0 08:30 - 0 10:10");
  });

  test("kept: nothing new enters the frozen days", () => {
    const inForce = [{ visit: 0, crew: 0, startDay: 0, startMin: 510, endDay: 0, endMin: 630 }];
    const problem = tiny({ visits: [visit(), visit()], inForce, frozenUntilDay: 2 });
    const plan = legal(problem);
    expect(placeOf(plan, 0)).toEqual(inForce[0]);
    expect(placeOf(plan, 1).startDay).toBe(2);
  });

  test("kept: a pin that breaks a rule stays, and the judge tells", () => {
    const pinned = [{ visit: 0, crew: 0, startDay: 0, startMin: 510, endDay: 0, endMin: 630 }];
    const problem = one({ kitReadyDay: 3 }, { pinned });
    const plan = solved(problem);
    expect(placeOf(plan, 0)).toEqual(pinned[0]);
    expect(judge(problem, plan).map((x) => x.rule)).toEqual(["kit"]);
  });
});
