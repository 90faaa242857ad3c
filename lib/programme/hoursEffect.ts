/** What other factors would do to the hours of the plan: visit by visit, crew by crew. */
import { crewFactor, type HourCalibration, partOfTask } from "@/lib/calibration";
import { type EndEstimate, minutesOf, retimedMin } from "@/lib/hours";
import type { Scheme } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { HopEstimates } from "./visits";
import { type NamedWork, parseVisitId } from "./visits";

/** A visit of the plan that is still to do. */
export interface VisitToDo {
  visitId: string;
  crewCode: string;
  startOn: CalendarDate;
}

export interface VisitChange extends VisitToDo {
  beforeMin: number;
  afterMin: number;
}

export interface HoursEffect {
  visitCount: number;
  beforeMin: number;
  afterMin: number;
  /** Standard deviation of log(actual / estimate) that makes the ranges; undefined = the tasks' own. */
  spreadBefore?: number;
  spreadAfter?: number;
  /** By crew code. */
  crews: readonly { code: string; visitCount: number; beforeMin: number; afterMin: number }[];
  /** The visits that change most, longest change first. */
  most: readonly VisitChange[];
}

const MOST_SHOWN = 12;

/**
 * Hours on site by the factors in force and by others, set-up included, without weather. Who does a visit stays as
 * planned. Where parts change, everyone keeps the order of work; the next estimate may find a better one.
 *
 * @param estimates as kept, by hop code; a visit without one is left out
 * @param paceOf factor of a crew's people, pace and practice
 */
export function hoursEffect(
  visits: readonly VisitToDo[],
  schemes: ReadonlyMap<string, Scheme>,
  estimates: ReadonlyMap<string, HopEstimates>,
  paceOf: (crewCode: string, scheme: Scheme) => number,
  before: HourCalibration,
  after: HourCalibration,
): HoursEffect {
  const retimed = new Map<EndEstimate, number>();
  const changes = visits.flatMap((v): VisitChange[] => {
    const named = parseVisitId(v.visitId);
    const hop = named && estimates.get(named.hopCode);
    const scheme = named && schemes.get(named.hopCode);
    if (!named || !hop || !scheme) return [];
    const estimate = keptOf(named, hop);
    const segments = estimate?.parts ? estimate.parts[named.part - 1] : estimate?.segments;
    if (!estimate || !segments) return [];
    let partsFactor = retimed.get(estimate);
    if (partsFactor === undefined) {
      partsFactor = factorOfParts(estimate, before, after);
      retimed.set(estimate, partsFactor);
    }
    const workMin = (minutesOf(segments) - estimate.setupMin) * paceOf(v.crewCode, scheme);
    const crew = { crewCode: v.crewCode, scheme };
    const kind = named.kind === "alignment" ? "alignment" : "install";
    const kindFactor = (after.work[kind]?.factor ?? 1) / (before.work[kind]?.factor ?? 1);
    return [
      {
        ...v,
        beforeMin: estimate.setupMin + workMin * crewFactor(crew, before),
        afterMin: estimate.setupMin + workMin * partsFactor * kindFactor * crewFactor(crew, after),
      },
    ];
  });
  const total = (list: readonly VisitChange[], of: "beforeMin" | "afterMin") =>
    list.reduce((sum, c) => sum + c[of], 0);
  const codes = [...new Set(changes.map((c) => c.crewCode))].sort();
  const size = (c: VisitChange) => Math.abs(c.afterMin - c.beforeMin);
  return {
    visitCount: changes.length,
    beforeMin: total(changes, "beforeMin"),
    afterMin: total(changes, "afterMin"),
    spreadBefore: before.spread?.logSd,
    spreadAfter: after.spread?.logSd,
    crews: codes.map((code) => {
      const own = changes.filter((c) => c.crewCode === code);
      return {
        code,
        visitCount: own.length,
        beforeMin: total(own, "beforeMin"),
        afterMin: total(own, "afterMin"),
      };
    }),
    most: changes
      .filter((c) => size(c) >= 1)
      .sort((a, b) => size(b) - size(a) || (a.visitId < b.visitId ? -1 : 1))
      .slice(0, MOST_SHOWN),
  };
}

/** Revisits are few, and their hours stand with the plan only: they are left out. */
function keptOf({ kind, side }: NamedWork, hop: HopEstimates): EndEstimate | undefined {
  switch (kind) {
    case "install":
      return hop[side];
    case "alignment":
      return hop.alignment[side];
    case "acceptance":
      return hop.acceptance?.[side];
    case "revisit":
      return undefined;
  }
}

/** Work after the set-up with the parts' new factors, over what it is now. */
function factorOfParts(e: EndEstimate, before: HourCalibration, after: HourCalibration): number {
  const changed = new Map<string, number>();
  for (const part of new Set([...Object.keys(before.parts), ...Object.keys(after.parts)])) {
    const factor = (after.parts[part]?.factor ?? 1) / (before.parts[part]?.factor ?? 1);
    if (factor !== 1) changed.set(part, factor);
  }
  if (changed.size === 0 || !e.tasks.some((t) => changed.has(partOfTask(t.id)))) return 1;
  const afterMin = retimedMin(e, (taskId) => changed.get(partOfTask(taskId)) ?? 1);
  return Math.max(0, afterMin - e.setupMin) / (e.durationMin - e.setupMin);
}
