/**
 * The crew scheduling problem and a plan for it, as plain data that can cross a process border.
 * Days are dense indices from `firstDay`; minutes are wall-clock minutes of the day.
 */

import type { WorkSegment } from "@/lib/hours";
import type { Unit } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

export type VisitKind = "install" | "alignment" | "acceptance" | "revisit";

export interface PlanPlace {
  id: string;
  code: string;
  latDeg: number;
  lonDeg: number;
}

export interface PlanCrew {
  id: string;
  code: string;
  /** Index into `places`. */
  depotPlace: number;
  /** One entry per day; null = nobody works. Certificates, leave and holidays are already applied. */
  days: readonly (CrewDay | null)[];
  payloadKg: number;
  /** Most minutes of overtime a day. */
  overtimeMaxMin: number;
  weeklyMaxMin: number;
  /** Nights away in a row; 0 = back to the depot every day. */
  nightsAwayMax: number;
  /** Rest between the end of one shift and the start of the next, minutes. */
  restMin: number;
  /** Factor on durations, 1 = norm. */
  pace: number;
  /** Further factor by `paceKind` of the visit, from learning and calibration; undefined = 1 for every kind. */
  paceByKind?: readonly number[];
}

export interface CrewDay {
  fromMin: number;
  toMin: number;
  climbers: number;
  rescuers: number;
  riggers: number;
  technicians: number;
  people: number;
}

export interface VisitNeeds {
  climbers: number;
  rescuers: number;
  riggers: number;
  technicians: number;
  people: number;
}

export interface PlanVisit {
  id: string;
  /** What the board shows. */
  label: string;
  kind: VisitKind;
  hop: number;
  /** Index into `places`. */
  place: number;
  /** Work at the norm pace, in order. Sum = duration. */
  segments: readonly WorkSegment[];
  /** Set-up paid once per crew, site and day (induction, rigging). */
  setupMin: number;
  /** Index into each crew's `paceByKind`; undefined = 0. */
  paceKind?: number;
  needs: VisitNeeds;
  loadKg: number;
  /** Earliest day by gates; undefined-able rules are resolved before. */
  releaseDay: number;
  /** Earliest day on which the kit can be whole. */
  kitReadyDay: number;
  /** What it takes of scarce items, counted on the day on which it starts. Not for joint work. */
  takes?: readonly { item: number; quantity: number }[];
  /** Index into `windows`: when this visit's work classes may be done. */
  window: number;
  /** Access of the site on each weekday 1..7 (index 0 = Monday); null = closed. */
  access: readonly ({ fromMin: number; toMin: number } | null)[];
  noticeDays: number;
  /** Does the site take only one crew at a time? */
  siteLock: boolean;
  /** Visits that must end before this one starts. */
  after: readonly number[];
  /** The visit at the other end that must start at the same minute with another crew. */
  togetherWith?: number;
  /** Reason that keeps it out of any plan (an open gate, no coordinate): listed, never tried. */
  blockedBy?: string;
  /** Name of the rule behind `blockedBy`, as a planner says it; undefined = a gate. */
  blockedRule?: string;
}

/** Hours in which each work class may be done: per class and day a 24-bit mask, bit h = wall-clock hour h. */
export interface VisitWindow {
  id: string;
  /** `masks[classIndex * dayCount + day]`, classIndex by WORK_CLASSES. */
  masks: Uint32Array;
  /** Factor on the working time per day: beyond the forecast hindcast P50 / clear time, inside it rest for heat and cold. */
  stretch: Float32Array;
  /** Extra minutes between P50 and P80 per working hour beyond the forecast: the price of risk. */
  riskMinPerH: Float32Array;
}

export interface PlanHop {
  id: string;
  code: string;
  /** Day index of the promise; may be negative or beyond the horizon; undefined = none. */
  promiseDay?: number;
  weight: number;
}

export interface PlanWeights {
  /** Money-like units; all published in docs/methods/schedule.md. */
  unplacedVisit: number;
  lateHopDay: number;
  unfinishedHop: number;
  crewDay: number;
  overtimeMin: number;
  nightAway: number;
  travelKm: number;
  travelMin: number;
  movedVisit: number;
  movedDay: number;
  imbalanceMin: number;
  riskMin: number;
  /** Per day between the two installs of a hop and its alignment: ends close within days of each other. */
  openEndDay: number;
  /** Per day from the plan's first day to a hop's finish: work that could be done now does not drift late. */
  finishDay?: number;
}

/** An item of which there is not enough for everybody until some day. */
export interface ScarceItem {
  id: string;
  code: string;
  /** In which it is counted; absent = not said. */
  unit?: Unit;
  /** Per day: all that visits which start by then may have taken together. Never falls; Infinity = as much as wanted. */
  byDay: Float64Array;
}

export interface ScheduleProblem {
  firstDay: CalendarDate;
  dayCount: number;
  /** Nothing before this day may change. */
  frozenUntilDay: number;
  places: readonly PlanPlace[];
  /** places x places; asymmetric allowed. */
  travelKm: Float32Array;
  travelMin: Float32Array;
  crews: readonly PlanCrew[];
  hops: readonly PlanHop[];
  visits: readonly PlanVisit[];
  windows: readonly VisitWindow[];
  /** `takes` of the visits are indices into it. */
  scarce?: readonly ScarceItem[];
  weights: PlanWeights;
  /** The plan in force, for warm start and disturbance. */
  inForce?: readonly PlacedVisit[];
  /** Visits that a person pinned: kept as they are. */
  pinned: readonly PlacedVisit[];
  /** Work that began before the first day and goes on, from the first day on: kept as it is. Absent = none. */
  underWay?: readonly PlacedVisit[];
}

export interface PlacedVisit {
  visit: number;
  crew: number;
  startDay: number;
  startMin: number;
  endDay: number;
  endMin: number;
}

/** The crew sleeps near `place`, where it stopped work on `day`, and starts the next day from there. */
export interface NightAway {
  crew: number;
  day: number;
  /** Index into `places`. */
  place: number;
}

export interface UnplacedVisit {
  visit: number;
  /** The hard rule that stops it, as the planner knows it. */
  rule: string;
  detail: string;
}

export interface PlanCost {
  total: number;
  unplacedVisits: number;
  lateHopDays: number;
  unfinishedHops: number;
  crewDays: number;
  overtimeMin: number;
  nightsAway: number;
  travelKm: number;
  travelMin: number;
  movedVisits: number;
  riskMin: number;
  openEndDays: number;
  imbalanceMin: number;
  /** Days by which visits moved against the plan in force, summed. */
  movedDays?: number;
  /** Days from the first day to each hop's finish, summed over hops; the horizon for an unfinished one. */
  finishDays?: number;
}

export interface Plan {
  placed: readonly PlacedVisit[];
  unplaced: readonly UnplacedVisit[];
  /** Nights that crews spend away; without it every crew is home each night. */
  nights?: readonly NightAway[];
  cost: PlanCost;
  lowerBound: number;
  seed: string;
  iterations: number;
}

export interface ScheduleOptions {
  seed: string;
  /** Stop after this many iterations, or when `shouldStop` says so. */
  maxIterations: number;
  /** Read between iterations: time limit or cancel. The clock belongs to the caller. */
  shouldStop?: () => boolean;
  onProgress?: (p: ScheduleProgress) => void;
  /** Report every n iterations. */
  progressEvery?: number;
  /**
   * Share of the caller's time budget that is used, 0..1. When given, the search cools down along it and ends
   * cold; without it, it cools in ever longer rounds, so that any stop is a fair one.
   */
  timeShare?: () => number;
  /** Where the search begins; absent = at the plan in force, where there is one. Moves count against that one. */
  startFrom?: readonly PlacedVisit[];
}

export interface ScheduleProgress {
  iteration: number;
  best: PlanCost;
  placed: number;
  unplaced: number;
}

/** A rule of the judge that a plan breaks. */
export interface BrokenRule {
  rule: string;
  visit?: number;
  crew?: number;
  day?: number;
  /** What else it is about: the other visit, or the scarce item. */
  other?: number;
  /** How far beyond the limit, in the rule's own unit, where several visits share one. */
  over?: number;
  message: string;
}
