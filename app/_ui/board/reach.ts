/** A part of the board: days [fromDay, toDay) of rows [fromRow, toRow). */
export interface Reach {
  fromDay: number;
  toDay: number;
  fromRow: number;
  toRow: number;
}

export const holds = (a: Reach, b: Reach): boolean =>
  a.fromDay <= b.fromDay && a.toDay >= b.toDay && a.fromRow <= b.fromRow && a.toRow >= b.toRow;

/** More is not drawn ahead: beyond it a browser takes longer over what is drawn than over drawing it when it comes. */
export const MOST_CREW_DAYS = 8000;

const crewDaysOf = ({ fromDay, toDay, fromRow, toRow }: Reach): number =>
  (toDay - fromDay) * (toRow - fromRow);

/** Days or rows [from, to). */
export interface Stretch {
  from: number;
  to: number;
}

export const areApart = (a: Reach, b: Reach): boolean =>
  a.fromDay > b.toDay || a.toDay < b.fromDay || a.fromRow > b.toRow || a.toRow < b.fromRow;

/**
 * Days that a row draws: those in view when it is in view, with them what is drawn ahead where they meet; `undefined` =
 * the row is not drawn. A row that comes into view undrawn takes no more than is seen of it: all its days at once, as a
 * board drawn ahead has them, are a long task.
 */
export function rowDays(
  isInView: boolean,
  days: Stretch,
  row: number,
  ahead: Reach | undefined,
): Stretch | undefined {
  const isAhead = ahead !== undefined && row >= ahead.fromRow && row < ahead.toRow;
  if (!isAhead) return isInView ? days : undefined;
  const known: Stretch = { from: ahead.fromDay, to: ahead.toDay };
  if (!isInView) return known;
  // After a jump: what lies between was never in view.
  if (days.from > known.to || days.to < known.from) return days;
  return { from: Math.min(days.from, known.from), to: Math.max(days.to, known.to) };
}

/** More rows than this do not come at once. */
export const MOST_ROWS_AT_ONCE = 2;

/**
 * From the rows that are shown towards those in view: what left the view goes, and a few come, those beside what is
 * shown first. The same object when they are shown.
 */
export function nextRows(shown: Stretch, inView: Stretch): Stretch {
  if (shown.from === inView.from && shown.to === inView.to) return shown;
  const areRowsApart = shown.to <= inView.from || shown.from >= inView.to;
  const kept: Stretch = areRowsApart
    ? { from: inView.from, to: inView.from }
    : { from: Math.max(shown.from, inView.from), to: Math.min(shown.to, inView.to) };
  const to = Math.min(inView.to, kept.to + MOST_ROWS_AT_ONCE);
  const left = MOST_ROWS_AT_ONCE - (to - kept.to);
  return { from: Math.max(inView.from, kept.from - left), to };
}

/**
 * A step more of the board than `reach`: a chunk on both sides, once all days are in a row above and below. The same
 * object when all of it, or as much as is drawn ahead, is in.
 */
export function grown(reach: Reach, dayCount: number, rowCount: number, chunkDays: number): Reach {
  const isWide = reach.fromDay <= 0 && reach.toDay >= dayCount;
  const next = isWide
    ? { ...reach, fromRow: Math.max(0, reach.fromRow - 1), toRow: Math.min(rowCount, reach.toRow + 1) }
    : {
        ...reach,
        fromDay: Math.max(0, reach.fromDay - chunkDays),
        toDay: Math.min(dayCount, reach.toDay + chunkDays),
      };
  const isMore = !holds(reach, next);
  return isMore && crewDaysOf(next) <= MOST_CREW_DAYS ? next : reach;
}

/** Rows [from, to) that a stretch of pixels touches; `tops` as from `topsOf`. */
export function rowsIn(tops: readonly number[], fromPx: number, toPx: number): { from: number; to: number } {
  const count = tops.length - 1;
  let from = 0;
  while (from < count && (tops[from + 1] ?? 0) < fromPx) from++;
  let to = from;
  while (to < count && (tops[to] ?? 0) <= toPx) to++;
  return { from, to };
}
