/**
 * The problem as the engine reads it: validated once, dense indices, typed arrays, never changed afterwards.
 * A crew-day has the index `day * crewCount + crew`. Times are whole wall-clock minutes of a day: travel and set-up
 * are rounded up, openings up and closings down, so that no plan is tighter than its input.
 */
import { ok, type Problem, type Result } from "@/lib/result";
import { weekdayOf } from "@/lib/time";
import { WORK_CLASSES } from "@/lib/weather";
import { keptUntilDone } from "./keptWork";
import { type Paces, paces } from "./pace";
import { homeByMin } from "./rules/rest";
import type { PlacedVisit, ScheduleProblem, VisitNeeds } from "./types";
import { validate } from "./validate";

export interface Model extends Paces {
  problem: ScheduleProblem;
  dayCount: number;
  crewCount: number;
  visitCount: number;
  placeCount: number;
  hopCount: number;

  // Calendar
  /** 0 = Monday, per day. */
  weekday: Uint8Array;
  /** Dense ISO week, per day. */
  week: Int32Array;
  weekCount: number;

  // Crew-days
  works: Uint8Array;
  fromMin: Int32Array;
  toMin: Int32Array;
  /** Latest end of the day: shift, overtime and the rest before the next shift of the calendar. */
  homeByMin: Int32Array;
  /** The crew's next working day, or -1. */
  nextWork: Int32Array;
  /** The crew's working day before, or -1. */
  prevWork: Int32Array;

  // Crews
  depot: Int32Array;
  payloadKg: Float64Array;
  weeklyMaxMin: Float64Array;
  nightsMax: Int32Array;
  /** Share of all shift minutes of the plan, for balance. */
  shareOfShifts: Float64Array;

  // Travel, place * placeCount + place
  travelMin: Uint16Array;
  travelKm: Float32Array;

  // Visits
  place: Int32Array;
  hop: Int32Array;
  setupMin: Int32Array;
  loadKg: Float64Array;
  /** First day by gates and kit; the frozen horizon is included. */
  earliestDay: Int32Array;
  noticeDay: Int32Array;
  /** Steps of visit v: segFrom[v] .. segFrom[v + 1] - 1. */
  segFrom: Int32Array;
  segClass: Uint8Array;
  segMin: Float64Array;
  segSplits: Uint8Array;
  /** Sum of the steps at norm pace. */
  workMin: Float64Array;
  /** May the visit go on the next working day? */
  canPause: Uint8Array;
  masks: Uint32Array[];
  stretch: Float32Array[];
  riskMinPerH: Float32Array[];
  /** visit * 7 + weekday: opening and closing; closed = 1, 0. */
  accessFrom: Int32Array;
  accessTo: Int32Array;
  needKind: Int32Array;
  /** needKind * crewDayCount + crew-day: are those people there? */
  hasPeople: Uint8Array;
  siteLock: Uint8Array;
  /** Scarce items of visit v: entries takesFrom[v] .. takesFrom[v + 1] - 1. */
  takesFrom: Int32Array;
  takesItem: Int32Array;
  takesQuantity: Float64Array;
  /** Per scarce item and day. */
  supply: Float64Array;
  /** Other end of joint work, or -1. */
  partner: Int32Array;
  /** Who must end before v, and who waits for v (own lists, pairs not merged). */
  predFrom: Int32Array;
  preds: Int32Array;
  succFrom: Int32Array;
  succs: Int32Array;
  /** Position in an order that respects "after"; the ends of a pair share theirs. */
  rank: Int32Array;
  isInstall: Uint8Array;
  isAlignment: Uint8Array;
  /** Never tried: its own reason or a predecessor's. */
  blocked: Uint8Array;
  /** Pinned, frozen or under way: kept as stated, or until it is done when that is sooner. */
  kept: (PlacedVisit | undefined)[];
  /** Crew and start day in the plan in force, or -1. */
  wasCrew: Int32Array;
  wasDay: Int32Array;

  // Places: visits at each
  atPlaceFrom: Int32Array;
  atPlace: Int32Array;

  // Hops
  hopFrom: Int32Array;
  hopVisits: Int32Array;
  /** Infinity = no promise. */
  promiseDay: Float64Array;
  hopWeight: Float64Array;
}

/** All problems of the input at once, or the model. */
export function buildModel(problem: ScheduleProblem): Result<Model, Problem> {
  const problems = validate(problem);
  if (problems.length > 0) return { ok: false, problems };
  const model: Model = {
    problem,
    dayCount: problem.dayCount,
    crewCount: problem.crews.length,
    visitCount: problem.visits.length,
    placeCount: problem.places.length,
    hopCount: problem.hops.length,
    travelMin: wholeMinutes(problem.travelMin),
    travelKm: problem.travelKm,
    ...calendar(problem),
    ...crewSide(problem),
    ...paces(problem),
    ...visitSide(problem),
    ...relations(problem),
    ...supplies(problem),
    ...history(problem),
  };
  return ok({ ...model, kept: keptUntilDone(model) });
}

/** A plain loop: the table has millions of entries. */
function wholeMinutes(min: Float32Array): Uint16Array {
  const whole = new Uint16Array(min.length);
  for (let i = 0; i < min.length; i++) whole[i] = Math.ceil(min[i]! - 1e-9);
  return whole;
}

const roundUp = (min: number) => Math.ceil(min - 1e-9);

function calendar(p: ScheduleProblem) {
  const first = weekdayOf(p.firstDay) - 1;
  const weekday = Uint8Array.from({ length: p.dayCount }, (_, d) => (first + d) % 7);
  const week = Int32Array.from({ length: p.dayCount }, (_, d) => Math.floor((first + d) / 7));
  return { weekday, week, weekCount: week[p.dayCount - 1]! + 1 };
}

function crewSide(p: ScheduleProblem) {
  const crewCount = p.crews.length;
  const size = crewCount * p.dayCount;
  const works = new Uint8Array(size);
  const fromMin = new Int32Array(size);
  const toMin = new Int32Array(size);
  const homeBy = new Int32Array(size);
  const nextWork = new Int32Array(size).fill(-1);
  const prevWork = new Int32Array(size).fill(-1);
  const shiftMin = new Float64Array(crewCount);
  p.crews.forEach((crew, c) => {
    for (let d = 0, last = -1; d < p.dayCount; d++) {
      const at = d * crewCount + c;
      const day = crew.days[d];
      prevWork[at] = last;
      if (!day) continue;
      works[at] = 1;
      fromMin[at] = roundUp(day.fromMin);
      toMin[at] = Math.floor(day.toMin);
      homeBy[at] = homeByMin(crew, d);
      shiftMin[c]! += toMin[at]! - fromMin[at]!;
      for (let e = Math.max(0, last); e < d; e++) nextWork[e * crewCount + c] = d;
      last = d;
    }
  });
  const all = shiftMin.reduce((a, b) => a + b, 0);
  return {
    works,
    fromMin,
    toMin,
    homeByMin: homeBy,
    nextWork,
    prevWork,
    depot: Int32Array.from(p.crews, (c) => c.depotPlace),
    payloadKg: Float64Array.from(p.crews, (c) => c.payloadKg),
    weeklyMaxMin: Float64Array.from(p.crews, (c) => c.weeklyMaxMin),
    nightsMax: Int32Array.from(p.crews, (c) => c.nightsAwayMax),
    shareOfShifts: shiftMin.map((x) => (all > 0 ? x / all : 0)),
  };
}

function visitSide(p: ScheduleProblem) {
  const n = p.visits.length;
  const segFrom = new Int32Array(n + 1);
  p.visits.forEach((v, i) => {
    segFrom[i + 1] = segFrom[i]! + v.segments.length;
  });
  const steps = segFrom[n]!;
  const segClass = new Uint8Array(steps);
  const segMin = new Float64Array(steps);
  const segSplits = new Uint8Array(steps);
  const workMin = new Float64Array(n);
  const canPause = new Uint8Array(n);
  const accessFrom = new Int32Array(n * 7);
  const accessTo = new Int32Array(n * 7);
  p.visits.forEach((v, i) => {
    const other = v.togetherWith === undefined ? undefined : p.visits[v.togetherWith];
    v.segments.forEach((s, k) => {
      const at = segFrom[i]! + k;
      segClass[at] = WORK_CLASSES.indexOf(s.workClass);
      segMin[at] = Math.max(s.durationMin, other ? other.segments[k]!.durationMin : 0); // both ends stay for the longer one
      segSplits[at] = s.splittable ? 1 : 0;
      workMin[i]! += segMin[at]!;
    });
    // Joint work ends on the day it starts; other work may pause inside a splittable step or between steps.
    canPause[i] = !other && (v.segments.length > 1 || v.segments[0]!.splittable) ? 1 : 0;
    v.access.forEach((open, w) => {
      accessFrom[i * 7 + w] = open ? roundUp(open.fromMin) : 1;
      accessTo[i * 7 + w] = open ? Math.floor(open.toMin) : 0;
    });
  });
  const kinds: VisitNeeds[] = [];
  const needKind = Int32Array.from(p.visits, (v) => {
    const at = kinds.findIndex((k) => NEEDS.every((x) => k[x] === v.needs[x]));
    return at >= 0 ? at : kinds.push(v.needs) - 1;
  });
  return {
    segFrom,
    segClass,
    segMin,
    segSplits,
    workMin,
    canPause,
    accessFrom,
    accessTo,
    needKind,
    hasPeople: peopleTable(p, kinds),
    place: Int32Array.from(p.visits, (v) => v.place),
    hop: Int32Array.from(p.visits, (v) => v.hop),
    setupMin: Int32Array.from(p.visits, (v) => roundUp(v.setupMin)),
    loadKg: Float64Array.from(p.visits, (v) => v.loadKg),
    earliestDay: Int32Array.from(p.visits, (v) =>
      Math.min(p.dayCount, Math.max(0, p.frozenUntilDay, Math.ceil(v.releaseDay), Math.ceil(v.kitReadyDay))),
    ),
    noticeDay: Int32Array.from(p.visits, (v) => Math.ceil(v.noticeDays)),
    masks: p.visits.map((v) => p.windows[v.window]!.masks),
    stretch: p.visits.map((v) => p.windows[v.window]!.stretch),
    riskMinPerH: p.visits.map((v) => p.windows[v.window]!.riskMinPerH),
    siteLock: Uint8Array.from(p.visits, (v) => (v.siteLock ? 1 : 0)),
    isInstall: Uint8Array.from(p.visits, (v) => (v.kind === "install" ? 1 : 0)),
    isAlignment: Uint8Array.from(p.visits, (v) => (v.kind === "alignment" ? 1 : 0)),
  };
}

export const NEEDS = ["climbers", "rescuers", "riggers", "technicians", "people"] as const;

function peopleTable(p: ScheduleProblem, kinds: readonly VisitNeeds[]): Uint8Array {
  const crewDays = p.crews.length * p.dayCount;
  const table = new Uint8Array(kinds.length * crewDays);
  kinds.forEach((need, k) => {
    p.crews.forEach((crew, c) => {
      crew.days.forEach((day, d) => {
        if (day && NEEDS.every((x) => day[x] >= need[x])) table[k * crewDays + d * p.crews.length + c] = 1;
      });
    });
  });
  return table;
}

/** Index lists: [from, items], the items of group g at from[g] .. from[g + 1] - 1, in ascending order. */
function grouped(groups: number, of: ArrayLike<number>): [Int32Array, Int32Array] {
  const from = new Int32Array(groups + 1);
  for (let i = 0; i < of.length; i++) from[of[i]! + 1]!++;
  for (let g = 0; g < groups; g++) from[g + 1]! += from[g]!;
  const next = from.slice();
  const items = new Int32Array(of.length);
  for (let i = 0; i < of.length; i++) items[next[of[i]!]!++] = i;
  return [from, items];
}

function supplies(p: ScheduleProblem) {
  const takes = p.visits.map((v) => v.takes ?? []);
  const takesFrom = new Int32Array(p.visits.length + 1);
  takes.forEach((list, v) => {
    takesFrom[v + 1] = takesFrom[v]! + list.length;
  });
  const items = p.scarce ?? [];
  const supply = new Float64Array(items.length * p.dayCount);
  items.forEach((item, i) => {
    supply.set(item.byDay, i * p.dayCount);
  });
  return {
    takesFrom,
    takesItem: Int32Array.from(takes.flatMap((list) => list.map((t) => t.item))),
    takesQuantity: Float64Array.from(takes.flatMap((list) => list.map((t) => t.quantity))),
    supply,
  };
}

function relations(p: ScheduleProblem) {
  const n = p.visits.length;
  const partner = Int32Array.from(p.visits, (v) => v.togetherWith ?? -1);
  const arcs = p.visits.flatMap((v, i) => [...new Set(v.after)].map((u) => ({ u, v: i })));
  const [predFrom, predArcs] = grouped(
    n,
    arcs.map((a) => a.v),
  );
  const [succFrom, succArcs] = grouped(
    n,
    arcs.map((a) => a.u),
  );
  const preds = predArcs.map((a) => arcs[a]!.u);
  const succs = succArcs.map((a) => arcs[a]!.v);
  const [atPlaceFrom, atPlace] = grouped(
    p.places.length,
    p.visits.map((v) => v.place),
  );
  const [hopFrom, hopVisits] = grouped(
    p.hops.length,
    p.visits.map((v) => v.hop),
  );

  // Longest path by rounds: the input has no circles, so this ends.
  const rank = new Int32Array(n);
  const blocked = Uint8Array.from(p.visits, (v) => (v.blockedBy === undefined ? 0 : 1));
  for (let changed = true; changed; ) {
    changed = false;
    for (let v = 0; v < n; v++) {
      let r = rank[v]!;
      let b = blocked[v]!;
      for (let i = predFrom[v]!; i < predFrom[v + 1]!; i++) {
        r = Math.max(r, rank[preds[i]!]! + 1);
        b |= blocked[preds[i]!]!;
      }
      if (partner[v]! >= 0) {
        r = Math.max(r, rank[partner[v]!]!);
        b |= blocked[partner[v]!]!;
      }
      if (r !== rank[v] || b !== blocked[v]) changed = true;
      rank[v] = r;
      blocked[v] = b;
    }
  }
  return {
    partner,
    predFrom,
    preds,
    succFrom,
    succs,
    atPlaceFrom,
    atPlace,
    hopFrom,
    hopVisits,
    rank,
    blocked,
    promiseDay: Float64Array.from(p.hops, (h) => h.promiseDay ?? Number.POSITIVE_INFINITY),
    hopWeight: Float64Array.from(p.hops, (h) => h.weight),
  };
}

function history(p: ScheduleProblem) {
  const kept: (PlacedVisit | undefined)[] = new Array(p.visits.length).fill(undefined);
  const wasCrew = new Int32Array(p.visits.length).fill(-1);
  const wasDay = new Int32Array(p.visits.length).fill(-1);
  for (const x of p.inForce ?? []) {
    if (x.startDay < 0 || x.endDay >= p.dayCount) continue;
    wasCrew[x.visit] = x.crew;
    wasDay[x.visit] = x.startDay;
    if (x.startDay < p.frozenUntilDay) kept[x.visit] = x;
  }
  for (const x of [...p.pinned, ...(p.underWay ?? [])]) kept[x.visit] = x;
  return { kept, wasCrew, wasDay };
}
