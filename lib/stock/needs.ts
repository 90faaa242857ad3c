/** From planned visits to dated needs: a kit is picked some days before its visit starts. */
import type { NeedLine } from "./types";

export interface KitNeed {
  visitId: string;
  siteCode: string;
  /** Day index on which the visit starts. */
  startDay: number;
  lines: readonly { itemCode: string; quantity: number }[];
}

/** Which days count as working days of the store. Default: every day. */
export interface WorkingWeek {
  /** Weekday of day 0, Monday 1 ... Sunday 7. */
  firstWeekday: number;
  /** Weekdays on which the store picks; at least one. */
  workdays: readonly number[];
}

/** Monday to Friday. */
export const FIVE_DAYS: readonly number[] = [1, 2, 3, 4, 5];

/**
 * The day on which a kit is picked: `prepDays` days before the start. With a working week only its days count, so a
 * visit on Monday with one preparation day is picked on Friday. May be negative: the kit is overdue.
 *
 * @throws RangeError on preparation days that are not whole and >= 0, or a week without workdays
 */
export function pickDay(startDay: number, prepDays: number, week?: WorkingWeek): number {
  if (!Number.isInteger(prepDays) || prepDays < 0) {
    throw new RangeError(`preparation days must be whole and >= 0, got ${prepDays}`);
  }
  if (!week) return startDay - prepDays;
  const isWorkday = workdaysOf(week);
  let day = startDay;
  for (let counted = 0; counted < prepDays; ) if (isWorkday(--day)) counted++;
  // Nothing is picked on a day off either, when no preparation day is asked for.
  while (!isWorkday(day)) day--;
  return day;
}

/** @throws RangeError on a week without workdays */
function workdaysOf({ firstWeekday, workdays }: WorkingWeek): (day: number) => boolean {
  if (!workdays.some((day) => day >= 1 && day <= 7)) throw new RangeError("the week has no workdays");
  return (day) => workdays.includes(((((firstWeekday - 1 + day) % 7) + 7) % 7) + 1);
}

/** The day on which something is there that leaves on `from` or the next workday and takes `days` days of the week. */
export function arrivalDay(
  from: number,
  days: number,
  week?: WorkingWeek,
): { leaves: number; arrives: number } {
  if (!week) return { leaves: from, arrives: from + days };
  const isWorkday = workdaysOf(week);
  let leaves = from;
  while (!isWorkday(leaves)) leaves++;
  let arrives = leaves;
  for (let counted = 0; counted < days; ) if (isWorkday(++arrives)) counted++;
  return { leaves, arrives };
}

/**
 * Who takes from a shelf first: what leaves on the earlier day, of one day what has no start (a transfer), then the visit
 * that starts first. Kits are filled in this order too.
 */
export function byTurn(a: Turn, b: Turn): number {
  const start = (turn: Turn) => turn.startsAtMin ?? -1;
  return a.day - b.day || start(a) - start(b) || (a.visitId < b.visitId ? -1 : a.visitId > b.visitId ? 1 : 0);
}

export type Turn = Pick<NeedLine, "day" | "startsAtMin" | "visitId">;

/** One need per kit line above zero, on the day the kit is picked. */
export function needsFromKits(kits: readonly KitNeed[], prepDays: number, week?: WorkingWeek): NeedLine[] {
  return kits.flatMap((kit) => {
    const day = pickDay(kit.startDay, prepDays, week);
    return kit.lines
      .filter((line) => line.quantity > 0)
      .map(({ itemCode, quantity }) => ({
        itemCode,
        day,
        quantity,
        visitId: kit.visitId,
        siteCode: kit.siteCode,
      }));
  });
}
