/**
 * A stored plan read back into the problem of the crews: to judge it, to price it, and to see what a move by hand
 * would do before anybody accepts it. Names stand outside, indices inside.
 */
import { type Phrase, phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import {
  amountOf,
  type BrokenRule,
  brokenSince,
  judge,
  type Move,
  type MoveEffect,
  type NightAway,
  type PlacedVisit,
  type Plan,
  type PlanCost,
  type ScheduleProblem,
  type StatedPlace,
  tryMoves,
  tryPlaces,
  tryTimes,
  whyHere,
} from "@/lib/schedule";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { freedOfFrozen } from "./freedOfFrozen";
import type { NamedVisit } from "./types";
import { underWay } from "./underWay";

/** A visit of a stored plan, placed or not. */
export interface PlanRow {
  visitId: string;
  crewCode: string | null;
  startOn: CalendarDate | null;
  startMin: number | null;
  endOn: CalendarDate | null;
  endMin: number | null;
  isPinned: boolean;
  unplacedRule: string | null;
  unplacedDetail: string | null;
  /** A revisit that was taken back since the plan was made: nothing is left to do. */
  isWithdrawn?: boolean;
}

/** A night away of a stored plan: the day counts from the plan's first, the place follows from the work. */
export interface StoredNight {
  crewCode: string;
  on: CalendarDate;
}

export function isPlaced<R extends PlanRow>(row: R): row is R & NamedVisit {
  return row.crewCode !== null && row.startOn !== null && row.endOn !== null;
}

/** Visits that began before `today` and that nobody goes on with: overdue or on hold. A plan from today on cannot move them. */
export function leftBehind(
  rows: readonly PlanRow[],
  today: CalendarDate,
  onHold: ReadonlySet<string>,
): Set<string> {
  const placed = rows.filter(isPlaced);
  const goesOn = new Set(underWay(placed, today, onHold).map((r) => r.visitId));
  return new Set(placed.filter((r) => r.startOn < today && !goesOn.has(r.visitId)).map((r) => r.visitId));
}

export function placedFromRows(problem: ScheduleProblem, rows: readonly PlanRow[]): PlacedVisit[] {
  const visitIndex = new Map(problem.visits.map((v, i) => [v.id, i]));
  const crewIndex = new Map(problem.crews.map((c, i) => [c.code, i]));
  return rows.flatMap((r): PlacedVisit[] => {
    const visit = visitIndex.get(r.visitId);
    const crew = r.crewCode === null ? undefined : crewIndex.get(r.crewCode);
    if (!isPlaced(r) || visit === undefined || crew === undefined) return [];
    const startDay = daysBetween(problem.firstDay, r.startOn);
    const endDay = daysBetween(problem.firstDay, r.endOn);
    if (endDay >= problem.dayCount) return [];
    if (startDay < 0) return problem.underWay?.filter((x) => x.visit === visit && x.crew === crew) ?? [];
    return [{ visit, crew, startDay, startMin: r.startMin, endDay, endMin: r.endMin }];
  });
}

/** Cost and bound are not read from the rows: ask `evaluate`. */
export function planFromRows(
  problem: ScheduleProblem,
  rows: readonly PlanRow[],
  nights: readonly StoredNight[],
  cost: PlanCost,
): Plan {
  const placed = placedFromRows(problem, rows);
  const isIn = new Set(placed.map((p) => p.visit));
  const row = new Map(rows.map((r) => [r.visitId, r]));
  return {
    placed,
    unplaced: problem.visits.flatMap((v, visit) =>
      isIn.has(visit)
        ? []
        : [
            {
              visit,
              rule: row.get(v.id)?.unplacedRule ?? "not in the plan",
              detail: row.get(v.id)?.unplacedDetail ?? "the visit came after the plan was made",
            },
          ],
    ),
    nights: nightsFrom(problem, placed, nights),
    cost,
    lowerBound: 0,
    seed: "",
    iterations: 0,
  };
}

/** A crew sleeps where it stopped: at the site of the last visit it started up to that day. */
function nightsFrom(
  problem: ScheduleProblem,
  placed: readonly PlacedVisit[],
  nights: readonly StoredNight[],
): NightAway[] {
  return nights.flatMap((n): NightAway[] => {
    const crew = problem.crews.findIndex((c) => c.code === n.crewCode);
    const day = daysBetween(problem.firstDay, n.on);
    if (crew < 0 || day < 0 || day >= problem.dayCount) return [];
    const last = placed
      .filter((p) => p.crew === crew && p.startDay <= day)
      .reduce<PlacedVisit | undefined>(
        (a, b) =>
          a && (a.startDay > b.startDay || (a.startDay === b.startDay && a.startMin > b.startMin)) ? a : b,
        undefined,
      );
    return last ? [{ crew, day, place: problem.visits[last.visit]!.place }] : [];
  });
}

export function storedNights(problem: ScheduleProblem, nights: readonly NightAway[]): StoredNight[] {
  return nights.map((n) => ({
    crewCode: problem.crews[n.crew]!.code,
    on: addDays(problem.firstDay, n.day),
  }));
}

/**
 * The problem as the judge is to see a plan: its own pins, and what was in force before it.
 * @param onHold visits that the frozen days do not keep: such a visit may stay where it was, or have left them
 */
export function problemAgainst(
  problem: ScheduleProblem,
  rows: readonly PlanRow[],
  inForce: readonly PlanRow[],
  frozenUntil: CalendarDate | undefined,
  onHold: ReadonlySet<string> = new Set(),
): ScheduleProblem {
  const frozenDays = frozenUntil === undefined ? 0 : daysBetween(problem.firstDay, frozenUntil);
  const frozenUntilDay = inForce.length > 0 ? Math.max(0, frozenDays) : 0;
  const was = placedFromRows(problem, inForce);
  const is = new Map(placedFromRows(problem, rows).map((x) => [x.visit, x]));
  const pinned = placedFromRows(
    problem,
    rows.filter((r) => r.isPinned),
  );
  const stays = [...pinned, ...(problem.underWay ?? [])];
  const freed = freedOfFrozen(problem.visits, was, stays, frozenUntilDay, onHold);
  return {
    ...problem,
    inForce: was.filter((x) => !freed.has(x.visit) || same(x, is.get(x.visit))),
    pinned,
    frozenUntilDay,
  };
}

/** A rule that a plan breaks, by the names that people use. */
export interface BrokenByName {
  rule: string;
  message: string;
  visitId?: string;
  crewCode?: string;
  on?: CalendarDate;
}

export function brokenByName(problem: ScheduleProblem, broken: readonly BrokenRule[]): BrokenByName[] {
  return oncePerItem(problem, broken).map((b) => ({
    rule: b.rule,
    message: withDates(b.message, problem.firstDay),
    visitId: b.visit === undefined ? undefined : problem.visits[b.visit]?.id,
    crewCode: b.crew === undefined ? undefined : problem.crews[b.crew]?.code,
    on: b.day === undefined ? undefined : addDays(problem.firstDay, b.day),
  }));
}

/** The judge finds an item short on every day on which kits begin; a person reads it once, with its worst. */
function oncePerItem(problem: ScheduleProblem, broken: readonly BrokenRule[]): BrokenRule[] {
  const isShort = (b: BrokenRule) => b.rule === "kit" && b.visit === undefined && b.day !== undefined;
  const daysOf = new Map<number | undefined, BrokenRule[]>();
  for (const b of broken.filter(isShort)) daysOf.set(b.other, [...(daysOf.get(b.other) ?? []), b]);
  return broken.flatMap((b): BrokenRule[] => {
    const days = isShort(b) ? daysOf.get(b.other)! : [];
    if (days.length < 2) return [b];
    if (days[0] !== b) return [];
    const item = problem.scarce![b.other!]!;
    const over = Math.max(...days.map((d) => d.over ?? 0));
    const [first, last] = [b.day!, days.at(-1)!.day!];
    const message = `kits begun from day ${first} to day ${last} take up to ${amountOf(item, over)} of ${item.code} more than has come`;
    return [{ ...b, over, message }];
  });
}

/** The judge counts days from the plan's first; people read dates. */
function withDates(message: string, firstDay: CalendarDate): string {
  return message.replace(/\bday (\d+)\b/g, (_, day: string) => addDays(firstDay, Number(day)));
}

/**
 * Hard rules that putting a plan in force would break, and those that the plan in force breaks as well: these are no
 * reason to keep it. Of a visit that stands elsewhere only the very same sentence counts as old.
 */
export function judgeAgainst(
  problem: ScheduleProblem,
  plan: Plan,
  inForce: Plan | undefined,
): Pick<NamedEffect, "broken" | "brokenBefore"> {
  const before = inForce ? judge(problem, inForce) : [];
  const was = new Map(inForce?.placed.map((x) => [x.visit, x]));
  const moved = new Set(plan.placed.filter((x) => !same(x, was.get(x.visit))).map((x) => x.visit));
  const { broken, brokenBefore } = brokenSince(before, judge(problem, plan), moved);
  return { broken: brokenByName(problem, broken), brokenBefore: brokenByName(problem, brokenBefore) };
}

/** One visit before and after a move; `from` or `to` is undefined while it has no place. */
export interface VisitShift {
  visitId: string;
  from?: NamedVisit;
  to?: NamedVisit;
  /** Set when it loses its place: the rule that stops it now. */
  unplaced?: { rule: string; detail: string };
}

export interface NamedEffect {
  /** The visit moved first, then what moves with it or because of it. */
  shifts: VisitShift[];
  /** Hard rules that the move would break, or break further. */
  broken: BrokenByName[];
  /** Hard rules that were broken before it, and still are: data changed since, or an earlier edit broke them. */
  brokenBefore: BrokenByName[];
  before: PlanCost;
  after: PlanCost;
  nights: StoredNight[];
}

export interface NamedMove {
  visitId: string;
  crewCode: string;
  on: CalendarDate;
  startMin?: number;
  /** Of joint work: the other end, which comes along, stays with its crew too; else with the one that suits best. */
  otherKeepsCrew?: boolean;
}

/** What a move would do; nothing is decided here. Problems name the field that cannot be read. */
export function effectOfMove(
  problem: ScheduleProblem,
  plan: Plan,
  move: NamedMove,
): Result<NamedEffect, Problem> {
  return effectOfMoves(problem, plan, [move]);
}

/** The same of several visits moved as one. Of joint work whose both ends are named, the first goes and the other follows. */
export function effectOfMoves(
  problem: ScheduleProblem,
  plan: Plan,
  moves: readonly NamedMove[],
): Result<NamedEffect, Problem> {
  const read: Move[] = [];
  for (const move of moves) {
    const one = moveByIndex(problem, move);
    if (!one.ok) return one;
    const partner = problem.visits[one.value.visit]!.togetherWith;
    if (read.some((x) => x.visit === one.value.visit || x.visit === partner)) continue;
    const other = move.otherKeepsCrew ? plan.placed.find((x) => x.visit === partner) : undefined;
    read.push({ ...one.value, otherCrew: other?.crew });
  }
  // A pin says where a person put it; the same hand may move it on, with its other end.
  const freed = freedOf(
    problem,
    read.map((x) => x.visit),
  );
  const tried = tryMoves(freed, plan, read);
  return tried.ok
    ? ok(
        namedEffect(
          problem,
          plan,
          tried.value,
          read.map((x) => x.visit),
        ),
      )
    : tried;
}

function moveByIndex(problem: ScheduleProblem, move: NamedMove): Result<Move, Problem> {
  const visit = problem.visits.findIndex((v) => v.id === move.visitId);
  if (problem.underWay?.some((x) => x.visit === visit)) return refused(goesOnNow(move.visitId));
  const crew = problem.crews.findIndex((c) => c.code === move.crewCode);
  const day = daysBetween(problem.firstDay, move.on);
  if (visit < 0)
    return refused(unknown("visitId", move.visitId, phrase("Choose a visit that is still to do.")));
  if (crew < 0)
    return refused(unknown("crewCode", move.crewCode, phrase("Choose one of the crews on the board.")));
  if (day < 0 || day >= problem.dayCount) {
    const last = addDays(problem.firstDay, problem.dayCount - 1);
    return refused(
      unknown(
        "on",
        move.on,
        phrase("Choose a day from {{from}} to {{to}}.", { from: problem.firstDay, to: last }),
      ),
    );
  }
  return ok({ visit, crew, day, startMin: move.startMin });
}

function freedOf(problem: ScheduleProblem, visits: readonly number[]): ScheduleProblem {
  const free = new Set(visits.flatMap((v) => [v, problem.visits[v]!.togetherWith ?? v]));
  return { ...problem, pinned: problem.pinned.filter((p) => !free.has(p.visit)) };
}

/** What it would do to give every visit the times that follow from the data as they are now; none leaves its place. */
export function effectOfTimes(problem: ScheduleProblem, plan: Plan): Result<NamedEffect, Problem> {
  const tried = tryTimes(problem, plan);
  return tried.ok ? ok(namedEffect(problem, plan, tried.value, [])) : tried;
}

/** A visit and where it is to stand again; none = without a place. */
export interface NamedPlace {
  visitId: string;
  place?: NamedVisit;
}

/**
 * What it would do to put visits exactly where they are said to stand: what taking a move back comes to. `earlier` is
 * the plan as it was when they stood there; what that broke is not held against going back.
 */
export function effectOfPlaces(
  problem: ScheduleProblem,
  plan: Plan,
  places: readonly NamedPlace[],
  earlier?: Pick<Plan, "placed" | "unplaced">,
): Result<NamedEffect, Problem> {
  const read: StatedPlace[] = [];
  for (const { visitId, place } of places) {
    const visit = problem.visits.findIndex((v) => v.id === visitId);
    if (visit < 0 || problem.underWay?.some((x) => x.visit === visit)) return refused(goesOnNow(visitId));
    if (!place) {
      read.push({ visit });
      continue;
    }
    const crew = problem.crews.findIndex((c) => c.code === place.crewCode);
    const startDay = daysBetween(problem.firstDay, place.startOn);
    const endDay = daysBetween(problem.firstDay, place.endOn);
    if (crew < 0)
      return refused(unknown("crewCode", place.crewCode, phrase("Move the visit to another crew.")));
    if (startDay < 0 || endDay >= problem.dayCount) {
      return refused({
        path: "startOn",
        rule: "day-is-past",
        value: place.startOn,
        ...sentences(
          phrase("{{visit}} stood on {{day}}, which the plan from today on no longer reaches.", {
            visit: visitId,
            day: place.startOn,
          }),
          phrase("Move the visit to a day that is still to come."),
        ),
      });
    }
    read.push({
      visit,
      to: { visit, crew, startDay, startMin: place.startMin, endDay, endMin: place.endMin },
    });
  }
  const visits = read.map((x) => x.visit);
  const tried = tryPlaces(freedOf(problem, visits), plan, read, earlier);
  return tried.ok ? ok(namedEffect(problem, plan, tried.value, visits)) : tried;
}

function namedEffect(
  problem: ScheduleProblem,
  plan: Plan,
  { plan: next, broken, brokenBefore, before, after }: MoveEffect,
  moved: readonly number[],
): NamedEffect {
  const reasons = new Map(next.unplaced.map((u) => [u.visit, { rule: u.rule, detail: u.detail }]));
  return {
    shifts: shiftsBetween(problem, plan.placed, next.placed, moved).map(({ visit: v, from, to }) => ({
      visitId: problem.visits[v]!.id,
      from,
      to,
      unplaced: to ? undefined : reasons.get(v),
    })),
    broken: brokenByName(problem, broken),
    brokenBefore: brokenByName(problem, brokenBefore),
    before,
    after,
    nights: storedNights(problem, next.nights ?? []),
  };
}

const goesOnNow = (visitId: string): Problem =>
  unknown("visitId", visitId, phrase("It is done or under way: leave it where it is."));

function unknown(path: string, value: string, remedy: Phrase): Problem {
  const message = phrase("{{what}} is not part of this plan.", { what: value });
  return { path, rule: "not-in-plan", value, ...sentences(message, remedy) };
}

function shiftsBetween(
  problem: ScheduleProblem,
  before: readonly PlacedVisit[],
  after: readonly PlacedVisit[],
  moved: readonly number[],
): { visit: number; from?: NamedVisit; to?: NamedVisit }[] {
  const was = new Map(before.map((p) => [p.visit, p]));
  const is = new Map(after.map((p) => [p.visit, p]));
  const shifts = problem.visits.flatMap((_, visit) => {
    const a = was.get(visit);
    const b = is.get(visit);
    return same(a, b) ? [] : [{ visit, from: a && named(problem, a), to: b && named(problem, b) }];
  });
  const own = new Set(moved);
  const others = new Set(moved.map((v) => problem.visits[v]!.togetherWith));
  const rank = (v: number) => (own.has(v) ? 0 : others.has(v) ? 1 : 2);
  return shifts.sort((a, b) => rank(a.visit) - rank(b.visit) || a.visit - b.visit);
}

function same(a: PlacedVisit | undefined, b: PlacedVisit | undefined): boolean {
  if (!a || !b) return a === b;
  return (
    a.crew === b.crew &&
    a.startDay === b.startDay &&
    a.startMin === b.startMin &&
    a.endDay === b.endDay &&
    a.endMin === b.endMin
  );
}

function named(problem: ScheduleProblem, p: PlacedVisit): NamedVisit {
  return {
    visitId: problem.visits[p.visit]!.id,
    crewCode: problem.crews[p.crew]!.code,
    startOn: addDays(problem.firstDay, p.startDay),
    startMin: p.startMin,
    endOn: addDays(problem.firstDay, p.endDay),
    endMin: p.endMin,
  };
}

export interface OtherPlace {
  visit: NamedVisit;
  other?: NamedVisit;
  /** This place minus the one it has, term by term. */
  difference: PlanCost;
}

export interface StopByName {
  rule: string;
  crewDays: number;
  example: { crewCode: string; on: CalendarDate; text: string };
}

export interface WhyHereByName {
  places: OtherPlace[];
  /** Crew-days that hold no place for it. */
  impossible: number;
  /** The same by the rule that stops it there, the most frequent first, each with one such crew-day. */
  stops: StopByName[];
}

/** The other places of a visit while everything else stays, the cheapest first; its own pin does not hold it, nor the hand. */
export function otherPlaces(
  problem: ScheduleProblem,
  plan: Plan,
  visitId: string,
  most = 5,
): Result<WhyHereByName, Problem> {
  const visit = problem.visits.findIndex((v) => v.id === visitId);
  if (visit < 0) return refused(unknown("visitId", visitId, phrase("Choose a visit that is still to do.")));
  if (problem.underWay?.some((x) => x.visit === visit)) return refused(goesOnNow(visitId));
  const why = whyHere(freedOf(problem, [visit]), plan, visit, most);
  if (!why.ok) return why;
  return ok({
    impossible: why.value.impossible,
    stops: why.value.stops.map(({ rule, crewDays, example }) => ({
      rule,
      crewDays,
      example: {
        crewCode: problem.crews[example.crew]!.code,
        on: addDays(problem.firstDay, example.day),
        text: example.text,
      },
    })),
    places: why.value.alternatives.map((a) => ({
      visit: named(problem, a.visit),
      other: a.other && named(problem, a.other),
      difference: a.difference,
    })),
  });
}
