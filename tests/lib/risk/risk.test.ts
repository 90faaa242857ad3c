import { describe, expect, test } from "vitest";
import { normalCdf } from "@/lib/hours";
import { gapAfter, simulatePlan } from "@/lib/risk";
import type { CrewDay, PlacedVisit, PlanVisit } from "@/lib/schedule";
import { LIMITING_FACTORS } from "@/lib/weather";
import { crew, FULL_DAY, hours, step, tiny, visit, window } from "../schedule/tiny";
import { always, at, EXACT, normalRange, plainYears, riskInput, table } from "./make";

/** A crew that works round the clock where it lives: time runs without gaps. */
const ROUND: CrewDay = { ...FULL_DAY, fromMin: 0, toMin: 1440 };
const roundTheClock = (crews: number, dayCount: number, visits: PlanVisit[]) =>
  tiny({
    dayCount,
    road: [0],
    crews: Array.from({ length: crews }, () =>
      crew({ days: Array.from({ length: dayCount }, () => ROUND), overtimeMaxMin: 0, restMin: 0 }),
    ),
    visits,
    windows: [window(dayCount)],
  });
const plain = (min: number, over: Partial<PlanVisit> = {}) =>
  visit({ place: 0, setupMin: 0, siteLock: false, segments: [step(min)], ...over });

describe("against closed forms", () => {
  test("a serial chain ends as the sum of normal times does", () => {
    // Source: sum of independent normal variables; P80 is 0.8416 standard deviations above the mean (tables).
    const [n, min, sd] = [16, 150, 0.12];
    const problem = roundTheClock(
      1,
      5,
      Array.from({ length: n }, () => plain(min)),
    );
    const placed = problem.visits.map((_, v) => at(v, 0, 0, v));
    const { programme } = simulatePlan(
      riskInput(problem, placed, { ranges: problem.visits.map(() => normalRange(sd)) }),
      { seed: "chain", runs: 20_000 },
    );
    // A step is rounded up to whole minutes: half a minute in the mean.
    const mean = n * (min + 0.5);
    const deviation = Math.sqrt(n) * min * sd;
    expect(programme!.p50Min!).toBeGreaterThan(mean - 2);
    expect(programme!.p50Min!).toBeLessThan(mean + 2);
    expect(programme!.p80Min! - (mean + 0.8416 * deviation)).toBeGreaterThan(-3);
    expect(programme!.p80Min! - (mean + 0.8416 * deviation)).toBeLessThan(3);
    expect(programme!.p10Min! - (mean - 1.2816 * deviation)).toBeGreaterThan(-3);
    expect(programme!.p10Min! - (mean - 1.2816 * deviation)).toBeLessThan(3);
  });

  test("two ends side by side end as the later of two normal times does", () => {
    // P(both ended by x) = F1(x) F2(x), solved for x by halving: no simulation in it.
    const ends = [
      { mean: 1000, sd: 0.1 },
      { mean: 950, sd: 0.2 },
    ];
    const problem = roundTheClock(
      2,
      3,
      ends.map((e) => plain(e.mean)),
    );
    const { programme } = simulatePlan(
      riskInput(problem, [at(0, 0, 0), at(1, 1, 0)], { ranges: ends.map((e) => normalRange(e.sd)) }),
      { seed: "ends", runs: 20_000 },
    );
    const quantile = (p: number) => {
      let [low, high] = [0, 3000];
      while (high - low > 0.01) {
        const x = (low + high) / 2;
        const both = ends.reduce((f, e) => f * normalCdf((x - e.mean - 0.5) / (e.mean * e.sd)), 1);
        if (both < p) low = x;
        else high = x;
      }
      return low;
    };
    for (const [p, got] of [
      [0.5, programme!.p50Min!],
      [0.8, programme!.p80Min!],
      [0.9, programme!.p90Min!],
    ] as const)
      expect(Math.abs(got - quantile(p)), `P${100 * p}: ${got} against ${quantile(p)}`).toBeLessThan(5);
    // Alone the longer end would end at 1084 in four cases of five: the maximum is later.
    expect(quantile(0.8)).toBeGreaterThan(1000 + 0.8416 * 100 + 10);
  });
});

/** docs/methods/risk.md, "Worked example": one crew, three past years, two visits. */
describe("worked example", () => {
  const open = [
    [hours(0, 24), hours(0, 24), hours(0, 24)],
    [hours(0, 10), hours(0, 24), hours(0, 24)],
    [0, 0, hours(0, 24)],
  ];
  const problem = tiny({
    dayCount: 3,
    road: [0, 60, 90],
    crews: [crew({ dayCount: 3, overtimeMaxMin: 0 })],
    hops: [{ id: "h", code: "H1", weight: 1, promiseDay: 1 }],
    visits: [
      visit({ label: "A", place: 1, segments: [step(240)] }),
      visit({ label: "B", place: 2, segments: [step(180)], kitReadyDay: 1 }),
    ],
    windows: [window(3)],
  });
  const placed: PlacedVisit[] = [
    { visit: 0, crew: 0, startDay: 0, startMin: 510, endDay: 0, endMin: 750 },
    { visit: 1, crew: 0, startDay: 1, startMin: 540, endDay: 1, endMin: 720 },
  ];
  const input = riskInput(problem, placed, {
    kits: [undefined, { startDay: 1, item: "DISH-06" }],
    weather: [{ forecastDays: 0, past: table(open.flat()) }],
    past: plainYears(3, 3),
  });
  const risk = simulatePlan(input, { seed: "example", runs: 3000 });

  test("finish, promise and what it hangs on", () => {
    // Year 1: A 8:30 to 12:30; B on day 1 9:00 to 12:00. Year 2: A has 90 of its 240 minutes by 10:00, goes on on
    // day 1 from 8:30 for 150 minutes to 11:00, then 30 min to B, set-up 30: 12:00 to 15:00. Year 3: nothing on
    // days 0 and 1; A on day 2 8:30 to 12:30, B 13:30 to 15:30 (home by 17:00 means off the site by 15:30): not ended.
    const { programme } = risk;
    expect(programme).toMatchObject({
      plannedMin: 1440 + 720,
      p10Min: 1440 + 720,
      p50Min: 1440 + 900,
      p80Min: undefined,
    });
    expect(programme!.unfinishedShare).toBeCloseTo(1 / 3, 9);
    expect(risk.hops[0]!.promiseMetShare).toBeCloseTo(2 / 3, 9);
    expect(risk.allPromisesMetShare).toBeCloseTo(2 / 3, 9);
    expect(risk.weathers).toBe(3);
    expect(risk.runs).toBe(3000);
    // B's crew comes from A on the day before, so A is on the chain in every run and B's kit binds in none.
    expect(risk.visits).toEqual([
      { of: 0, share: 1 },
      { of: 1, share: 1 },
    ]);
    expect(risk.crews).toEqual([{ of: 0, share: 1 }]);
    expect(risk.items).toEqual([]);
    expect(risk.starts).toEqual([{ of: "first day", share: 1 }]);
  });

  test("hours lost", () => {
    // Year 2: day 0 from 10:00 until 16:00 (home by 17:00). Year 3: days 0 and 1 from 8:30 to 16:00, 7.5 h each.
    expect(risk.lostH).toEqual([{ cause: "wind", hours: expect.closeTo((6 + 15) / 3, 9) }]);
  });
});

describe("what a visit waits for", () => {
  const DAYS = 8;
  const one = (
    over: Partial<PlanVisit>,
    placed: readonly PlacedVisit[],
    more: PlanVisit[] = [],
    kitDay?: number,
  ) => {
    const problem = tiny({
      dayCount: DAYS,
      road: [0, 60, 90],
      crews: [crew({ dayCount: DAYS }), crew({ dayCount: DAYS })],
      visits: [visit(over), ...more],
      windows: [window(DAYS)],
    });
    return simulatePlan(
      riskInput(problem, placed, {
        kits: problem.visits.map((v, i) => ({ startDay: kitDay ?? v.kitReadyDay, item: `ITEM-${i}` })),
      }),
      {
        seed: "waits",
        runs: 3,
      },
    );
  };

  test("a kit that comes late binds, and the item is named", () => {
    const risk = one({ kitReadyDay: 3 }, [at(0, 0, 3)]);
    expect(risk.items).toEqual([{ of: "ITEM-0", share: 1 }]);
    expect(risk.starts).toEqual([{ of: "kit", share: 1 }]);
  });

  test("a kit that slipped after the plan was made moves the visit", () => {
    const risk = one({ kitReadyDay: 5 }, [at(0, 0, 2)]);
    expect(Math.floor(risk.programme!.p50Min! / 1440)).toBe(5);
    expect(risk.items[0]).toEqual({ of: "ITEM-0", share: 1 });
  });

  test("a kit that others begin with first comes later than for a visit alone", () => {
    const risk = one({ kitReadyDay: 1 }, [at(0, 0, 2)], [], 4);
    expect(Math.floor(risk.programme!.p50Min! / 1440)).toBe(4);
    expect(risk.starts).toEqual([{ of: "kit", share: 1 }]);
  });

  test("a gate, a notice and the plan's own date are told apart", () => {
    expect(one({ releaseDay: 2 }, [at(0, 0, 2)]).starts[0]!.of).toBe("gate");
    expect(one({ noticeDays: 2 }, [at(0, 0, 2)]).starts[0]!.of).toBe("notice");
    expect(one({ releaseDay: 2 }, [at(0, 0, 4)]).starts[0]!.of).toBe("plan date");
    expect(one({}, [at(0, 0, 0)]).starts[0]!.of).toBe("first day");
  });

  test("a visit that slips past the crew's last certificate is done by people who stand in", () => {
    const problem = tiny({
      dayCount: DAYS,
      crews: [
        crew({
          days: Array.from({ length: DAYS }, (_, d) => (d < 2 ? FULL_DAY : { ...FULL_DAY, rescuers: 0 })),
        }),
      ],
      visits: [visit()],
      windows: [window(DAYS)],
    });
    const open = [0, 0, 0, ...Array.from({ length: DAYS - 3 }, () => hours(0, 24))];
    const calm = Array.from({ length: DAYS }, () => hours(0, 24));
    const risk = simulatePlan(
      riskInput(problem, [at(0, 0, 1)], {
        weather: [{ forecastDays: 0, past: table([...open, ...calm]) }],
        past: plainYears(2, DAYS),
      }),
      { seed: "s", runs: 10 },
    );
    expect(Math.floor(risk.programme!.p90Min! / 1440)).toBe(3);
    expect(risk.standIns).toEqual([{ of: 0, share: 0.5 }]);
  });

  test("a visit that is not done before its crew is away is named with the hops that wait, a weekend is not", () => {
    const days = (isOff: (d: number) => boolean) =>
      Array.from({ length: 21 }, (_, d) => (isOff(d) ? null : FULL_DAY));
    const problem = tiny({
      dayCount: 21,
      crews: [
        crew({ days: days((d) => d >= 2 && d <= 8) }),
        // Away a few days later: what waits for the first crew until then slips past this, too, and is no cause.
        crew({ days: days((d) => d >= 4 && d <= 9) }),
        crew({ days: days((d) => d % 7 === 2 || d % 7 === 3) }),
      ],
      hops: [0, 1, 2].map((h) => ({ id: `h${h}`, code: `H${h}`, weight: 1 })),
      visits: [
        visit({ hop: 0, place: 0, siteLock: false }),
        visit({ hop: 1, place: 0, siteLock: false, after: [0] }),
        visit({ hop: 2, place: 0, siteLock: false }),
      ],
      windows: [window(21)],
    });
    const closedFirst = [0, 0, 0, ...Array.from({ length: 18 }, () => hours(0, 24))];
    const calm = Array.from({ length: 21 }, () => hours(0, 24));
    const risk = simulatePlan(
      riskInput(problem, [at(0, 0, 1), at(1, 1, 2), at(2, 2, 1)], {
        weather: [{ forecastDays: 0, past: table([...closedFirst, ...calm]) }],
        past: plainYears(2, 21),
      }),
      { seed: "s", runs: 10 },
    );
    expect(risk.slips).toEqual([
      {
        of: 0,
        share: 0.5,
        gap: { fromDay: 2, untilDay: 8 },
        hops: [
          { of: 0, share: 0.5 },
          { of: 1, share: 0.5 },
        ],
      },
    ]);
  });

  test("days off of every week are no gap, nor those after the last day with people of one's own", () => {
    const needs = visit().needs;
    const twoDays = Array.from({ length: 28 }, (_, d) => (d % 7 < 2 ? FULL_DAY : null));
    expect(gapAfter(twoDays, needs, 0)).toBeUndefined();
    const away = twoDays.map((day, d) => (d >= 7 && d < 14 ? null : day));
    expect(gapAfter(away, needs, 0)).toEqual({ fromDay: 2, untilDay: 13 });
    expect(gapAfter(away, needs, 10)).toEqual({ fromDay: 2, untilDay: 13 });
    expect(gapAfter(away, needs, 14)).toBeUndefined();
    const few = Array.from({ length: 14 }, (_, d) => (d < 5 ? FULL_DAY : { ...FULL_DAY, rescuers: 0 }));
    expect(gapAfter(few, needs, 0)).toBeUndefined();
  });

  test("work that should have begun before the first day is done first", () => {
    const risk = one({}, [at(0, 0, -3)]);
    expect(Math.floor(risk.programme!.p50Min! / 1440)).toBe(0);
  });

  test("a visit that waits for another crew's work has that on its chain, and the hours are booked", () => {
    const long = visit({ label: "first", place: 2, segments: [step(300)] });
    const risk = one({ after: [1], siteLock: false }, [at(1, 1, 0, 500), at(0, 0, 0, 800)], [long]);
    expect(risk.visits.map((v) => v.of).sort()).toEqual([0, 1]);
    expect(risk.crews.map((c) => c.of).sort()).toEqual([0, 1]);
    // Set up at 8:30, while the other works from 9:00 to 14:00.
    expect(risk.lostH).toEqual([{ cause: "earlier work", hours: 5.5 }]);
    expect(risk.programme!.p50Min).toBe(14 * 60 + 120);
  });

  test("a site that takes one crew at a time is free when the first has left", () => {
    const there = visit({ label: "first", place: 1, segments: [step(300)] });
    const risk = one({}, [at(1, 1, 0, 500), at(0, 0, 0, 800)], [there]);
    expect(risk.lostH).toEqual([{ cause: "site taken", hours: 5 }]);
    expect(risk.programme!.p50Min).toBe(13 * 60 + 30 + 120);
  });

  test("joint work begins when the later crew is ready", () => {
    const joint = { kind: "alignment" as const, segments: [step(60, { splittable: false })] };
    const far = visit({ ...joint, place: 2, togetherWith: 0 });
    const risk = one({ ...joint, togetherWith: 1 }, [at(0, 0, 0), at(1, 1, 0)], [far]);
    // The near crew is ready at 8:30, the far one at 9:00.
    expect(risk.programme!.p50Min).toBe(600);
    expect(risk.lostH).toEqual([{ cause: "other end", hours: 0.5 }]);
  });
});

describe("weather", () => {
  const DAYS = 4;
  const problem = tiny({
    dayCount: DAYS,
    crews: [crew({ dayCount: DAYS })],
    visits: [visit()],
    windows: [window(DAYS, { stretch: () => 1.5, riskMinPerH: () => 30 })],
  });

  test("forecast hours come first and are the same in every run", () => {
    const forecast = table([0, hours(0, 24), 0, 0]);
    const past = table([hours(0, 24), 0, 0, 0]);
    const risk = simulatePlan(
      riskInput(problem, [at(0, 0, 0)], {
        weather: [{ forecastDays: 2, forecast, past }],
        past: plainYears(1, DAYS),
      }),
      { seed: "w", runs: 10 },
    );
    expect(Math.floor(risk.programme!.p10Min! / 1440)).toBe(1);
    expect(Math.floor(risk.programme!.p90Min! / 1440)).toBe(1);
  });

  test("all sites meet the same past year in a run", () => {
    // Two sites, two years: in one year only the first is open at once, in the other only the second.
    const [calm, storm] = [hours(0, 24), 0];
    const two = tiny({
      dayCount: DAYS,
      crews: [crew({ dayCount: DAYS }), crew({ dayCount: DAYS })],
      visits: [visit({ siteLock: false }), visit({ siteLock: false, window: 1 })],
      windows: [window(DAYS), window(DAYS)],
    });
    const weather = [
      [calm, calm, calm, calm, storm, calm, calm, calm],
      [storm, calm, calm, calm, calm, calm, calm, calm],
    ].map((days) => ({ forecastDays: 0, past: table(days) }));
    const risk = simulatePlan(
      riskInput(two, [at(0, 0, 0), at(1, 1, 0)], { weather, past: plainYears(2, DAYS) }),
      { seed: "w", runs: 200 },
    );
    // Drawn one by one, both would be open at once in one run of four, and so would the finish be.
    expect(Math.floor(risk.programme!.p10Min! / 1440)).toBe(1);
    expect(risk.visits.map((v) => v.share)).toEqual([0.5, 0.5]);
  });

  test("without past years the window's stretch is P50 and its risk leads to P80", () => {
    const risk = simulatePlan(riskInput(problem, [at(0, 0, 0)]), { seed: "w", runs: 4000 });
    // 120 minutes from 8:30: stretched to 180, and 30 more an hour of work at P80.
    expect(Math.abs(risk.programme!.p50Min! - (510 + 180))).toBeLessThanOrEqual(4);
    expect(Math.abs(risk.programme!.p80Min! - (510 + 240))).toBeLessThanOrEqual(5);
    expect(risk.weathers).toBe(0);
    expect(risk.lostH.map((l) => l.cause)).toEqual(["past weather by month"]);
  });

  test("night and weather are told apart in the hours lost", () => {
    const past = table([hours(8, 12), hours(0, 24), hours(0, 24), hours(0, 24)]);
    past.dark[0] = hours(14, 24);
    past.cause.fill(LIMITING_FACTORS.indexOf("gust"));
    const long = { ...problem, visits: [visit({ segments: [step(400)] })] };
    const risk = simulatePlan(
      riskInput(long, [at(0, 0, 0)], { weather: [{ forecastDays: 0, past }], past: plainYears(1, DAYS) }),
      { seed: "w", runs: 1 },
    );
    // From 12:00 to 14:00 gusts, from then until 16:00, when the crew must leave to be home at 17:00, darkness.
    expect(risk.lostH).toEqual([
      { cause: "daylight", hours: 2 },
      { cause: "gust", hours: 2 },
    ]);
  });
});

describe("runs", () => {
  const problem = tiny({ visits: [visit(), visit({ hop: 0 })] });
  const input = riskInput(problem, [at(0, 0, 0), at(1, 0, 0, 700)], {
    ranges: problem.visits.map(() => normalRange(0.3)),
  });

  test("a stop gives the runs done so far, the same as those of a shorter run", () => {
    let asked = 0;
    const stopped = simulatePlan(input, { seed: "s", runs: 500, shouldStop: () => ++asked >= 40 });
    expect(stopped.runs).toBe(40);
    expect(stopped).toEqual(simulatePlan(input, { seed: "s", runs: 40 }));
  });

  test("a plan that places nothing has no finish", () => {
    const risk = simulatePlan(riskInput(problem, []), { seed: "s", runs: 5 });
    expect(risk).toMatchObject({ programme: undefined, hops: [], visits: [], lostH: [] });
  });

  test("a hop with a visit without a place has no finish of its own", () => {
    const risk = simulatePlan(riskInput(problem, [at(0, 0, 0)]), { seed: "s", runs: 5 });
    expect(risk.hops).toEqual([]);
    expect(risk.programme).toBeDefined();
  });

  test("mistakes throw: no runs, ranges out of order, a range too few", () => {
    expect(() => simulatePlan(input, { seed: "s", runs: 0 })).toThrow(RangeError);
    const wrong = { ...EXACT, p80: 0.5 };
    expect(() => simulatePlan({ ...input, ranges: [wrong, EXACT] }, { seed: "s", runs: 1 })).toThrow(/order/);
    expect(() => simulatePlan({ ...input, ranges: [always(1)] }, { seed: "s", runs: 1 })).toThrow(/2 visits/);
  });
});

test("progress is told every so many runs", () => {
  const told: number[] = [];
  const problem = tiny({ visits: [visit()] });
  simulatePlan(riskInput(problem, [at(0, 0, 0)]), {
    seed: "p",
    runs: 25,
    progressEvery: 10,
    onProgress: (n) => told.push(n),
  });
  expect(told).toEqual([10, 20]);
});
