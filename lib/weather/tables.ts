/** Workable minutes of a mask inside a crew's shifts, ready for `earliestFinish`. */
import { intersect, type Spans, spansOf } from "./spans";
import type { HourMask, ShiftWeek, WeatherPolicy, WorkClass } from "./types";
import { WORK_CLASSES } from "./types";
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
function workableIn(
  { workable }: Pick<HourMask, "workable">,
  classIndex: number,
  shifts: readonly number[],
): number[] {
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
  if (a === b) return a;
  if (a.startsAtMillis !== b.startsAtMillis || a.hours !== b.hours) {
    throw new RangeError("the two ends' tables do not cover the same hours");
  }
  const made: { spans: Spans; other: Spans; both: Spans }[] = [];
  return {
    ...a,
    shift: intersect(a.shift, b.shift, a.hours),
    byClass: a.byClass.map((spans, c) => {
      const other = b.byClass[c]!;
      if (spans === NO_SPANS || other === NO_SPANS) return NO_SPANS;
      // Classes that ask the same of daylight share their stretches: once is enough.
      const known = made.find((m) => m.spans === spans && m.other === other);
      if (known) return known.both;
      const both = intersect(spans, other, a.hours);
      made.push({ spans, other, both });
      return both;
    }),
  };
}

/**
 * Tables of workable hours inside shifts that are known already: what many profiles of one place share.
 * @param workable bits by WORK_CLASSES, one byte an hour
 * @param within tables of the same hours; their shifts are taken over
 */
export function tablesWithin(
  workable: Uint8Array,
  within: FinishTables,
  classes: readonly WorkClass[],
): FinishTables {
  const shifts = pairsOf(within.shift);
  return {
    ...within,
    byClass: WORK_CLASSES.map((c, i) =>
      classes.includes(c) ? spansOf(workableIn({ workable }, i, shifts), within.hours) : NO_SPANS,
    ),
  };
}

function pairsOf({ from, to }: Spans): number[] {
  const pairs: number[] = [];
  for (let i = 0; i < from.length; i++) pairs.push(from[i]!, to[i]!);
  return pairs;
}

/** Stretches of one class. @throws RangeError when the tables were made without it */
export function spansOfClass(tables: FinishTables, workClass: WorkClass): Spans {
  const spans = tables.byClass[WORK_CLASSES.indexOf(workClass)]!;
  if (spans === NO_SPANS) throw new RangeError(`the tables were made without class "${workClass}"`);
  return spans;
}
