/** Two plans side by side: which visits moved, what it does to promises, and what each costs in a manager's units. */
import type { PlanCost } from "@/lib/schedule";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { isPlaced, type PlanRow } from "./planEdit";
import { lastOpening, type ShutGate } from "./shutGates";

interface Place {
  crewCode: string;
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
}

export interface PlaceChanges {
  crew: boolean;
  /** Days later; negative = earlier. */
  byDays: number;
  /** Minutes by the clock; of a visit on another day without its days. */
  startMin: number;
  endMin: number;
  longerMin: number;
  daysBefore: number;
  daysNow: number;
}

/** What differs between two places of one visit. */
export function placeChanges(from: Place, to: Place): PlaceChanges {
  const days = (p: Place) => daysBetween(p.startOn, p.endOn) + 1;
  const span = (p: Place) => (days(p) - 1) * 1440 + p.endMin - p.startMin;
  return {
    crew: from.crewCode !== to.crewCode,
    byDays: daysBetween(from.startOn, to.startOn),
    startMin: to.startMin - from.startMin,
    endMin: to.endMin - from.endMin,
    longerMin: span(to) - span(from),
    daysBefore: days(from),
    daysNow: days(to),
  };
}

/** Of what moves, the widest: another day, else another crew, else only other hours of the same day. */
export type ChangeKind = "day" | "crew" | "new" | "gone" | "hours";

/** In the order in which people need to know. */
export const CHANGE_KINDS: readonly ChangeKind[] = ["day", "crew", "new", "gone", "hours"];

export interface ChangedVisit {
  visitId: string;
  kind: ChangeKind;
  from?: Place;
  to?: Place;
  /** Days later (positive) or earlier; undefined when it has no place in one of the plans. */
  days?: number;
}

/**
 * Every visit that another crew, day, start or end is given to, that gets a place or has none any more: also where only
 * one plan knows it. What is over by now (`isOver`: done, or before today) is in no newer plan and no change; a
 * withdrawn revisit is in neither plan.
 * Most days first, hours by day, then by name.
 */
export function changedVisits(
  before: readonly PlanRow[],
  after: readonly PlanRow[],
  isOver: (was: { visitId: string; startOn: CalendarDate }) => boolean,
): ChangedVisit[] {
  const was = new Map(before.filter(isNeeded).map((r) => [r.visitId, r]));
  const is = new Map(after.filter(isNeeded).map((r) => [r.visitId, r]));
  const ids = new Set([...was.keys(), ...is.keys()]);
  const changed = [...ids].flatMap((visitId): ChangedVisit[] => {
    const from = placeIn(was.get(visitId));
    const to = placeIn(is.get(visitId));
    const kind = changeOf(from, to);
    if (!kind || (kind === "gone" && !is.has(visitId) && isOver({ visitId, startOn: from!.startOn })))
      return [];
    return [{ visitId, kind, from, to, days: from && to && daysBetween(from.startOn, to.startOn) }];
  });
  const size = (c: ChangedVisit) => (c.days === undefined ? Number.POSITIVE_INFINITY : Math.abs(c.days));
  const on = (c: ChangedVisit) => c.to?.startOn ?? c.from!.startOn;
  return changed.sort((a, b) => {
    const [x, y] = [size(a), size(b)];
    if (x !== y) return y - x;
    return on(a).localeCompare(on(b)) || a.visitId.localeCompare(b.visitId);
  });
}

/** A withdrawn revisit counts in no plan. */
const isNeeded = (r: PlanRow) => !r.isWithdrawn;

function changeOf(from: Place | undefined, to: Place | undefined): ChangeKind | undefined {
  if (!from || !to) return from ? "gone" : to ? "new" : undefined;
  const { byDays, crew, startMin, endMin, daysBefore, daysNow } = placeChanges(from, to);
  if (byDays !== 0) return "day";
  if (crew) return "crew";
  return startMin !== 0 || endMin !== 0 || daysBefore !== daysNow ? "hours" : undefined;
}

function placeIn(row: PlanRow | undefined): Place | undefined {
  if (!row || !isPlaced(row)) return undefined;
  const { crewCode, startOn, startMin, endOn, endMin } = row;
  return { crewCode, startOn, startMin, endOn, endMin };
}

/** What changes for people on the day a draft is put in force. */
export interface InForceEffect {
  /** Visits by what changes of them. */
  counts: Readonly<Record<ChangeKind, number>>;
  /** All of them. */
  changed: number;
  /** Crews that something is given to or taken from. */
  crews: readonly string[];
  /** The first day, from today on, on which anybody does something else. */
  firstOn?: CalendarDate;
  /** Kits that are picked on another day, or that only one of the plans has. */
  kits: number;
}

type PickDays = readonly { visitId: string; pickOn: CalendarDate }[];

export function inForceEffect(
  changed: readonly ChangedVisit[],
  kits: { before: PickDays; after: PickDays },
  today: CalendarDate,
): InForceEffect {
  const places = changed.flatMap((c) => [c.from, c.to]).filter((p) => p !== undefined);
  // What began before and goes on changes from today on.
  const days = places.filter((p) => p.endOn >= today).map((p) => (p.startOn > today ? p.startOn : today));
  const was = new Map(kits.before.map((k) => [k.visitId, k.pickOn]));
  const is = new Map(kits.after.map((k) => [k.visitId, k.pickOn]));
  const count = (kind: ChangeKind) => changed.filter((c) => c.kind === kind).length;
  return {
    counts: {
      day: count("day"),
      crew: count("crew"),
      new: count("new"),
      gone: count("gone"),
      hours: count("hours"),
    },
    changed: changed.length,
    crews: [...new Set(places.map((p) => p.crewCode))].sort(),
    firstOn: days.length === 0 ? undefined : days.reduce((a, b) => (a < b ? a : b)),
    kits: [...new Set([...was.keys(), ...is.keys()])].filter((id) => was.get(id) !== is.get(id)).length,
  };
}

export interface HopFinish {
  hopCode: string;
  /** Day of the last visit; undefined while any visit of the hop has no place. */
  finishOn?: CalendarDate;
  promisedOn?: CalendarDate;
  /**
   * Positive = after the promise, a gate that opens later counted as the end; undefined without a finish or a promise.
   * Of a hop that missed its promise at least the days since.
   */
  daysLate?: number;
  /** A visit is planned before a gate of the hop opens. */
  isBeforeGate?: true;
  /** The last of those gates opens after the finish: then. */
  opensOn?: CalendarDate;
  /** A visit was put on hold since the plan was made: it has no finish until a plan gives it a place anew. */
  hold?: { by: string; reason: string };
}

/**
 * By hop code; none of a hop of which only withdrawn revisits are left.
 * @param shut by hop: gates that are shut when a visit is planned (`shutGates`); no work is done before they open
 * @param holds by visit: what was put on hold since the plan was made
 */
export function hopFinishes(
  rows: readonly (PlanRow & { hopCode: string })[],
  promises: ReadonlyMap<string, CalendarDate>,
  shut: ReadonlyMap<string, readonly ShutGate[]> = new Map(),
  holds: ReadonlyMap<string, { by: string; reason: string }> = new Map(),
): Map<string, HopFinish> {
  const byHop = new Map<string, (PlanRow & { hopCode: string })[]>();
  for (const r of rows.filter(isNeeded)) byHop.set(r.hopCode, [...(byHop.get(r.hopCode) ?? []), r]);
  return new Map(
    [...byHop].map(([hopCode, visits]): [string, HopFinish] => {
      const promisedOn = promises.get(hopCode);
      const gates = shut.get(hopCode) ?? [];
      const base = { hopCode, promisedOn, ...(gates.length > 0 && { isBeforeGate: true as const }) };
      const hold = visits.map((v) => holds.get(v.visitId)).find((h) => h !== undefined);
      if (hold) return [hopCode, { ...base, hold: { by: hold.by, reason: hold.reason } }];
      const placed = visits.filter(isPlaced);
      if (placed.length < visits.length) return [hopCode, base];
      const finishOn = placed.map((v) => v.endOn).reduce((a, b) => (a > b ? a : b));
      const opening = lastOpening(gates);
      const opensOn = opening !== undefined && opening > finishOn ? opening : undefined;
      const daysLate = promisedOn && daysBetween(promisedOn, opensOn ?? finishOn);
      return [hopCode, { ...base, finishOn, daysLate, ...(opensOn && { opensOn }) }];
    }),
  );
}

/**
 * The finishes, with hops that are not done though their promise has passed: late by the days since, whatever the plan
 * says of them and whether it has a visit of theirs.
 */
export function withMissed(
  finishes: ReadonlyMap<string, HopFinish>,
  missed: ReadonlySet<string>,
  promises: ReadonlyMap<string, CalendarDate>,
  today: CalendarDate,
): Map<string, HopFinish> {
  const late = [...missed].flatMap((hopCode): [string, HopFinish][] => {
    const promisedOn = promises.get(hopCode);
    if (promisedOn === undefined) return [];
    const finish = finishes.get(hopCode) ?? { hopCode, promisedOn };
    return [
      [hopCode, { ...finish, daysLate: Math.max(finish.daysLate ?? 0, daysBetween(promisedOn, today)) }],
    ];
  });
  return new Map([...finishes, ...late]);
}

export interface MovedHop extends HopFinish {
  was: HopFinish;
}

/**
 * The rows without visits that have no place and that the other plan does not know, though it knows their hop: they came
 * after it was made. Of a hop that it does not know at all every row counts.
 */
export function withoutLater<R extends PlanRow & { hopCode: string }>(
  rows: readonly R[],
  other: readonly (PlanRow & { hopCode: string })[],
): R[] {
  const known = new Set(other.map((r) => r.visitId));
  const knownHops = new Set(other.map((r) => r.hopCode));
  return rows.filter((r) => isPlaced(r) || known.has(r.visitId) || !knownHops.has(r.hopCode));
}

/**
 * Hops that finish on another day, or that one plan only finishes: also those of which the plan before has no visit. The
 * worst change first.
 */
export function movedHops(
  before: ReadonlyMap<string, HopFinish>,
  after: ReadonlyMap<string, HopFinish>,
): MovedHop[] {
  const moved = [...after.values()].flatMap((now): MovedHop[] => {
    const was = before.get(now.hopCode) ?? { hopCode: now.hopCode, promisedOn: now.promisedOn };
    return was.finishOn !== now.finishOn ? [{ ...now, was }] : [];
  });
  const change = (m: MovedHop) =>
    !m.finishOn ? Number.POSITIVE_INFINITY : m.was.finishOn ? daysBetween(m.was.finishOn, m.finishOn) : -1e6;
  return moved.sort((a, b) => {
    const [x, y] = [change(a), change(b)];
    return x === y ? a.hopCode.localeCompare(b.hopCode) : y - x;
  });
}

export interface CostLine {
  key: keyof PlanCost;
  label: string;
  unit: string;
  value: (c: PlanCost) => number;
}

/** The terms of the objective in the units in which a manager thinks, most important first. */
export const COST_LINES: readonly CostLine[] = [
  { key: "unplacedVisits", label: "Visits not placed", unit: "visits", value: (c) => c.unplacedVisits },
  {
    key: "lateHopDays",
    label: "Days late, weighted; a hop not finished counts to the plan's end",
    unit: "days",
    value: (c) => c.lateHopDays,
  },
  { key: "unfinishedHops", label: "Hops not finished", unit: "hops", value: (c) => c.unfinishedHops },
  { key: "crewDays", label: "Crew days", unit: "days", value: (c) => c.crewDays },
  { key: "overtimeMin", label: "Overtime", unit: "h", value: (c) => c.overtimeMin / 60 },
  { key: "nightsAway", label: "Nights away", unit: "nights", value: (c) => c.nightsAway },
  { key: "travelKm", label: "Road", unit: "km", value: (c) => c.travelKm },
  { key: "travelMin", label: "On the road", unit: "h", value: (c) => c.travelMin / 60 },
  {
    key: "openEndDays",
    label: "Ends waiting for their alignment",
    unit: "days",
    value: (c) => c.openEndDays,
  },
  { key: "riskMin", label: "Weather risk, P50 to P80", unit: "h", value: (c) => c.riskMin / 60 },
  {
    key: "movedVisits",
    label: "Moved against the plan in force",
    unit: "visits",
    value: (c) => c.movedVisits,
  },
  { key: "movedDays", label: "Days moved, summed", unit: "days", value: (c) => c.movedDays ?? 0 },
  { key: "imbalanceMin", label: "Uneven load between crews", unit: "h", value: (c) => c.imbalanceMin / 60 },
];

/**
 * The lines of a plan's own cost. What moved was counted against the plan in force when it was made: for a draft that
 * is the one in force, for any other plan the one before it.
 */
export function costLinesOf(state: "draft" | "in force" | "past"): readonly CostLine[] {
  if (state === "draft") return COST_LINES;
  return COST_LINES.map((line) =>
    line.key === "movedVisits" ? { ...line, label: "Moved against the plan before it" } : line,
  );
}

export interface CostChange {
  label: string;
  unit: string;
  before: number;
  after: number;
  /** As the two are shown. */
  change: number;
}

/** The change of a figure that is shown with so many decimals, such that what stands beside it adds up. */
export function shownChange(before: number, after: number, digits: number): number {
  const scale = 10 ** digits;
  return (Math.round(after * scale) - Math.round(before * scale)) / scale;
}

/** Terms that differ as they are shown, with one decimal. */
export function costChanges(before: PlanCost, after: PlanCost): CostChange[] {
  return COST_LINES.map(({ label, unit, value }) => ({
    label,
    unit,
    before: value(before),
    after: value(after),
    change: shownChange(value(before), value(after), 1),
  })).filter((c) => c.change !== 0);
}
