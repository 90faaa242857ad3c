/** The board on paper: whole weeks, one strip under the other, one or two in a strip. */
import { addDays, type CalendarDate, weekdayOf } from "@/lib/time";
import type { DaySpan, PlacedBlock } from "./geometry";
import type { BoardVisit, Zoom } from "./types";

/** What A4 and Letter hold across, less the margins, when they lie on their side; upright they are drawn smaller. */
export const PAPER_PX = 960;
export const PAPER_CREW_PX = 120;

/** More than two beside each other leave no room for the hops' codes, and on paper nobody can point at a block. */
const WEEKS_ACROSS: Readonly<Record<Zoom, number>> = { day: 1, week: 1, "4 weeks": 2, "12 weeks": 2 };

/** Days [from, to) of the board. */
export interface Days {
  from: number;
  to: number;
}

export interface PrintedStrips {
  strips: readonly Days[];
  dayPx: number;
}

/** The calendar weeks that the days touch, cut where the board begins and ends. */
function weeksOf(firstDay: CalendarDate, dayCount: number, seen: Days): Days[] {
  const weeks: Days[] = [];
  let monday = seen.from - (weekdayOf(addDays(firstDay, seen.from)) - 1);
  for (; monday < Math.min(seen.to, dayCount); monday += 7)
    weeks.push({ from: Math.max(0, monday), to: Math.min(dayCount, monday + 7) });
  return weeks;
}

/** Weeks without a visit before the first and after the last with one would be empty strips. */
function withoutEmptyEnds(weeks: readonly Days[], visits: readonly BoardVisit[]): readonly Days[] {
  const isBusy = (week: Days) => visits.some((v) => isIn(v, week));
  const first = weeks.findIndex(isBusy);
  const last = weeks.findLastIndex(isBusy);
  return first < 0 ? weeks.slice(0, 1) : weeks.slice(first, last + 1);
}

/** @param seen the days that are in view on the screen */
export function printedStrips(
  board: { firstDay: CalendarDate; dayCount: number; visits: readonly BoardVisit[]; zoom: Zoom },
  seen: Days,
): PrintedStrips {
  const weeks = withoutEmptyEnds(weeksOf(board.firstDay, board.dayCount, seen), board.visits);
  const count = Math.max(1, Math.ceil(weeks.length / WEEKS_ACROSS[board.zoom]));
  const across = Math.max(1, Math.ceil(weeks.length / count));
  const strips = Array.from({ length: count }, (_, at) => weeks.slice(at * across, (at + 1) * across))
    .filter((part) => part.length > 0)
    .map((part) => ({ from: part[0]!.from, to: part.at(-1)!.to }));
  return { strips, dayPx: Math.floor((PAPER_PX - PAPER_CREW_PX) / (7 * across)) };
}

/** Narrowest day that holds "Wed 16 Dec". */
const DATE_PX = 80;

/** What the columns hold of a date, as at a zoom of the screen; blocks hold what they hold at a week. */
export const headZoom = (dayPx: number): Zoom => (dayPx < DATE_PX ? "4 weeks" : "week");

const isIn = (visit: BoardVisit, days: Days): boolean =>
  visit.crewId !== null && visit.startDay < days.to && visit.endDay >= days.from;

/**
 * The visits of a strip, counted from its first day. One that reaches over its edge stands in both strips, each time
 * with its code: on paper nobody scrolls to where it begins.
 */
export function visitsIn(visits: readonly BoardVisit[], days: Days, span: DaySpan): BoardVisit[] {
  return visits
    .filter((visit) => isIn(visit, days))
    .map((visit) => ({
      ...visit,
      ...(visit.startDay < days.from ? { startDay: days.from, startMin: span.fromMin } : {}),
      ...(visit.endDay >= days.to ? { endDay: days.to - 1, endMin: span.toMin } : {}),
    }))
    .map((visit) => ({
      ...visit,
      startDay: visit.startDay - days.from,
      endDay: visit.endDay - days.from,
    }));
}

/** Room for a code on two lines, as in signs.ts, and a little more. */
const CODE_PX = 38;

/**
 * Short visits as wide as their code: on the screen one points at a block to read which it is, on paper nobody can.
 * Where the next one follows before a code has room, it goes to a lane below; where the strip ends, the code begins earlier.
 */
export function withCodes(
  blocks: readonly PlacedBlock[],
  stripPx: number,
): { blocks: readonly PlacedBlock[]; lanes: number } {
  const laneEnds: number[] = [];
  const wide = blocks.map((block) => {
    const widthPx = Math.max(block.widthPx, CODE_PX);
    const leftPx = Math.max(0, Math.min(block.leftPx, stripPx - widthPx));
    const found = laneEnds.findIndex((end) => end <= leftPx);
    const lane = found < 0 ? laneEnds.length : found;
    laneEnds[lane] = leftPx + widthPx;
    return { ...block, leftPx, widthPx, lane };
  });
  return { blocks: wide, lanes: Math.max(1, laneEnds.length) };
}
