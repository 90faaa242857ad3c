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

/**
 * What is drawn with what comes into view beside it: a scroll beyond what is drawn ahead takes in a little, and drops
 * nothing. What is apart, as after a jump, or more than is drawn ahead, stands alone.
 */
export function joined(drawn: Reach, inView: Reach): Reach {
  if (holds(drawn, inView)) return drawn;
  const areApart =
    inView.fromDay > drawn.toDay ||
    inView.toDay < drawn.fromDay ||
    inView.fromRow > drawn.toRow ||
    inView.toRow < drawn.fromRow;
  const both: Reach = {
    fromDay: Math.min(drawn.fromDay, inView.fromDay),
    toDay: Math.max(drawn.toDay, inView.toDay),
    fromRow: Math.min(drawn.fromRow, inView.fromRow),
    toRow: Math.max(drawn.toRow, inView.toRow),
  };
  return areApart || crewDaysOf(both) > MOST_CREW_DAYS ? inView : both;
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
