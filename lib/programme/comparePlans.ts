/** Two plans side by side: which visits moved, what it does to promises, and what each costs in a manager's units. */
import type { PlanCost } from "@/lib/schedule";
import { type CalendarDate, daysBetween } from "@/lib/time";
import { isPlaced, type PlanRow } from "./planEdit";

interface Place {
  crewCode: string;
  startOn: CalendarDate;
  startMin: number;
  endOn: CalendarDate;
  endMin: number;
}

export interface PlaceChanges {
  crew: boolean;
  day: boolean;
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
    day: from.startOn !== to.startOn,
    startMin: to.startMin - from.startMin,
    endMin: to.endMin - from.endMin,
    longerMin: span(to) - span(from),
    daysBefore: days(from),
    daysNow: days(to),
  };
}

export interface MovedVisit {
  visitId: string;
  from?: { crewCode: string; startOn: CalendarDate; startMin: number };
  to?: { crewCode: string; startOn: CalendarDate; startMin: number };
  /** Days later (positive) or earlier; undefined when it has no place in one of the plans. */
  days?: number;
}

/**
 * Visits whose crew or first day differs, those without a place in one of the plans included; ones that only one
 * plan knows (done meanwhile, new hops) are not compared. Most days first, then by name.
 */
export function movedVisits(before: readonly PlanRow[], after: readonly PlanRow[]): MovedVisit[] {
  const was = new Map(before.map((r) => [r.visitId, r]));
  const moved = after.flatMap((now): MovedVisit[] => {
    const then = was.get(now.visitId);
    if (!then) return [];
    const from = isPlaced(then) ? pick(then) : undefined;
    const to = isPlaced(now) ? pick(now) : undefined;
    if (from?.crewCode === to?.crewCode && from?.startOn === to?.startOn) return [];
    return [{ visitId: now.visitId, from, to, days: from && to && daysBetween(from.startOn, to.startOn) }];
  });
  const size = (m: MovedVisit) => (m.days === undefined ? Number.POSITIVE_INFINITY : Math.abs(m.days));
  return moved.sort((a, b) => {
    const [x, y] = [size(a), size(b)];
    return x === y ? a.visitId.localeCompare(b.visitId) : y - x;
  });
}

const pick = (r: { crewCode: string; startOn: CalendarDate; startMin: number }) => ({
  crewCode: r.crewCode,
  startOn: r.startOn,
  startMin: r.startMin,
});

/** What changes for people on the day a draft is put in force. */
export interface InForceEffect {
  /** Visits with another crew or day, with a place for the first time, or without one from now on. */
  moved: number;
  newlyPlaced: number;
  losePlace: number;
  /** Crews that something is given to or taken from. */
  crews: readonly string[];
  /** The first day, from today on, on which anybody does something else. */
  firstOn?: CalendarDate;
  /** Kits that are picked on another day, or that only one of the plans has. */
  kits: number;
}

type PickDays = readonly { visitId: string; pickOn: CalendarDate }[];

export function inForceEffect(
  moved: readonly MovedVisit[],
  kits: { before: PickDays; after: PickDays },
  today: CalendarDate,
): InForceEffect {
  const places = moved.flatMap((m) => [m.from, m.to]).filter((p) => p !== undefined);
  const days = places.map((p) => p.startOn).filter((on) => on >= today);
  const was = new Map(kits.before.map((k) => [k.visitId, k.pickOn]));
  const is = new Map(kits.after.map((k) => [k.visitId, k.pickOn]));
  return {
    moved: moved.length,
    newlyPlaced: moved.filter((m) => !m.from).length,
    losePlace: moved.filter((m) => !m.to).length,
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
  /** Positive = after the promise; undefined without a finish or a promise. */
  daysLate?: number;
}

export function hopFinishes(
  rows: readonly (PlanRow & { hopCode: string })[],
  promises: ReadonlyMap<string, CalendarDate>,
): Map<string, HopFinish> {
  const byHop = new Map<string, (PlanRow & { hopCode: string })[]>();
  for (const r of rows) byHop.set(r.hopCode, [...(byHop.get(r.hopCode) ?? []), r]);
  return new Map(
    [...byHop].map(([hopCode, visits]): [string, HopFinish] => {
      const promisedOn = promises.get(hopCode);
      const placed = visits.filter(isPlaced);
      if (placed.length < visits.length) return [hopCode, { hopCode, promisedOn }];
      const finishOn = placed.map((v) => v.endOn).reduce((a, b) => (a > b ? a : b));
      return [
        hopCode,
        { hopCode, finishOn, promisedOn, daysLate: promisedOn && daysBetween(promisedOn, finishOn) },
      ];
    }),
  );
}

export interface MovedHop extends HopFinish {
  was: HopFinish;
}

/** The rows without visits that have no place and that the other plan does not know: they came after it was made. */
export function withoutLater<R extends PlanRow>(rows: readonly R[], other: readonly PlanRow[]): R[] {
  const known = new Set(other.map((r) => r.visitId));
  return rows.filter((r) => isPlaced(r) || known.has(r.visitId));
}

/** Hops that finish on another day, or that one plan only finishes. The worst change first. */
export function movedHops(
  before: ReadonlyMap<string, HopFinish>,
  after: ReadonlyMap<string, HopFinish>,
): MovedHop[] {
  const moved = [...after.values()].flatMap((now): MovedHop[] => {
    const was = before.get(now.hopCode);
    return was && was.finishOn !== now.finishOn ? [{ ...now, was }] : [];
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
