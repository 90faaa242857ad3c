/** How accepted factors enter the hours: the norms' minutes by part, and an end's estimate as a whole. */
import {
  type EndEstimate,
  type HourNorms,
  normalQuantile,
  pertMeanMin,
  type TaskTemplate,
  type ThreePoint,
  visitParts,
  type WorkSegment,
} from "@/lib/hours";
import { bandOf } from "./expect";
import type { HourCalibration, WorkKind } from "./types";

/** Ways up and down and the rest between them: no template, so one part of its own. */
export const CLIMB_PART = "climb";

/** The part of the norms that a task of an estimate belongs to: `fix-cable-2~1` is a piece of `fix-cable`. */
export function partOfTask(taskId: string): string {
  const part = taskId.split("~")[0]!.replace(/-\d+$/, "");
  return part === "descent" || part === "rest" ? CLIMB_PART : part;
}

/** Every part that minutes can be given for, in the order of work. */
export function partKeys(norms: HourNorms): string[] {
  return [
    CLIMB_PART,
    ...norms.templates.map((t) => t.part),
    norms.extraTask.part,
    ...norms.alignmentTemplates.map((t) => t.part),
  ];
}

/** What the climbs are called, whose minutes stand with no task. */
export const CLIMB_NAME = "Kit up, climb, rest between climbs and climb down";

/** How people call a part. */
export function partName(part: string, norms: HourNorms): string {
  if (part === CLIMB_PART) return CLIMB_NAME;
  return (
    [...norms.templates, ...norms.alignmentTemplates, norms.extraTask].find((t) => t.part === part)?.name ??
    part
  );
}

export interface PartMinutes {
  part: string;
  name: string;
  estimateMin: number;
}

/** Minutes of an estimate by part, in the order of work; what several people do at once counts once. */
export function partMinutes(e: EndEstimate, norms: HourNorms): PartMinutes[] {
  const byId = new Map(e.tasks.map((t) => [t.id, t]));
  const minutes = new Map<string, number>();
  for (const { taskId } of e.sequence) {
    const part = partOfTask(taskId);
    minutes.set(part, (minutes.get(part) ?? 0) + pertMeanMin(byId.get(taskId)!.duration));
  }
  return [...minutes].map(([part, estimateMin]) => ({ part, name: partName(part, norms), estimateMin }));
}

/** The norms with each part's minutes times its accepted factor. */
export function calibratedNorms(norms: HourNorms, { parts }: HourCalibration): HourNorms {
  if (Object.keys(parts).length === 0) return norms;
  const template = (t: TaskTemplate): TaskTemplate => {
    const f = parts[t.part]?.factor ?? 1;
    if (f === 1) return t;
    return { ...t, fixed: times(t.fixed, f), per: t.per.map((p) => ({ ...p, ...times(p, f) })) };
  };
  const align = parts.align?.factor ?? 1;
  return {
    ...norms,
    templates: norms.templates.map(template),
    alignmentTemplates: norms.alignmentTemplates.map(template),
    extraTask: template(norms.extraTask),
    climb: climbTimes(norms.climb, parts[CLIMB_PART]?.factor ?? 1),
    alignment: {
      ...norms.alignment,
      small: times(norms.alignment.small, align),
      large: times(norms.alignment.large, align),
    },
  };
}

const times = (t: ThreePoint, f: number): ThreePoint => ({
  aMin: t.aMin * f,
  mMin: t.mMin * f,
  bMin: t.bMin * f,
});

function climbTimes(climb: HourNorms["climb"], f: number): HourNorms["climb"] {
  if (f === 1) return climb;
  const slower = (speeds: typeof climb.ascentMPerMin) =>
    Object.fromEntries(Object.entries(speeds).map(([k, v]) => [k, v / f])) as typeof speeds;
  return {
    ...climb,
    ascentMPerMin: slower(climb.ascentMPerMin),
    descentMPerMin: slower(climb.descentMPerMin),
    restMinPerM: climb.restMinPerM * f,
    kitUp: times(climb.kitUp, f),
    restBetween: times(climb.restBetween, f),
  };
}

/** Differs when an end's estimate does: crews' factors are not in it, they stretch it for each crew on its own. */
export function estimateKey({ parts, work, spread }: HourCalibration): string {
  const factors = Object.entries(parts)
    .map(([part, { factor }]) => [part, factor] as const)
    .sort(([a], [b]) => (a < b ? -1 : 1));
  return JSON.stringify([
    factors,
    work.install?.factor ?? 1,
    work.alignment?.factor ?? 1,
    spread?.logSd ?? 0,
  ]);
}

/**
 * An estimate with its work after the set-up times the kind's accepted factor, and its range by the accepted spread.
 * Who does what when stays: the clock runs slower or faster from the set-up's end on. An alignment that becomes too
 * long for one visit is cut anew.
 */
export function calibratedEstimate(
  e: EndEstimate,
  kind: WorkKind,
  c: HourCalibration,
  { alignment: { longestVisitMin } }: HourNorms,
): EndEstimate {
  const factor = c.work[kind]?.factor ?? 1;
  const logSd = c.spread?.logSd;
  const calibrationKey = estimateKey(c);
  if (factor === 1 && logSd === undefined) return { ...e, calibrationKey };
  const at = (min: number) => (min <= e.setupMin ? min : e.setupMin + factor * (min - e.setupMin));
  const sequence = e.sequence.map((s) => ({ ...s, startMin: at(s.startMin), endMin: at(s.endMin) }));
  const personMin = sequence.reduce((sum, s) => sum + s.people.length * (s.endMin - s.startMin), 0);
  const people = (e.idleMin + e.personHours * 60) / e.durationMin;
  const durationMin = at(e.durationMin);
  const { parts: _, ...whole } = e;
  const longer: EndEstimate = {
    ...whole,
    ...rangeOf(e, factor, logSd),
    calibrationKey,
    durationMin,
    sequence,
    tasks: e.tasks.map((t) => (t.isSetup ? t : { ...t, duration: times(t.duration, factor) })),
    segments: segmentsAt(e.segments, at),
    lowerBoundMin: at(e.lowerBoundMin),
    withOneMoreClimberMin: at(e.withOneMoreClimberMin),
    personHours: personMin / 60,
    idleMin: people * durationMin - personMin,
    ...(e.longestSpellMin !== undefined && { longestSpellMin: e.longestSpellMin * factor }),
  };
  const parts = kind === "alignment" ? visitParts(longer, longestVisitMin) : [];
  return parts.length > 1 ? { ...longer, parts } : longer;
}

/** Quantiles on the work after the set-up. */
function rangeOf(e: EndEstimate, factor: number, logSd: number | undefined) {
  const work = (min: number) => Math.max(0, min - e.setupMin);
  const p50Min = work(e.p50Min);
  const outer = bandOf({ p10Min: work(e.p10Min), p50Min, p90Min: work(e.p90Min) }, logSd);
  const p80Min = logSd === undefined ? work(e.p80Min) : p50Min * Math.exp(Z80 * logSd);
  const onSite = (min: number) => e.setupMin + factor * min;
  return {
    p10Min: onSite(outer.p10Min),
    p50Min: onSite(p50Min),
    p80Min: onSite(p80Min),
    p90Min: onSite(outer.p90Min),
  };
}

const Z80 = normalQuantile(0.8);

/** Each segment between the new minutes of its two ends. */
function segmentsAt(segments: readonly WorkSegment[], at: (min: number) => number): WorkSegment[] {
  let fromMin = 0;
  return segments.map((s) => {
    const toMin = fromMin + s.durationMin;
    const durationMin = at(toMin) - at(fromMin);
    fromMin = toMin;
    return { ...s, durationMin };
  });
}
