/** Small problems a person can check by hand: places on a straight road, one minute and one kilometre per step. */
import type { WorkSegment } from "@/lib/hours";
import {
  type CrewDay,
  DEFAULT_WEIGHTS,
  type PlanCrew,
  type PlanHop,
  type PlanVisit,
  type PlanWeights,
  type ScheduleProblem,
  type VisitWindow,
} from "@/lib/schedule";
import { calendarDate } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";

/** 07:00 to 17:00, everybody there. */
export const FULL_DAY: CrewDay = {
  fromMin: 420,
  toMin: 1020,
  climbers: 3,
  rescuers: 2,
  riggers: 1,
  technicians: 1,
  people: 4,
};

const ALWAYS = 0xffffff;
export const hours = (from: number, to: number): number => {
  let mask = 0;
  for (let h = from; h < to; h++) mask |= 1 << h;
  return mask;
};

export const crew = (over: Partial<PlanCrew> & { dayCount?: number } = {}): PlanCrew => {
  const { dayCount = 5, ...rest } = over;
  return {
    id: "c",
    code: "C1",
    depotPlace: 0,
    days: Array.from({ length: dayCount }, () => FULL_DAY),
    payloadKg: 1000,
    overtimeMaxMin: 60,
    weeklyMaxMin: 6000,
    nightsAwayMax: 0,
    restMin: 600,
    pace: 1,
    ...rest,
  };
};

export const step = (durationMin: number, over: Partial<WorkSegment> = {}): WorkSegment => ({
  workClass: "aloft",
  durationMin,
  splittable: true,
  ...over,
});

export const visit = (over: Partial<PlanVisit> = {}): PlanVisit => ({
  id: over.label ?? "v",
  label: "visit",
  kind: "install",
  hop: 0,
  place: 1,
  segments: [step(120)],
  setupMin: 30,
  needs: { climbers: 2, rescuers: 1, riggers: 0, technicians: 0, people: 3 },
  loadKg: 50,
  releaseDay: 0,
  kitReadyDay: 0,
  window: 0,
  access: Array.from({ length: 7 }, () => ({ fromMin: 0, toMin: 1440 })),
  noticeDays: 0,
  siteLock: true,
  after: [],
  ...over,
});

export interface WindowSpec {
  /** Mask by day for all classes but indoor; default open all day. */
  open?: (day: number) => number;
  stretch?: (day: number) => number;
  riskMinPerH?: (day: number) => number;
}

export function window(dayCount: number, spec: WindowSpec = {}): VisitWindow {
  const masks = new Uint32Array(WORK_CLASSES.length * dayCount).fill(ALWAYS);
  for (let k = 0; k < WORK_CLASSES.length; k++)
    for (let d = 0; d < dayCount; d++)
      if (WORK_CLASSES[k] !== "indoor") masks[k * dayCount + d] = spec.open?.(d) ?? ALWAYS;
  return {
    id: "w",
    masks,
    stretch: Float32Array.from({ length: dayCount }, (_, d) => spec.stretch?.(d) ?? 1),
    riskMinPerH: Float32Array.from({ length: dayCount }, (_, d) => spec.riskMinPerH?.(d) ?? 0),
  };
}

export interface TinySpec extends Partial<Omit<ScheduleProblem, "weights">> {
  /** Where the places lie on the road, in minutes; the depot first. */
  road?: readonly number[];
  weights?: Partial<PlanWeights>;
}

/** Default: five days from a Monday, a depot at 0 and a site at 60, one crew, one hop, no visit. */
export function tiny(spec: TinySpec = {}): ScheduleProblem {
  const { road = [0, 60], weights, ...over } = spec;
  const dayCount = over.dayCount ?? 5;
  const travel = Float32Array.from(road.flatMap((a) => road.map((b) => Math.abs(a - b))));
  const hops: PlanHop[] = [{ id: "h", code: "H1", weight: 1 }];
  return {
    firstDay: calendarDate("2026-03-02"),
    frozenUntilDay: 0,
    places: road.map((_, i) => ({ id: `p${i}`, code: i === 0 ? "DEPOT" : `S${i}`, latDeg: 0, lonDeg: 0 })),
    travelKm: travel,
    travelMin: travel,
    crews: [crew({ dayCount })],
    hops,
    visits: [],
    windows: [window(dayCount)],
    pinned: [],
    ...over,
    dayCount,
    weights: { ...DEFAULT_WEIGHTS, ...weights },
  };
}

/** The two ends of an alignment, at places `a` and `b`, as visits `first` and `first + 1`. */
export function alignment(
  first: number,
  a: number,
  b: number,
  after: readonly number[] = [],
  over: Partial<PlanVisit> = {},
): PlanVisit[] {
  return [a, b].map((place, i) =>
    visit({
      label: `alignment ${i === 0 ? "near" : "far"}`,
      kind: "alignment",
      place,
      segments: [step(60, { workClass: "alignment", splittable: false })],
      setupMin: 20,
      loadKg: 10,
      after,
      togetherWith: first + 1 - i,
      ...over,
    }),
  );
}
