/** Small plans to run: built on the tiny problems of the scheduler's tests. */
import type { Random } from "@/lib/random";
import type { HourTable, RiskInput, WorkRange } from "@/lib/risk";
import type { PlacedVisit, PlanVisit, ScheduleProblem } from "@/lib/schedule";
import { LIMITING_FACTORS, WORK_CLASSES } from "@/lib/weather";
import { crew, FULL_DAY, step, tiny, visit, window } from "../schedule/tiny";

export const EXACT: WorkRange = { p10: 1, p50: 1, p80: 1, p90: 1 };
export const always = (factor: number): WorkRange => ({ p10: factor, p50: factor, p80: factor, p90: factor });

/** Quantiles of a normal distribution with mean 1. */
export const normalRange = (sd: number): WorkRange => ({
  p10: 1 - 1.2815515655446004 * sd,
  p50: 1,
  p80: 1 + 0.8416212335729143 * sd,
  p90: 1 + 1.2815515655446004 * sd,
});

export const at = (v: number, c: number, day: number, startMin = 480): PlacedVisit => ({
  visit: v,
  crew: c,
  startDay: day,
  startMin,
  endDay: day,
  endMin: startMin + 60,
});

/** Weather as the window says unless `over` brings past years; every visit as long as planned. */
export function riskInput(
  problem: ScheduleProblem,
  placed: readonly PlacedVisit[],
  over: Partial<RiskInput> = {},
): RiskInput {
  return {
    problem,
    placed,
    ranges: problem.visits.map(() => EXACT),
    kits: problem.visits.map(() => undefined),
    weather: problem.windows.map(() => ({ forecastDays: 0 })),
    ...over,
  };
}

/** The same hours for every class, day by day; what is closed is closed by wind. */
export function table(openHours: readonly number[]): HourTable {
  const dayCount = openHours.length;
  const masks = new Uint32Array(WORK_CLASSES.length * dayCount);
  for (let c = 0; c < WORK_CLASSES.length; c++)
    for (let d = 0; d < dayCount; d++) masks[c * dayCount + d] = openHours[d]!;
  const wind = LIMITING_FACTORS.indexOf("wind");
  return { dayCount, masks, dark: new Uint32Array(dayCount), cause: new Uint8Array(masks.length).fill(wind) };
}

/** Past years laid end to end, each as long as the days followed, without neighbouring days. */
export const plainYears = (years: number, dayCount: number): NonNullable<RiskInput["past"]> => ({
  years: Array.from({ length: years }, (_, y) => 2000 + y),
  neighbourDays: 0,
  dayOf: Int32Array.from({ length: years * dayCount }, (_, i) => i),
});

/** Hours of storm and calm in turn, drawn hour by hour: a storm lasts 8 hours and a calm 20 in the mean. */
export function stormyDays(random: Random, dayCount: number): number[] {
  let isOpen = random.next() < 0.7;
  return Array.from({ length: dayCount }, () => {
    let mask = 0;
    for (let hour = 0; hour < 24; hour++) {
      if (random.next() < (isOpen ? 1 / 20 : 1 / 8)) isOpen = !isOpen;
      if (isOpen) mask |= 1 << hour;
    }
    return mask;
  });
}

export interface Invented {
  problem: ScheduleProblem;
  placed: PlacedVisit[];
}

/** Two crews, one to three hops: an install at each end, then both ends together. */
export function invented(random: Random, dayCount: number): Invented {
  const road = [0, ...Array.from({ length: 6 }, () => 10 + random.below(80))];
  const hopCount = 1 + random.below(3);
  const visits: PlanVisit[] = [];
  const placed: PlacedVisit[] = [];
  const minutes = (least: number, most: number) => Math.round(random.between(least, most));
  const flexible = () => random.next() < 0.6;
  let day = 0;
  for (let h = 0; h < hopCount; h++) {
    const swap = random.below(2);
    const first = visits.length;
    for (let end = 0; end < 2; end++) {
      visits.push(
        visit({
          hop: h,
          place: 1 + h * 2 + end,
          segments: [step(minutes(60, 400)), step(minutes(20, 120), { splittable: flexible() })],
          setupMin: minutes(0, 60),
        }),
      );
      placed.push(at(first + end, (end + swap) % 2, day));
    }
    const joint = [step(minutes(40, 150), { workClass: "alignment", splittable: flexible() })];
    for (let end = 0; end < 2; end++) {
      visits.push(
        visit({
          hop: h,
          kind: "alignment",
          place: 1 + h * 2 + end,
          segments: joint,
          setupMin: 20,
          after: [first, first + 1],
          togetherWith: first + 3 - end,
        }),
      );
      placed.push(at(first + 2 + end, (end + swap) % 2, day + 1));
    }
    day += 1 + random.below(3);
  }
  const problem = tiny({
    road,
    dayCount,
    crews: [0, 1].map(() => crew({ dayCount, overtimeMaxMin: 0, pace: random.between(0.9, 1.2) })),
    hops: Array.from({ length: hopCount }, (_, h) => ({ id: `h${h}`, code: `H${h}`, weight: 1 })),
    visits,
    windows: [window(dayCount)],
  });
  const crews = problem.crews.map((c) => ({
    ...c,
    days: c.days.map((_, d) => (d % 7 >= 5 ? null : FULL_DAY)),
  }));
  return { problem: { ...problem, crews }, placed };
}
