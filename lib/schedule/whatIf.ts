/** One visit looked at closely: where else it could stand, and what a move by hand would do. */
import { Random } from "@/lib/random";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import { PlanEdit } from "./edit";
import { evaluateModel, unheld } from "./evaluate";
import { blockOf, explainUnplaced, type StoppedBy, Stops } from "./explain";
import { Blink } from "./insert/blink";
import { leadOf, placeAt } from "./insert/insert";
import { findJointSpot } from "./insert/joint";
import { anywhere, type Within } from "./insert/range";
import { findSpot } from "./insert/single";
import { Spot } from "./insert/spot";
import { judge } from "./judge";
import { keepOthers } from "./keepOthers";
import { buildModel, type Model } from "./model";
import { brokenSince } from "./newlyBroken";
import { paceOf } from "./pace";
import { PlanState } from "./plan";
import { warmStart } from "./replan";
import { nightsAway, placedVisits } from "./result";
import type { BrokenRule, PlacedVisit, Plan, PlanCost, ScheduleProblem } from "./types";
import { newWork, workDay } from "./work";

type PlanDates = Pick<Plan, "placed" | "nights">;

const work = newWork();

const noBlink = new Blink(new Random("what if"), 0);

/** Another place of a visit and what it would cost, term by term, against the plan as it is. */
export interface Alternative {
  visit: PlacedVisit;
  /** The other end, when the work is joint. */
  other?: PlacedVisit;
  /** Term by term: alternative minus plan. */
  difference: PlanCost;
}

export interface WhyHere {
  /** As it stands; undefined = unplaced. */
  now?: PlacedVisit;
  /** Cheapest first; the place it has is not among them. */
  alternatives: readonly Alternative[];
  /** Crew-days on which no place was found. */
  impossible: number;
  /** The same crew-days by the rule that stops the visit there, the most frequent first. */
  stops: readonly StoppedBy[];
}

/**
 * The other places a visit could have with everything else staying where it is: the best of every crew-day, the
 * cheapest `most` of them.
 */
export function whyHere(
  problem: ScheduleProblem,
  plan: PlanDates,
  visit: number,
  most = 5,
): Result<WhyHere, Problem> {
  const opened = open(problem, plan);
  if (!opened.ok) return opened;
  const { m, edit } = opened.value;
  const unknown = unknownVisit(m, visit);
  if (unknown) return refused(unknown);
  const now = plan.placed.find((x) => x.visit === visit);
  const blocked = blockOf(m, visit);
  if (blocked) return ok(nowhere(m, blocked, now));
  const lead = leadOf(m, visit);
  const costNow = edit.cost();
  takeOut(edit, visit);
  const found: Alternative[] = [];
  let impossible = 0;
  const stops = new Stops(edit, visit);
  for (let day = 0; day < m.dayCount; day++) {
    for (let crew = 0; crew < m.crewCount; crew++) {
      if (m.works[day * m.crewCount + crew] === 0) continue;
      if (now && now.startDay === day && now.crew === crew) continue;
      const spot = new Spot();
      find(edit, lead, visit, onlyOn(m, crew, day), spot);
      const mark = edit.state.mark();
      if (spot.crew < 0 || !placeAt(edit, visit, spot)) {
        impossible++;
        edit.state.undoTo(mark);
        stops.add(crew, day);
        continue;
      }
      const placed = placedVisits(edit);
      found.push({
        visit: placed.find((x) => x.visit === visit)!,
        other: placed.find((x) => x.visit === m.partner[visit]),
        difference: minus(edit.cost(), costNow),
      });
      edit.state.undoTo(mark);
    }
  }
  found.sort(
    (a, b) =>
      a.difference.total - b.difference.total ||
      a.visit.startDay - b.visit.startDay ||
      a.visit.crew - b.visit.crew,
  );
  return ok({ now, alternatives: found.slice(0, most), impossible, stops: stops.ranked() });
}

/** What is blocked has no other place: one reason for every crew-day. */
function nowhere(m: Model, { rule, detail }: { rule: string; detail: string }, now?: PlacedVisit): WhyHere {
  const isOther = (at: number) => !now || at !== now.startDay * m.crewCount + now.crew;
  const crewDays = [...m.works.keys()].filter((at) => m.works[at] !== 0 && isOther(at));
  const [first] = crewDays;
  if (first === undefined) return { now, alternatives: [], impossible: 0, stops: [] };
  const example = { crew: first % m.crewCount, day: Math.floor(first / m.crewCount), text: detail };
  const stops = [{ rule, crewDays: crewDays.length, example }];
  return { now, alternatives: [], impossible: crewDays.length, stops };
}

export interface Move {
  visit: number;
  crew: number;
  day: number;
  /** Where in the day; without it the cheapest place in the day. */
  startMin?: number;
  /** Of joint work: the crew at the other end; without it the one that suits best. */
  otherCrew?: number;
}

export interface MoveEffect {
  plan: Plan;
  /** What the move breaks; empty = it breaks nothing. */
  broken: readonly BrokenRule[];
  /** What the plan broke before it and still does. */
  brokenBefore: readonly BrokenRule[];
  before: PlanCost;
  after: PlanCost;
}

/**
 * What the plan would be after a visit is dropped on a crew and day. Where the rules allow it, times follow and
 * everything else keeps its crew and day; where they do not, the visit is put there all the same, as long as its work
 * takes, and the broken rules are told. Nothing is decided here: the caller shows it and the planner accepts it.
 */
export function tryMove(problem: ScheduleProblem, plan: Plan, move: Move): Result<MoveEffect, Problem> {
  return tryMoves(problem, plan, [move]);
}

/**
 * Several visits dropped as one: all are taken out before the first is put down, in order of day and minute, so that
 * they do not stand in each other's way. Of joint work one end is named; the other follows it.
 */
export function tryMoves(
  problem: ScheduleProblem,
  plan: Plan,
  moves: readonly Move[],
): Result<MoveEffect, Problem> {
  const held = new Set(moves.map((x) => x.visit));
  // A pin on the visit itself does not hold the hand that moves it; the judge still tells of it.
  const opened = open({ ...problem, pinned: problem.pinned.filter((x) => !held.has(x.visit)) }, plan);
  if (!opened.ok) return opened;
  const { m, free, edit, lost } = opened.value;
  const unknown = moves.map((x) => unknownVisit(m, x.visit) ?? unknownCrewDay(m, x)).find((x) => x);
  if (unknown) return refused(unknown);
  const read = { placed: [...placedVisits(edit), ...lost], nights: nightsAway(edit) };
  for (const move of moves) takeOut(edit, move.visit);
  const inOrder = [...moves].sort(
    (a, b) => a.day - b.day || (a.startMin ?? 0) - (b.startMin ?? 0) || a.visit - b.visit,
  );
  // What stays counts where the planner sees it: once a visit is out, those behind it move up.
  const stood = new Map(plan.placed.filter((x) => !held.has(x.visit)).map((x) => [x.visit, x]));
  const against = inOrder.filter((move) => !putWhereDropped(edit, move, stood));
  const goes = new Set(moves.flatMap((x) => [x.visit, m.partner[x.visit]!]));
  const walked = [
    ...placedVisits(edit),
    ...lost.filter((x) => !goes.has(x.visit)),
    ...against.flatMap((move) => forced(m, plan, move)),
  ];
  const stored = { placed: plan.placed, nights: plan.nights ?? [] };
  const next = keepOthers(m, stored, read, { placed: walked, nights: nightsAway(edit) }, goes);
  const isPlaced = new Set(next.placed.map((x) => x.visit));
  const unplaced = explainUnplaced(edit, 0).filter((x) => !isPlaced.has(x.visit));
  return ok(effectOn(problem, free, plan, { ...next, unplaced }, goes, judge(problem, plan)));
}

/** A visit and the place that it is to have; none = taken out of the plan. */
export interface StatedPlace {
  visit: number;
  to?: PlacedVisit;
}

/**
 * What the plan would be with some visits exactly where they are stated, to the minute, and everything else where it is.
 * `earlier` is the plan in which they stood there: what that broke already is no doing of going back to it.
 */
export function tryPlaces(
  problem: ScheduleProblem,
  plan: Plan,
  places: readonly StatedPlace[],
  earlier?: Pick<Plan, "placed" | "unplaced">,
): Result<MoveEffect, Problem> {
  const stated = new Set(places.map((x) => x.visit));
  const placed = [
    ...plan.placed.filter((x) => !stated.has(x.visit)),
    ...places.flatMap((x) => (x.to ? [x.to] : [])),
  ];
  const unplaced = [
    ...plan.unplaced.filter((x) => !stated.has(x.visit)),
    ...places.flatMap((x) =>
      x.to ? [] : [{ visit: x.visit, rule: "not placed", detail: "it had no place before" }],
    ),
  ];
  const freed = { ...problem, pinned: problem.pinned.filter((x) => !stated.has(x.visit)) };
  const opened = open(freed, { placed, nights: plan.nights });
  if (!opened.ok) return opened;
  const { free, edit } = opened.value;
  const nights = nightsAway(edit);
  const known = judge(problem, plan);
  if (earlier) known.push(...judge(freed, { ...earlier, nights }));
  return ok(effectOn(problem, free, plan, { placed, unplaced, nights }, stated, known));
}

/**
 * What the plan would be with every visit on its crew and day, in its order, and the times that follow from the data as
 * they are now. A visit that the engine would not place where it stands keeps its times, and the judge tells why.
 */
export function tryTimes(problem: ScheduleProblem, plan: Plan): Result<MoveEffect, Problem> {
  const opened = open(problem, plan);
  if (!opened.ok) return opened;
  const { free, edit, lost } = opened.value;
  const dates = {
    placed: [...placedVisits(edit), ...lost].sort((a, b) => a.visit - b.visit),
    unplaced: plan.unplaced,
    nights: nightsAway(edit),
  };
  return ok(effectOn(problem, free, plan, dates, new Set(), judge(problem, plan)));
}

function effectOn(
  problem: ScheduleProblem,
  free: Model,
  plan: Plan,
  dates: Pick<Plan, "placed" | "unplaced" | "nights">,
  moved: ReadonlySet<number>,
  known: readonly BrokenRule[],
): MoveEffect {
  const before = evaluateModel(free, plan);
  const after = evaluateModel(free, dates);
  const next: Plan = { ...plan, ...dates, cost: after };
  return { plan: next, ...brokenSince(known, judge(problem, next), moved), before, after };
}

interface Opened {
  m: Model;
  /** Without pins and frozen days: what plans are priced by. */
  free: Model;
  edit: PlanEdit;
  /** Visits that the engine would not place where the plan has them (the plan breaks a rule there). */
  lost: readonly PlacedVisit[];
}

function open(problem: ScheduleProblem, plan: PlanDates): Result<Opened, Problem> {
  const built = buildModel(problem);
  if (!built.ok) return built;
  const free = buildModel(unheld(problem));
  if (!free.ok) return free;
  const m = built.value;
  const edit = new PlanEdit(m, new PlanState(m));
  edit.start();
  warmStart(edit, plan.placed);
  return ok({ m, free: free.value, edit, lost: plan.placed.filter((x) => edit.state.crewOf[x.visit]! < 0) });
}

function takeOut(edit: PlanEdit, visit: number): void {
  for (const v of [visit, edit.model.partner[visit]!])
    if (v >= 0 && edit.state.crewOf[v]! >= 0) edit.remove(v);
}

/** One crew's day; the other end of joint work with the crew that is named, or with any. */
function onlyOn(m: Model, crew: number, day: number, otherCrew?: number): Within {
  const all = anywhere(m);
  return {
    firstDay: day,
    lastDay: day,
    crews: Int32Array.of(crew),
    otherCrews: otherCrew === undefined ? all.otherCrews : Int32Array.of(otherCrew),
  };
}

function find(edit: PlanEdit, lead: number, visit: number, within: Within, spot: Spot): void {
  if (edit.model.partner[lead]! >= 0) findJointSpot(edit, visit, noBlink, spot, within);
  else findSpot(edit, visit, noBlink, spot, within);
}

function putWhereDropped(edit: PlanEdit, move: Move, stood: ReadonlyMap<number, PlacedVisit>): boolean {
  const { model: m, state: s } = edit;
  const spot = new Spot();
  const within = onlyOn(m, move.crew, move.day, move.otherCrew);
  if (move.startMin !== undefined && m.partner[move.visit]! < 0) {
    // Behind the last visit of that day that starts before the minute dropped on.
    let after = -1;
    const at = move.day * m.crewCount + move.crew;
    const startOf = (u: number): number => {
      const was = stood.get(u);
      return was?.startDay === move.day && was.crew === move.crew ? was.startMin : s.startMin[u]!;
    };
    for (let u = s.head[at]!; u >= 0 && startOf(u) < move.startMin; u = s.next[u]!) after = u;
    find(edit, move.visit, move.visit, within, spot);
    if (spot.crew < 0) return false;
    edit.aim(move.visit);
    if (edit.trial(move.visit, move.crew, move.day, after, -1, -1) < Number.POSITIVE_INFINITY)
      spot.after = after;
  } else find(edit, leadOf(m, move.visit), move.visit, within, spot);
  return placeAt(edit, move.visit, spot);
}

/** The visit where it was dropped, whatever it breaks; its other end comes along, with the crew named or else its own. */
function forced(m: Model, plan: PlanDates, move: Move): PlacedVisit[] {
  const v = move.visit;
  const b = m.partner[v]!;
  const startMin = Math.min(1439, move.startMin ?? firstStart(m, move, b));
  const other = b >= 0 ? plan.placed.find((x) => x.visit === b) : undefined;
  const otherCrew = move.otherCrew ?? other?.crew;
  const paced = (visit: number, crew: number) => paceOf(m, crew, visit) * m.stretch[visit]![move.day]!;
  const own = paced(v, move.crew);
  // The slower crew sets how long joint work takes.
  const factor = otherCrew === undefined ? own : Math.max(own, paced(b, otherCrew));
  const seg = m.segFrom[v]!;
  const masks = m.masks[v]!;
  workDay(work, m, v, move.day, startMin, 1440, factor, seg, m.segMin[seg]!, masks, m.masks[b] ?? masks);
  // Where the day's hours do not hold all of it, it stands as long as its work takes: the judge tells what is left.
  const endMin = work.done ? work.last : Math.min(1440, startMin + Math.ceil(m.workMin[v]! * factor));
  const here = { visit: v, crew: move.crew, startDay: move.day, startMin, endDay: move.day, endMin };
  return otherCrew === undefined ? [here] : [here, { ...here, visit: b, crew: otherCrew }];
}

/**
 * The first minute of the day at which the work could begin by the crew's shift, the site and the hours of its work. Where
 * one of them is closed all day the others decide: the judge names it.
 */
function firstStart(m: Model, { visit: v, crew, day: of }: Move, other: number): number {
  const day = Math.min(of, m.dayCount - 1);
  const there = shiftFrom(m, crew, day) + m.travelMin[m.depot[crew]! * m.placeCount + m.place[v]!]!;
  const week = v * 7 + m.weekday[day]!;
  const opens = m.accessFrom[week]! < m.accessTo[week]! ? m.accessFrom[week]! : 0;
  const from = Math.max(there, opens) + m.setupMin[v]!;
  const row = m.segClass[m.segFrom[v]!]! * m.dayCount + day;
  const hours = m.masks[v]![row]! & (m.masks[other] ?? m.masks[v]!)[row]!;
  for (let hour = Math.floor(from / 60); hour < 24; hour++)
    if ((hours >>> hour) & 1) return Math.max(from, hour * 60);
  return from;
}

/** When the crew's day begins; on a day off when it does on the working day next to it. */
function shiftFrom(m: Model, crew: number, day: number): number {
  const works = (d: number) => {
    const at = d * m.crewCount + crew;
    return d >= 0 && d < m.dayCount && m.toMin[at]! > m.fromMin[at]! ? m.fromMin[at] : undefined;
  };
  for (let away = 0; away < m.dayCount; away++) {
    const from = works(day - away) ?? works(day + away);
    if (from !== undefined) return from;
  }
  return 0;
}

function minus(a: PlanCost, b: PlanCost): PlanCost {
  const difference = { ...a };
  for (const key of Object.keys(a) as (keyof PlanCost)[]) difference[key] = (a[key] ?? 0) - (b[key] ?? 0);
  return difference;
}

function unknownVisit(m: Model, visit: number): Problem | undefined {
  if (m.problem.visits[visit]) return undefined;
  return {
    path: "visit",
    rule: "index-range",
    value: visit,
    message: "There is no such visit.",
    remedy: "Choose a visit of this plan.",
  };
}

function unknownCrewDay(m: Model, move: Move): Problem | undefined {
  if (m.problem.crews[move.crew] && Number.isInteger(move.day) && move.day >= 0 && move.day < m.dayCount)
    return undefined;
  return {
    path: "crew",
    rule: "index-range",
    value: move,
    message: "There is no such crew or day.",
    remedy: "Drop it on a crew and day of this plan.",
  };
}
