/** When a sequence of work is done, given which hours suit which class and when the crew works. */
import { factorAt } from "./masks";
import {
  beginFrom,
  fitFrom,
  intersect,
  minuteAfter,
  minutesBefore,
  type Spans,
  spansOf,
  totalMinutes,
} from "./spans";
import type { HourMask, LimitingFactor, ShiftWeek, SpellSegment, WeatherPolicy, WorkClass } from "./types";
import { LIMITING_FACTORS, WORK_CLASSES } from "./types";
import { epochMinOf, type WallClock, wallClock, wallOf, weekdayOfDay } from "./wall-clock";

/** Tables of one mask and one crew week. Minutes count from `startsAtMillis`. */
export interface FinishTables {
  startsAtMillis: number;
  hours: number;
  clock: WallClock;
  /** The crew's shifts, whatever the weather. */
  shift: Spans;
  /** Per class, by WORK_CLASSES: minutes inside a shift that suit the class. */
  byClass: readonly Spans[];
}

/** Clock that covers a mask. */
export function clockOfMask(mask: Pick<HourMask, "startsAtMillis" | "hours">, zone: string): WallClock {
  return wallClock(zone, mask.startsAtMillis, mask.startsAtMillis + mask.hours * 3_600_000);
}

/**
 * Prepares a mask for `earliestFinish`.
 * @param shift the crew's week on the site's clock; a shift may end after midnight (toMin > 1440)
 * @param classes only these are filled; a query for another class throws
 */
export function finishTables(
  mask: HourMask,
  shift: ShiftWeek,
  clock: WallClock,
  classes: readonly WorkClass[] = WORK_CLASSES,
): FinishTables {
  const origin = mask.startsAtMillis / 60_000;
  const minutes = mask.hours * 60;
  const shifts: number[] = [];
  const firstDay = wallOf(clock, origin).day - 1;
  const lastDay = wallOf(clock, origin + minutes).day;
  const firstWeekday = weekdayOfDay(firstDay) - 1;
  for (let day = firstDay; day <= lastDay; day++) {
    const hours = shift[(firstWeekday + day - firstDay) % 7];
    if (!hours) continue;
    const from = Math.max(0, epochMinOf(clock, day, hours.fromMin) - origin, shifts.at(-1) ?? 0);
    const to = Math.min(minutes, epochMinOf(clock, day, hours.toMin) - origin);
    if (to > from) shifts.push(from, to);
  }
  return {
    startsAtMillis: mask.startsAtMillis,
    hours: mask.hours,
    clock,
    shift: spansOf(shifts, mask.hours),
    byClass: WORK_CLASSES.map((c, i) =>
      classes.includes(c) ? spansOf(workableIn(mask, i, shifts), mask.hours) : NO_SPANS,
    ),
  };
}

const NO_SPANS = spansOf([], 0);

/** Workable stretches inside the shifts, as from, to, from, to ... */
function workableIn(mask: HourMask, classIndex: number, shifts: readonly number[]): number[] {
  const { workable } = mask;
  const bit = 1 << classIndex;
  const pairs: number[] = [];
  for (let s = 0; s < shifts.length; s += 2) {
    const to = shifts[s + 1]!;
    let from = -1;
    for (let at = shifts[s]!; at < to; at = (Math.floor(at / 60) + 1) * 60) {
      const isOpen = (workable[Math.floor(at / 60)]! & bit) !== 0;
      if (isOpen && from < 0) from = at;
      if (!isOpen && from >= 0) {
        pairs.push(from, at);
        from = -1;
      }
    }
    if (from >= 0) pairs.push(from, to);
  }
  return pairs;
}

/** Tables of perfect weather: classes that ask the same of daylight share theirs. */
export function clearTables(
  clearMask: HourMask,
  policy: WeatherPolicy,
  shift: ShiftWeek,
  clock: WallClock,
): FinishTables {
  const first = (needsDaylight: boolean) =>
    WORK_CLASSES.findIndex((c) => policy.limits[c].needsDaylight === needsDaylight);
  const shown = [first(true), first(false)].filter((c) => c >= 0).map((c) => WORK_CLASSES[c]!);
  const tables = finishTables(clearMask, shift, clock, shown);
  return {
    ...tables,
    byClass: WORK_CLASSES.map((c) => tables.byClass[first(policy.limits[c].needsDaylight)]!),
  };
}

/**
 * Tables of work that two ends do at the same time, each with its own mask and crew: alignment.
 * @throws RangeError when the two do not cover the same hours
 */
export function jointTables(a: FinishTables, b: FinishTables): FinishTables {
  if (a.startsAtMillis !== b.startsAtMillis || a.hours !== b.hours) {
    throw new RangeError("the two ends' tables do not cover the same hours");
  }
  return {
    ...a,
    shift: intersect(a.shift, b.shift, a.hours),
    byClass: a.byClass.map((spans, c) => {
      const other = b.byClass[c]!;
      return spans === NO_SPANS || other === NO_SPANS ? NO_SPANS : intersect(spans, other, a.hours);
    }),
  };
}

/** How far a sequence came. Reused between queries where millions are asked. */
export interface Progress {
  isDone: boolean;
  /** Begin of the first work, NaN when none was begun. */
  startMin: number;
  /** End of the last work done. */
  endMin: number;
  /** First segment that is not done, and what is left of it. */
  segment: number;
  remainingMin: number;
  /** Begin of the segment placed last. */
  partStartMin: number;
}

export const newProgress = (): Progress => ({
  isDone: false,
  startMin: Number.NaN,
  endMin: 0,
  segment: 0,
  remainingMin: 0,
  partStartMin: 0,
});

/** Part of a sequence as it was placed: ready when the one before it ended. */
export interface WorkPart {
  segment: number;
  readyMin: number;
  startMin: number;
  endMin: number;
}

/**
 * Earliest finish of a sequence, or null when the mask ends first.
 *
 * Splittable segments pause at a bad hour and at the shift's end; others need one unbroken stretch inside a
 * shift; neighbours with the same `spell` need one unbroken stretch together. Each segment takes the earliest
 * minutes that it can, which is best for the whole: a later begin never ends earlier.
 *
 * @param startMin minutes from the tables' origin before which nothing begins
 */
export function earliestFinish(
  tables: FinishTables,
  segments: readonly SpellSegment[],
  startMin: number,
): { startMin: number; finishMin: number } | null {
  const progress = advance(tables, segments, startMin, newProgress());
  return progress.isDone ? { startMin: progress.startMin, finishMin: progress.endMin } : null;
}

/** Does as much of the sequence as the tables hold, from `startMin` on, and notes it in `progress`. */
export function advance(
  tables: FinishTables,
  segments: readonly SpellSegment[],
  startMin: number,
  progress: Progress,
  parts?: WorkPart[],
): Progress {
  progress.isDone = false;
  progress.startMin = Number.NaN;
  progress.endMin = startMin;
  for (let s = 0; s < segments.length; ) {
    const end = spellEnd(segments, s);
    const segment = segments[s]!;
    const ready = progress.endMin;
    progress.segment = s;
    progress.remainingMin = segment.durationMin;
    if (segment.splittable && end === s + 1) {
      if (!placeSplit(spansOfClass(tables, segment.workClass), ready, progress)) return progress;
    } else if (!placeUnbroken(tables, segments, s, end, ready, progress)) return progress;
    if (parts) noteParts(parts, segments, s, end, ready, progress);
    s = end;
  }
  progress.isDone = true;
  progress.segment = segments.length;
  if (Number.isNaN(progress.startMin)) progress.startMin = startMin;
  return progress;
}

/** Places `progress.remainingMin` minutes in any workable minutes; what finds no place remains. */
function placeSplit(spans: Spans, ready: number, progress: Progress): boolean {
  const begin = progress.remainingMin > 0 ? beginFrom(spans, ready) : ready;
  if (begin === undefined) return false;
  progress.partStartMin = begin;
  if (Number.isNaN(progress.startMin) && progress.remainingMin > 0) progress.startMin = begin;
  if (progress.remainingMin === 0) return true;
  const behind = minutesBefore(spans, ready);
  const finish = minuteAfter(spans, behind + progress.remainingMin);
  if (finish === undefined) {
    progress.remainingMin -= totalMinutes(spans) - behind;
    return false;
  }
  progress.endMin = finish;
  progress.remainingMin = 0;
  return true;
}

/** Places segments s..end-1 in one unbroken stretch, or not at all. */
function placeUnbroken(
  tables: FinishTables,
  segments: readonly SpellSegment[],
  s: number,
  end: number,
  ready: number,
  progress: Progress,
): boolean {
  const begin = fitSpell(tables, segments, s, end, ready);
  if (begin === undefined) return false;
  progress.partStartMin = begin;
  let finish = begin;
  for (let k = s; k < end; k++) finish += segments[k]!.durationMin;
  if (Number.isNaN(progress.startMin) && finish > begin) progress.startMin = begin;
  progress.endMin = finish;
  progress.remainingMin = 0;
  return true;
}

function noteParts(
  parts: WorkPart[],
  segments: readonly SpellSegment[],
  s: number,
  end: number,
  ready: number,
  progress: Progress,
): void {
  let at = progress.partStartMin;
  for (let k = s; k < end; k++) {
    const to = k === end - 1 ? progress.endMin : at + segments[k]!.durationMin;
    parts.push({ segment: k, readyMin: k === s ? ready : at, startMin: at, endMin: to });
    at = to;
  }
}

function spansOfClass(tables: FinishTables, workClass: WorkClass): Spans {
  const spans = tables.byClass[WORK_CLASSES.indexOf(workClass)]!;
  if (spans === NO_SPANS) throw new RangeError(`the tables were made without class "${workClass}"`);
  return spans;
}

function spellEnd(segments: readonly SpellSegment[], s: number): number {
  const spell = segments[s]!.spell;
  let end = s + 1;
  if (spell !== undefined) while (end < segments.length && segments[end]!.spell === spell) end++;
  return end;
}

/** Earliest begin at which every segment of the spell fits unbroken, each in its own class. */
function fitSpell(
  tables: FinishTables,
  segments: readonly SpellSegment[],
  s: number,
  end: number,
  t: number,
): number | undefined {
  let begin = t;
  for (;;) {
    let at = begin;
    let moved = false;
    for (let k = s; k < end; k++) {
      const { workClass, durationMin } = segments[k]!;
      if (durationMin > 0) {
        const fit = fitFrom(spansOfClass(tables, workClass), at, durationMin);
        if (fit === undefined) return undefined;
        if (fit > at) {
          begin += fit - at;
          moved = true;
          break;
        }
      }
      at += durationMin;
    }
    if (!moved) return begin;
  }
}

/** Shift minutes that passed without work, by what closed the class that was next. */
export interface LostTime {
  lostMin: Record<LimitingFactor, number>;
  /** The hours suited the class, but not for long enough in one stretch. */
  shortSpellMin: number;
}

/** Adds the lost shift minutes of placed parts to `lost`. */
export function addLostTime(
  mask: HourMask,
  tables: FinishTables,
  segments: readonly SpellSegment[],
  parts: readonly WorkPart[],
  lost: LostTime,
): void {
  const { shift } = tables;
  for (const part of parts) {
    const segment = segments[part.segment]!;
    const c = WORK_CLASSES.indexOf(segment.workClass);
    const isSplit = segment.splittable && segment.spell === undefined;
    const until = isSplit ? part.endMin : part.startMin;
    for (let i = 0; i < shift.from.length; i++) {
      if (shift.to[i]! <= part.readyMin) continue;
      if (shift.from[i]! >= until) break;
      const from = Math.max(shift.from[i]!, part.readyMin);
      const to = Math.min(shift.to[i]!, until);
      for (let h = Math.floor(from / 60); h * 60 < to; h++) {
        const minutes = Math.min(to, h * 60 + 60) - Math.max(from, h * 60);
        const factor = factorAt(mask, c, h);
        if (factor !== "none") lost.lostMin[factor] += minutes;
        else if (!isSplit) lost.shortSpellMin += minutes;
      }
    }
  }
}

export function noLostTime(): LostTime {
  return {
    lostMin: Object.fromEntries(LIMITING_FACTORS.map((f) => [f, 0])) as Record<LimitingFactor, number>,
    shortSpellMin: 0,
  };
}
