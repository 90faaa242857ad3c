/** Finished visits beside their estimates: what calibration and the back-test are made from. */
import {
  type ActualPart,
  type Actuals,
  type ActualVisit,
  estimateKey,
  type HourCalibration,
  NO_CALIBRATION,
  partMinutes,
  partOfTask,
  type WorkKind,
} from "@/lib/calibration";
import { type EndEstimate, type HourNorms, minutesOf, practiceFactor } from "@/lib/hours";
import type { Scheme } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { CompletedEnds } from "./types";
import { type HopEstimates, type NamedWork, parseVisitId } from "./visits";

/** A visit whose last report says done: all of its reports together. */
export interface WorkedVisit {
  visitId: string;
  /** Who worked most of it. */
  crewCode: string;
  /** Last day worked. */
  workedOn: CalendarDate;
  workedMin: number;
  /** Minutes that the crew timed, by part; empty when it timed none. */
  parts: ReadonlyMap<string, number>;
}

export interface ActualsInput {
  worked: readonly WorkedVisit[];
  schemes: ReadonlyMap<string, Scheme>;
  /** As kept, by hop code. */
  estimates: ReadonlyMap<string, HopEstimates>;
  /** Factor of each crew's people and pace on the reference crew's work. */
  paceOf: (crewCode: string) => number;
  norms: HourNorms;
  /** In force; an estimate made under another one waits until it is brought up to date. */
  calibration: HourCalibration;
}

const UNCALIBRATED = estimateKey(NO_CALIBRATION);

/** Finished installs by crew and scheme. */
export function completedEndsOf(
  worked: readonly WorkedVisit[],
  schemes: ReadonlyMap<string, Scheme>,
): CompletedEnds {
  const ends: Record<string, Partial<Record<Scheme, number>>> = {};
  for (const { visitId, crewCode } of worked) {
    const named = parseVisitId(visitId);
    const scheme = named && schemes.get(named.hopCode);
    if (named?.kind !== "install" || !scheme) continue;
    ends[crewCode] ??= {};
    ends[crewCode][scheme] = (ends[crewCode][scheme] ?? 0) + 1;
  }
  return ends;
}

/** The actuals, and the finished visits that have no estimate under the rules in force. */
export function actualsOf(input: ActualsInput): Actuals & { waiting: readonly WorkedVisit[] } {
  const visits: ActualVisit[] = [];
  const parts: ActualPart[] = [];
  const waiting: WorkedVisit[] = [];
  const before = endsBefore(input.worked, input.schemes);
  for (const w of input.worked) {
    const named = parseVisitId(w.visitId);
    // Readings and what failed ones ask for are too few and too unlike to learn from.
    if (named?.kind !== "install" && named?.kind !== "alignment") continue;
    const practice = practiceFactor(before.get(w.visitId) ?? 0, input.norms.learning);
    const found = besideEstimate(w, named, named.kind, practice, input);
    if (!found) {
      waiting.push(w);
      continue;
    }
    visits.push(found.visit);
    parts.push(...partsOf(w, found.visit, found.estimate, input));
  }
  return { visits, parts, waiting };
}

function besideEstimate(
  w: WorkedVisit,
  named: NamedWork,
  kind: WorkKind,
  practice: number,
  { estimates, schemes, paceOf, norms, calibration }: ActualsInput,
): { visit: ActualVisit; estimate: EndEstimate } | undefined {
  const { hopCode, side } = named;
  const scheme = schemes.get(hopCode);
  const hop = estimates.get(hopCode);
  if (!hop || !scheme) return undefined;
  const estimate = kind === "alignment" ? hop.alignment[side] : hop[side];
  const isCurrent =
    estimate.normsVersion === norms.version &&
    (estimate.calibrationKey ?? UNCALIBRATED) === estimateKey(calibration);
  const segments = estimate.parts ? estimate.parts[named.part - 1] : estimate.segments;
  if (!isCurrent || !segments || (!estimate.parts && named.part > 1)) return undefined;
  const { setupMin } = estimate;
  const share = (minutesOf(segments) - setupMin) / (estimate.durationMin - setupMin);
  // Back to what the norms say: the kind's factor is in the kept estimate, the crew's own is not.
  const factor = (share * practice * paceOf(w.crewCode)) / (calibration.work[kind]?.factor ?? 1);
  const work = (min: number) => Math.max(0, min - setupMin) * factor;
  const visit = {
    visitId: w.visitId,
    hopCode,
    side,
    kind,
    scheme,
    crewCode: w.crewCode,
    workedOn: w.workedOn,
    workedMin: w.workedMin,
    setupMin,
    workMin: work(estimate.durationMin),
    partShares: criticalShares(estimate),
    p10Min: work(estimate.p10Min),
    p50Min: work(estimate.p50Min),
    p90Min: work(estimate.p90Min),
  };
  return { visit, estimate };
}

/** By visit: ends of its scheme that its crew had finished on an earlier day. */
function endsBefore(
  worked: readonly WorkedVisit[],
  schemes: ReadonlyMap<string, Scheme>,
): Map<string, number> {
  const named = worked.flatMap((w) => {
    const of = parseVisitId(w.visitId);
    return of ? [{ w, of, key: `${w.crewCode} ${schemes.get(of.hopCode)}` }] : [];
  });
  const daysOf = new Map<string, CalendarDate[]>();
  for (const { w, of, key } of named)
    if (of.kind === "install") daysOf.set(key, [...(daysOf.get(key) ?? []), w.workedOn]);
  for (const days of daysOf.values()) days.sort();
  return new Map(
    named.map(({ w, key }) => {
      const days = daysOf.get(key) ?? [];
      const at = days.findIndex((d) => d >= w.workedOn);
      return [w.visitId, at < 0 ? days.length : at];
    }),
  );
}

/** By part, the share of the minutes after the set-up that are critical. */
function criticalShares({ sequence, tasks }: EndEstimate): Map<string, number> {
  const setup = new Set(tasks.filter((t) => t.isSetup).map((t) => t.id));
  const minutes = new Map<string, number>();
  let allMin = 0;
  for (const { taskId, startMin, endMin, critical } of sequence) {
    if (!critical || setup.has(taskId)) continue;
    const part = partOfTask(taskId);
    minutes.set(part, (minutes.get(part) ?? 0) + endMin - startMin);
    allMin += endMin - startMin;
  }
  return new Map([...minutes].map(([part, min]) => [part, min / allMin]));
}

/** The timed parts beside the norms' minutes, factors taken out; of work in several visits no part is compared. */
function partsOf(
  w: WorkedVisit,
  visit: ActualVisit,
  estimate: EndEstimate,
  { norms, calibration }: ActualsInput,
): ActualPart[] {
  if (w.parts.size === 0 || estimate.parts) return [];
  const setup = new Set(estimate.tasks.filter((t) => t.isSetup).map((t) => t.id));
  const workFactor = calibration.work[visit.kind]?.factor ?? 1;
  return partMinutes(estimate, norms).flatMap(({ part, name, estimateMin }) => {
    const workedMin = w.parts.get(part);
    if (workedMin === undefined) return [];
    const isSetup = setup.has(part);
    const factor = (isSetup ? 1 : workFactor) * (calibration.parts[part]?.factor ?? 1);
    const { visitId, hopCode, kind, scheme, crewCode } = visit;
    return [
      {
        visitId,
        hopCode,
        kind,
        scheme,
        crewCode,
        part,
        name,
        isSetup,
        workedMin,
        estimateMin: estimateMin / factor,
      },
    ];
  });
}
