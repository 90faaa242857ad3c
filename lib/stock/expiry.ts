/** Lots with a last usable day: first expired, first out. Expired is not available. */
import type { CalendarDate } from "@/lib/time";
import type { ItemPosition } from "./types";

export interface StockLot {
  lotId: string;
  quantity: number;
  /** Last day on which it may be used; undefined = keeps. */
  expiresOn?: CalendarDate;
  receivedOn: CalendarDate;
}

export interface LotPicks {
  picks: readonly { lotId: string; quantity: number }[];
  /** What the lots usable on the day cannot give. */
  missing: number;
}

/**
 * Which lots to pick `quantity` from on `onDay`: of those not expired the first to expire, then the oldest.
 * A short pick gives what there is and says what is missing.
 */
export function pickLots(lots: readonly StockLot[], quantity: number, onDay: CalendarDate): LotPicks {
  if (!(quantity >= 0)) throw new RangeError(`quantity must be >= 0, got ${quantity}`);
  const usable = lots
    .filter((lot) => lot.quantity > 0 && (lot.expiresOn === undefined || lot.expiresOn >= onDay))
    .sort(
      (a, b) =>
        order(a.expiresOn ?? NEVER, b.expiresOn ?? NEVER) ||
        order(a.receivedOn, b.receivedOn) ||
        order(a.lotId, b.lotId),
    );
  const picks: { lotId: string; quantity: number }[] = [];
  let missing = quantity;
  for (const lot of usable) {
    if (missing <= 0) break;
    const taken = Math.min(missing, lot.quantity);
    picks.push({ lotId: lot.lotId, quantity: taken });
    missing -= taken;
  }
  return { picks, missing };
}

/** Sorts after every calendar date. */
const NEVER = "9999-99-99";

function order(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * Quantity of the stock on hand that is lost on each day because its last day was the one before, if the needs use the
 * lots up first expired first. New orders do not change it: they expire later than what lies there.
 *
 * @param gross need per day
 */
export function expiringByDay(position: ItemPosition, gross: Float64Array, dayCount: number): Float64Array {
  const lost = new Float64Array(dayCount);
  const lots = (position.lots ?? []).map((lot) => ({ ...lot })).sort((a, b) => a.lastDay - b.lastDay);
  const listed = lots.reduce((sum, lot) => sum + lot.quantity, 0);
  if (listed > position.onHand + 1e-9) {
    throw new RangeError(`item ${position.itemCode}: lots hold ${listed}, on hand is ${position.onHand}`);
  }
  for (let day = 0; day < dayCount; day++) {
    for (const lot of lots) {
      if (lot.lastDay >= day) continue;
      lost[day]! += lot.quantity;
      lot.quantity = 0;
    }
    let need = gross[day]!;
    for (const lot of lots) {
      const taken = Math.min(need, lot.quantity);
      lot.quantity -= taken;
      need -= taken;
    }
  }
  return lost;
}
