/** From planned visits to dated needs: a kit is picked some days before its visit starts. */
import { type WorkingWeek, workdayBefore } from "@/lib/time";
import type { NeedLine } from "./types";

export interface KitNeed {
  visitId: string;
  siteCode: string;
  /** Day index on which the visit starts. */
  startDay: number;
  lines: readonly { itemCode: string; quantity: number }[];
}

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
  // Nothing is picked on a day off either, when no preparation day is asked for.
  return workdayBefore(startDay, prepDays, week);
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
