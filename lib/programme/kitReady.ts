/**
 * The earliest day on which each kit can be whole. Supply is stock on hand, orders on the way and what could be ordered
 * today; visits claim it in the order of their promises. A plan that starts no visit before its day can be served in
 * any order of visits, because every claim rests on supply of its own.
 */

export interface ClaimingVisit {
  visitId: string;
  /** Earlier promises claim first; undefined claims last. */
  promiseDay?: number;
  weight: number;
  lines: readonly { itemCode: string; quantity: number }[];
}

export interface ItemSupply {
  itemCode: string;
  onHand: number;
  /** Days from today until an order sent today is here. */
  leadTimeDays: number;
  receipts: readonly { day: number; quantity: number }[];
}

export interface KitReady {
  /** Day index on which all of the kit is in the warehouse. */
  day: number;
  /** The item that is there last, when the kit is not whole today. */
  bindingItem?: string;
}

const EPSILON = 1e-6;

export function kitReadyDays(
  visits: readonly ClaimingVisit[],
  supplies: readonly ItemSupply[],
): Map<string, KitReady> {
  const books = new Map(supplies.map((s) => [s.itemCode, new SupplyBook(s)]));
  const inOrder = [...visits].sort(
    (a, b) =>
      (a.promiseDay ?? Number.POSITIVE_INFINITY) - (b.promiseDay ?? Number.POSITIVE_INFINITY) ||
      b.weight - a.weight ||
      (a.visitId < b.visitId ? -1 : 1),
  );
  const ready = new Map<string, KitReady>();
  for (const visit of inOrder) {
    let latest: KitReady = { day: 0 };
    for (const line of summed(visit.lines)) {
      const day = books.get(line.itemCode)?.claim(line.quantity) ?? 0;
      if (day > latest.day) latest = { day, bindingItem: line.itemCode };
    }
    ready.set(visit.visitId, latest);
  }
  return ready;
}

function summed(lines: ClaimingVisit["lines"]): { itemCode: string; quantity: number }[] {
  const sums = new Map<string, number>();
  for (const l of lines) sums.set(l.itemCode, (sums.get(l.itemCode) ?? 0) + l.quantity);
  return [...sums].map(([itemCode, quantity]) => ({ itemCode, quantity }));
}

/** What is left of an item's supply, by the day it is there; an order sent today has no end. */
class SupplyBook {
  readonly #parts: { day: number; left: number }[];
  readonly #orderedTodayIsHere: number;

  constructor(supply: ItemSupply) {
    this.#orderedTodayIsHere = supply.leadTimeDays;
    this.#parts = [{ day: 0, left: supply.onHand }];
    for (const r of [...supply.receipts].sort((a, b) => a.day - b.day)) {
      // What comes later than a new order would is no reason to wait.
      if (r.day <= supply.leadTimeDays) this.#parts.push({ day: Math.max(0, r.day), left: r.quantity });
    }
  }

  /** Takes the earliest supply there is; returns the day on which all of the quantity is there. */
  claim(quantity: number): number {
    let open = quantity;
    let day = 0;
    for (const part of this.#parts) {
      if (open <= EPSILON) return day;
      const taken = Math.min(open, part.left);
      if (taken <= EPSILON) continue;
      part.left -= taken;
      open -= taken;
      day = Math.max(day, part.day);
    }
    return open <= EPSILON ? day : Math.max(day, this.#orderedTodayIsHere);
  }
}
