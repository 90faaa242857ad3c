/**
 * What kits may claim and when: items that are short for a while become supply curves that visits share in whatever
 * order the plan finds best; the rest is there for everybody.
 */
import type { ScarceItem } from "@/lib/schedule";
import { earliestReadyDays, type ItemPosition, type ReceiptDue, type VisitClaim } from "@/lib/stock";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { pickDate } from "./kits";
import { startAfter } from "./settle";

export interface KitSupply {
  /** Day index before which each visit cannot start whatever the others do; absent = 0. */
  earliestStart: ReadonlyMap<string, number>;
  /** The item that sets it, by visit id. */
  lastItem: ReadonlyMap<string, string>;
  scarce: readonly ScarceItem[];
  /** By visit id: indices into `scarce`. */
  takes: ReadonlyMap<string, readonly { item: number; quantity: number }[]>;
}

export interface SupplyHorizon {
  today: CalendarDate;
  dayCount: number;
  /** Working days between picking a kit and the visit. */
  kitDays: number;
}

/**
 * An item is scarce when stock on hand does not cover all kits. From the day on which an order placed today is there,
 * any quantity can be had. Items in lots that expire are shared out in the order of the claims instead: what expires
 * cannot be summed up day by day (lib/stock/supply.ts).
 */
export function kitSupply(
  claims: readonly VisitClaim[],
  positions: readonly ItemPosition[],
  receipts: readonly ReceiptDue[],
  horizon: SupplyHorizon,
): KitSupply {
  const needs = new Map(claims.map((c) => [c.visitId, perItem(c)]));
  const demand = new Map<string, number>();
  for (const lines of needs.values())
    for (const [code, quantity] of lines) demand.set(code, (demand.get(code) ?? 0) + quantity);

  const inLots = new Set(positions.filter((p) => (p.lots ?? []).length > 0).map((p) => p.itemCode));
  const short = positions.filter((p) => !inLots.has(p.itemCode) && p.onHand < (demand.get(p.itemCode) ?? 0));
  const picked = pickedByStart(horizon);
  const scarce = short.map((p) => ({
    id: p.itemCode,
    code: p.itemCode,
    byDay: supplyByStart(p, receipts, picked),
  }));
  const index = new Map(scarce.map((s, i) => [s.code, i]));

  const byPromise = earliestReadyDays(
    claims.map((c) => ({ ...c, lines: c.lines.filter((l) => inLots.has(l.itemCode)) })),
    positions.filter((p) => inLots.has(p.itemCode)),
    receipts.filter((r) => inLots.has(r.itemCode)),
  );
  const takes = new Map<string, { item: number; quantity: number }[]>();
  const earliestStart = new Map<string, number>();
  const lastItem = new Map<string, string>();
  claims.forEach(({ visitId }, i) => {
    const own = [...needs.get(visitId)!].flatMap(([code, quantity]) => {
      const item = index.get(code);
      return item === undefined ? [] : [{ item, quantity }];
    });
    const { readyDay, bindingItem } = byPromise[i]!;
    let start = Math.max(0, firstStart(readyDay!, horizon));
    let last = bindingItem;
    for (const { item, quantity } of own) {
      const alone = firstWith(scarce[item]!.byDay, quantity);
      if (alone <= start) continue;
      start = alone;
      last = scarce[item]!.code;
    }
    takes.set(visitId, own);
    if (start > 0) earliestStart.set(visitId, start);
    if (start > 0 && last) lastItem.set(visitId, last);
  });
  return { earliestStart, lastItem, scarce, takes };
}

function perItem({ lines }: VisitClaim): Map<string, number> {
  const sums = new Map<string, number>();
  for (const { itemCode, quantity } of lines)
    if (quantity > 0) sums.set(itemCode, (sums.get(itemCode) ?? 0) + quantity);
  return sums;
}

/** Per start day: the day on which a kit for it is picked. */
const pickedByStart = ({ today, dayCount, kitDays }: SupplyHorizon): number[] =>
  Array.from({ length: dayCount }, (_, day) =>
    Math.max(0, daysBetween(today, pickDate(addDays(today, day), kitDays, today))),
  );

/** Per start day: on hand and due by the day on which a kit for it is picked. */
function supplyByStart(
  { itemCode, onHand, leadTimeDays }: ItemPosition,
  receipts: readonly ReceiptDue[],
  pickedDays: readonly number[],
): Float64Array {
  const due = receipts.filter((r) => r.itemCode === itemCode);
  return Float64Array.from(pickedDays, (picked) => {
    if (picked >= leadTimeDays) return Number.POSITIVE_INFINITY;
    return due.reduce((sum, r) => (r.day <= picked ? sum + r.quantity : sum), onHand);
  });
}

/** The plan's length when no day has so much. */
function firstWith(byDay: Float64Array, quantity: number): number {
  const day = byDay.findIndex((come) => come >= quantity - 1e-9);
  return day < 0 ? byDay.length : day;
}

/** A kit that is whole on a day is picked on it and used `kitDays` working days later. */
function firstStart(readyDay: number, { today, kitDays }: SupplyHorizon): number {
  return readyDay === 0 ? 0 : startAfter(addDays(today, readyDay), kitDays, today);
}
