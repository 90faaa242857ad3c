/**
 * The plan as the replay reads it: units of work in their planned order, typed arrays, never changed afterwards.
 * Times are whole wall-clock minutes of a day; travel and set-up are rounded up as the scheduler rounds them.
 */
import {
  crewPace,
  type PlacedVisit,
  type PlanCrew,
  type PlanVisit,
  type ScheduleProblem,
} from "@/lib/schedule";
import { weekdayOf } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";
import { checkRange } from "./range";
import { isStaffed, lastStaffedDay } from "./staffing";
import type { ChainStart, RiskInput } from "./types";

export const CHAIN_STARTS: readonly ChainStart[] = ["first day", "kit", "gate", "notice", "plan date"];

export interface RiskModel {
  input: RiskInput;
  dayCount: number;
  crewCount: number;
  placeCount: number;

  /** Visits in planned order; joint work stands once, by the end that is planned first. */
  unit: Int32Array;
  /** Other end of the unit's visit when it is placed with another crew, or -1. */
  partner: Int32Array;

  // Visits
  crewOf: Int32Array;
  /** Factor of the visit's own crew on its work; 1 where nobody comes. */
  paceOf: Float64Array;
  place: Int32Array;
  setupMin: Int32Array;
  segFrom: Int32Array;
  segClass: Uint8Array;
  segMin: Float64Array;
  segSplits: Uint8Array;
  window: Int32Array;
  /** First day by the plan, kit and gates. */
  floorDay: Int32Array;
  /** Position in CHAIN_STARTS: why the plan has it not before `floorDay`. */
  floorStart: Uint8Array;
  /**
   * visit * dayCount + day: the crew works, has the people, and the site is open. After `staffedUntil` people stand in,
   * as nobody lets a hop wait for ever for a certificate that ran out.
   */
  isOk: Uint8Array;
  /** Last day on which the crew has the people by itself; -1 = never. */
  staffedUntil: Int32Array;
  opens: Int32Array;
  closes: Int32Array;
  /** Earlier visits that must end before, in planned order. */
  predFrom: Int32Array;
  preds: Int32Array;
  /** The visit of another crew that holds the site before, or -1. */
  siteAfter: Int32Array;

  // Crew-days, crew * dayCount + day
  fromMin: Int32Array;
  toMin: Int32Array;
  homeByMin: Int32Array;

  // Crews
  depot: Int32Array;
  travelMin: Int32Array;
  /** crew * placeCount + place: may the crew sleep near it, and does that pay against the way home and out again? */
  sleepsNear: Uint8Array;
}

const roundUp = (min: number) => Math.ceil(min - 1e-9);

/** @throws RangeError when ranges, kit items or weather do not fit the problem */
export function buildRiskModel(input: RiskInput): RiskModel {
  const { problem, placed } = input;
  checkSizes(input);
  const order = [...placed].sort(
    (a, b) => startOf(a) - startOf(b) || endOf(a) - endOf(b) || a.visit - b.visit,
  );
  const placeOf = new Map(placed.map((p) => [p.visit, p]));
  const partner = new Int32Array(problem.visits.length).fill(-1);
  for (const p of placed) {
    const other = placeOf.get(problem.visits[p.visit]!.togetherWith ?? -1);
    if (other && other.crew !== p.crew) partner[p.visit] = other.visit;
  }
  const seen = new Set<number>();
  const unit = order.flatMap(({ visit }) => {
    if (seen.has(visit)) return [];
    seen.add(visit).add(partner[visit]!);
    return [visit];
  });
  const { isOk, staffedUntil } = okDays(problem, placed);
  return {
    input,
    dayCount: problem.dayCount,
    crewCount: problem.crews.length,
    placeCount: problem.places.length,
    unit: Int32Array.from(unit),
    partner,
    ...work(problem, partner),
    ...dates(input, isOk),
    isOk,
    staffedUntil,
    crewOf: Int32Array.from(problem.visits, (_, v) => placeOf.get(v)?.crew ?? -1),
    paceOf: Float64Array.from(problem.visits, (visit, v) => {
      const at = placeOf.get(v);
      return at ? crewPace(problem.crews[at.crew]!, visit) : 1;
    }),
    ...waits(problem, order, partner),
    ...crewDays(problem),
    sleepsNear: nights(problem),
  };
}

const startOf = (p: PlacedVisit) => p.startDay * 1440 + p.startMin;
const endOf = (p: PlacedVisit) => p.endDay * 1440 + p.endMin;

function checkSizes({ problem, ranges, kits, weather }: RiskInput): void {
  const { visits, windows } = problem;
  if (ranges.length !== visits.length || kits.length !== visits.length)
    throw new RangeError(`${visits.length} visits, but ${ranges.length} ranges, ${kits.length} kits`);
  if (weather.length !== windows.length)
    throw new RangeError(`${windows.length} windows, but the weather of ${weather.length}`);
  ranges.forEach((r, v) => {
    checkRange(r, visits[v]!.id);
  });
}

function work(p: ScheduleProblem, partner: Int32Array) {
  const segFrom = new Int32Array(p.visits.length + 1);
  p.visits.forEach((v, i) => {
    segFrom[i + 1] = segFrom[i]! + v.segments.length;
  });
  const segClass = new Uint8Array(segFrom.at(-1)!);
  const segMin = new Float64Array(segFrom.at(-1)!);
  const segSplits = new Uint8Array(segFrom.at(-1)!);
  p.visits.forEach((v, i) => {
    const other = partner[i]! >= 0 ? p.visits[partner[i]!] : undefined;
    v.segments.forEach((s, k) => {
      const at = segFrom[i]! + k;
      segClass[at] = WORK_CLASSES.indexOf(s.workClass);
      segMin[at] = Math.max(s.durationMin, other?.segments[k]?.durationMin ?? 0); // both stay for the longer one
      segSplits[at] = s.splittable ? 1 : 0;
    });
  });
  return {
    segFrom,
    segClass,
    segMin,
    segSplits,
    place: Int32Array.from(p.visits, (v) => v.place),
    setupMin: Int32Array.from(p.visits, (v) => roundUp(v.setupMin)),
    window: Int32Array.from(p.visits, (v) => v.window),
  };
}

function okDays(p: ScheduleProblem, placed: readonly PlacedVisit[]) {
  const isOk = new Uint8Array(p.visits.length * p.dayCount);
  const staffedUntil = new Int32Array(p.visits.length).fill(-1);
  const monday = weekdayOf(p.firstDay) - 1;
  for (const { visit, crew } of placed) {
    const { needs, access } = p.visits[visit]!;
    const { days } = p.crews[crew]!;
    staffedUntil[visit] = lastStaffedDay(days, needs);
    days.forEach((day, d) => {
      if (!day || !access[(monday + d) % 7]) return;
      if (d > staffedUntil[visit]! || isStaffed(day, needs)) isOk[visit * p.dayCount + d] = 1;
    });
  }
  return { isOk, staffedUntil };
}

/** First days, why they are not earlier, and the hours of access. */
function dates({ problem: p, placed, kits }: RiskInput, isOk: Uint8Array) {
  const n = p.visits.length;
  const floorDay = new Int32Array(n);
  const floorStart = new Uint8Array(n);
  for (const { visit, startDay } of placed) {
    const v = p.visits[visit]!;
    const first = (from: number): number => {
      let day = Math.max(0, Math.ceil(from));
      while (day < p.dayCount && isOk[visit * p.dayCount + day] === 0) day++;
      return day;
    };
    // Kit and gates as they are known now: they may have slipped since the plan was made.
    const kitDay = Math.max(v.kitReadyDay, kits[visit]?.startDay ?? 0);
    const floor = Math.ceil(Math.max(0, startDay, kitDay, v.releaseDay));
    floorDay[visit] = floor;
    floorStart[visit] = CHAIN_STARTS.indexOf(startReason(v, kitDay, floor, first));
  }
  const monday = weekdayOf(p.firstDay) - 1;
  const opens = new Int32Array(n * 7);
  const closes = new Int32Array(n * 7);
  p.visits.forEach((v, i) => {
    for (let d = 0; d < 7; d++) {
      const open = v.access[(monday + d) % 7];
      opens[i * 7 + d] = open ? roundUp(open.fromMin) : 1440;
      closes[i * 7 + d] = open ? Math.floor(open.toMin) : 0;
    }
  });
  return { floorDay, floorStart, opens, closes };
}

/** What the plan's date rests on: of kit, gate and notice the one that leaves the crew no earlier day. */
function startReason(
  v: PlanVisit,
  kitDay: number,
  floor: number,
  first: (from: number) => number,
): ChainStart {
  const dates: [ChainStart, number][] = [
    ["kit", kitDay],
    ["gate", v.releaseDay],
    ["notice", v.noticeDays],
  ];
  const binding = dates.filter(([, day]) => day > 0 && first(day) >= floor);
  return binding.sort((a, b) => b[1] - a[1])[0]?.[0] ?? "plan date";
}

/** What a visit waits for besides its crew. In a plan that breaks the order, only what comes earlier in it. */
function waits(p: ScheduleProblem, order: readonly PlacedVisit[], partner: Int32Array) {
  const n = p.visits.length;
  const position = new Int32Array(n).fill(-1);
  order.forEach((x, k) => {
    position[x.visit] = k;
  });
  const predFrom = new Int32Array(n + 1);
  const preds: number[] = [];
  p.visits.forEach((v, i) => {
    if (position[i]! >= 0) {
      const at = Math.min(position[i]!, partner[i]! >= 0 ? position[partner[i]!]! : position[i]!);
      for (const u of v.after) if (position[u]! >= 0 && position[u]! < at) preds.push(u);
    }
    predFrom[i + 1] = preds.length;
  });
  const siteAfter = new Int32Array(n).fill(-1);
  const before = new Map<number, PlacedVisit[]>();
  for (const x of order) {
    const { place, siteLock } = p.visits[x.visit]!;
    const here = before.get(place) ?? [];
    const holder = here.findLast(
      (y) => y.crew !== x.crew && partner[x.visit] !== y.visit && (siteLock || p.visits[y.visit]!.siteLock),
    );
    if (holder) siteAfter[x.visit] = holder.visit;
    before.set(place, [...here, x]);
  }
  return { predFrom, preds: Int32Array.from(preds), siteAfter };
}

function crewDays(p: ScheduleProblem) {
  const fromMin = new Int32Array(p.crews.length * p.dayCount);
  const toMin = new Int32Array(fromMin.length);
  const homeByMin = new Int32Array(fromMin.length);
  p.crews.forEach((crew, c) => {
    crew.days.forEach((day, d) => {
      if (!day) return;
      fromMin[c * p.dayCount + d] = roundUp(day.fromMin);
      toMin[c * p.dayCount + d] = Math.floor(day.toMin);
      homeByMin[c * p.dayCount + d] = latestEnd(crew, d);
    });
  });
  return {
    fromMin,
    toMin,
    homeByMin,
    depot: Int32Array.from(p.crews, (c) => c.depotPlace),
    travelMin: Int32Array.from(p.travelMin, roundUp),
  };
}

/** Shift and overtime, and the rest before the next shift of the calendar. */
function latestEnd(crew: PlanCrew, day: number): number {
  const shift = crew.days[day]!;
  const byRest = [1, 2].flatMap((ahead) => {
    const later = crew.days[day + ahead];
    return later ? [ahead * 1440 + later.fromMin - crew.restMin] : [];
  });
  return Math.floor(Math.min(shift.toMin + crew.overtimeMaxMin, ...byRest));
}

function nights(p: ScheduleProblem): Uint8Array {
  const n = p.places.length;
  const sleeps = new Uint8Array(p.crews.length * n);
  const { nightAway, travelKm, travelMin } = p.weights;
  p.crews.forEach((crew, c) => {
    const home = crew.depotPlace;
    for (let place = 0; place < n; place++) {
      const km = p.travelKm[place * n + home]! + p.travelKm[home * n + place]!;
      const min = p.travelMin[place * n + home]! + p.travelMin[home * n + place]!;
      const pays = nightAway < travelKm * km + travelMin * min;
      if (crew.nightsAwayMax > 0 && place !== home && pays) sleeps[c * n + place] = 1;
    }
  });
  return sleeps;
}
