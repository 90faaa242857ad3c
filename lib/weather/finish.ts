/** When a sequence of work is done, given which hours suit which class and when the crew works. */
import { beginFrom, fitFrom, minuteAfter, minutesBefore, type Spans, totalMinutes } from "./spans";
import { type FinishTables, spansOfClass } from "./tables";
import type { SpellSegment } from "./types";

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
