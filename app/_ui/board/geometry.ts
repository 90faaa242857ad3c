import type { BoardDay, BoardVisit } from "./types";

/** The stretch of the working day that a day column shows. Minutes of the day. */
export interface DaySpan {
  fromMin: number;
  toMin: number;
}

/** Narrowest stretch, in whole hours, that holds the start and end of every visit; 07:00 to 17:00 when there is none. */
export function daySpanOf(visits: readonly BoardVisit[]): DaySpan {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const visit of visits) {
    if (visit.crewId === null) continue;
    from = Math.min(from, visit.startMin);
    to = Math.max(to, visit.endMin);
  }
  if (to <= from) return { fromMin: 420, toMin: 1020 };
  return { fromMin: Math.max(0, Math.floor(from / 60) * 60), toMin: Math.min(1440, Math.ceil(to / 60) * 60) };
}

/** Pixels from the board's first day to a time, clamped into the shown part of the day. */
export function xOf(day: number, minute: number, span: DaySpan, dayPx: number): number {
  const share = (minute - span.fromMin) / (span.toMin - span.fromMin);
  return (day + Math.min(1, Math.max(0, share))) * dayPx;
}

/** Narrowest block that can still be seen and pressed. */
export const MIN_BLOCK_PX = 8;

export interface PlacedBlock {
  visit: BoardVisit;
  leftPx: number;
  widthPx: number;
  /** 0 unless two visits of the crew overlap in time, which no sound plan does but a hand move may. */
  lane: number;
}

/** The day whose cell a visit stands in: the first of the board for one that its crew began before it. */
export const cellDayOf = ({ startDay }: Pick<BoardVisit, "startDay">): number => Math.max(0, startDay);

/** Blocks of one crew in order of time; overlapping ones go to lanes below each other. */
export function blocksOf(
  visits: readonly BoardVisit[],
  span: DaySpan,
  dayPx: number,
): { blocks: readonly PlacedBlock[]; lanes: number } {
  const sorted = [...visits].sort(
    (a, b) => a.startDay - b.startDay || a.startMin - b.startMin || (a.id < b.id ? -1 : 1),
  );
  const laneEnds: number[] = [];
  const blocks = sorted.map((visit) => {
    const start = visit.startDay * 1440 + visit.startMin;
    const found = laneEnds.findIndex((end) => end <= start);
    const lane = found < 0 ? laneEnds.length : found;
    laneEnds[lane] = visit.endDay * 1440 + visit.endMin;
    const leftPx = visit.startDay < 0 ? 0 : xOf(visit.startDay, visit.startMin, span, dayPx);
    const rightPx = xOf(visit.endDay, visit.endMin, span, dayPx);
    return { visit, leftPx, widthPx: Math.max(MIN_BLOCK_PX, rightPx - leftPx), lane };
  });
  return { blocks, lanes: Math.max(1, laneEnds.length) };
}

/**
 * Indices [from, to) of equal steps that a stretch of pixels touches, widened to whole chunks so that scrolling redraws
 * seldom. `spare`: steps more on both sides.
 */
export function rangeIn(
  scrollPx: number,
  sizePx: number,
  stepPx: number,
  count: number,
  chunk: number,
  spare = 1,
): { from: number; to: number } {
  const first = Math.floor(scrollPx / stepPx);
  const last = Math.ceil((scrollPx + sizePx) / stepPx);
  const from = Math.max(0, Math.floor((first - spare) / chunk) * chunk);
  const to = Math.min(count, Math.ceil((last + spare) / chunk) * chunk);
  return { from, to: Math.max(from, to) };
}

/** Tops of rows of different heights, and their sum at the end. */
export function topsOf(heights: readonly number[]): readonly number[] {
  const tops = [0];
  for (const height of heights) tops.push((tops.at(-1) ?? 0) + height);
  return tops;
}

/** The visits of one crew that start in one stretch of days, [firstDay, toDay). */
export interface Chunk {
  firstDay: number;
  toDay: number;
  blocks: readonly PlacedBlock[];
  /** Last day that any of its visits reaches. */
  lastDay: number;
}

/** All chunks of a crew, from day 0 to the end of the board, also those without a visit. */
export function chunksOf(
  blocks: readonly PlacedBlock[],
  dayCount: number,
  chunkDays: number,
): readonly Chunk[] {
  return Array.from({ length: Math.ceil(dayCount / chunkDays) }, (_, index) => {
    const firstDay = index * chunkDays;
    const toDay = firstDay + chunkDays;
    const own = blocks.filter(({ visit }) => Math.floor(cellDayOf(visit) / chunkDays) === index);
    const lastDay = Math.max(toDay - 1, ...own.map(({ visit }) => visit.endDay));
    return { firstDay, toDay, blocks: own, lastDay };
  });
}

export const hasDay = ({ firstDay, toDay }: Chunk, day: number | undefined): boolean =>
  day !== undefined && day >= firstDay && day < toDay;

/** Chunks to draw for days [from, to): those in it, those that reach into it, and the one with the cursor. */
export function chunksInView(
  chunks: readonly Chunk[],
  from: number,
  to: number,
  cursorDay?: number,
): readonly Chunk[] {
  return chunks.filter((chunk) => (chunk.firstDay < to && chunk.lastDay >= from) || hasDay(chunk, cursorDay));
}

/** Days off in [from, to), next to each other for the same reason taken as one. */
export function offRuns(
  days: readonly BoardDay[],
  from: number,
  to: number,
): readonly { from: number; to: number; why?: string }[] {
  const runs: { from: number; to: number; why?: string }[] = [];
  for (let day = from; day < Math.min(to, days.length); day++) {
    const state = days[day];
    if (!state || state.works) continue;
    const last = runs.at(-1);
    if (last && last.to === day && last.why === state.why) last.to = day + 1;
    else runs.push({ from: day, to: day + 1, why: state.why });
  }
  return runs;
}

/**
 * Visits between two of them, as a rectangle over the board: crews from one to the other, days likewise. Unplaced ones
 * have no place on it: then only the two themselves.
 */
export function visitsBetween(
  visits: readonly BoardVisit[],
  crewIds: readonly string[],
  a: BoardVisit,
  b: BoardVisit,
): readonly string[] {
  if (a.crewId === null || b.crewId === null) return [a.id, b.id];
  const rowOf = new Map(crewIds.map((id, row) => [id, row]));
  const rows = [rowOf.get(a.crewId) ?? -1, rowOf.get(b.crewId) ?? -1].sort((x, y) => x - y);
  const from = Math.min(cellDayOf(a), cellDayOf(b));
  const to = Math.max(cellDayOf(a), cellDayOf(b));
  return visits
    .filter((v) => {
      const row = v.crewId === null ? -1 : (rowOf.get(v.crewId) ?? -1);
      return row >= rows[0]! && row <= rows[1]! && cellDayOf(v) >= from && cellDayOf(v) <= to && row >= 0;
    })
    .map((v) => v.id);
}

/** From a block's edge, and from a day's, to words. */
export const WORDS_PX = 6;
/** Room that a name takes. */
const NAME_PX = 72;

/**
 * A visit of several days says its name on each of them, px from its left: whoever scrolled its first day away still
 * reads whose it is. (A name that stays in view while the board scrolls would be a layer of its own, and cost every frame.)
 */
export function namesAgainPx(
  { visit, leftPx, widthPx }: PlacedBlock,
  cellLeftPx: number,
  dayPx: number,
): number[] {
  if (visit.endDay === visit.startDay || dayPx < NAME_PX) return [];
  const again: number[] = [];
  let lastPx = 0;
  for (let px = cellLeftPx + dayPx - leftPx + WORDS_PX; px + NAME_PX <= widthPx; px += dayPx) {
    if (px - lastPx < NAME_PX) continue;
    again.push(px);
    lastPx = px;
  }
  return again;
}
