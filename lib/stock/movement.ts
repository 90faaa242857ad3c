/** One row of the stock ledger: what moved, which way, and why. */
import type { Owner } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";

export type MovementKind =
  | "receipt"
  | "issue"
  | "return"
  | "transfer"
  | "cut"
  | "count adjustment"
  | "scrap"
  | "quality hold"
  | "release"
  | "to repair"
  | "from repair"
  | "exchange"
  | "reversal";
export const MOVEMENT_KINDS: readonly MovementKind[] = [
  "receipt",
  "issue",
  "return",
  "transfer",
  "cut",
  "count adjustment",
  "scrap",
  "quality hold",
  "release",
  "to repair",
  "from repair",
  "exchange",
  "reversal",
];

export interface Movement {
  id: string;
  /** Idempotency key: the same submission sent twice has the same key. */
  key: string;
  kind: MovementKind;
  itemCode: string;
  owner: Owner;
  /** Above 0, in the item's unit. The places say which way it goes. */
  quantity: number;
  /** Place that it leaves. A count adjustment names the place it takes from or the place it adds to. */
  fromPlaceId?: string;
  toPlaceId?: string;
  lotId?: string;
  /** A drum; its quantity is length. A cut takes run + saw allowance. */
  drumId?: string;
  /** A single piece with its own number; quantity 1. A label: on shelves it adds up with pieces that show none. */
  serial?: string;
  /** Day on which it happened; may lie before rows already posted. */
  on: CalendarDate;
  /** Row that this reversal takes back. */
  reverses?: string;
  by: string;
  /** Needed for count adjustment, scrap and reversal. */
  reason: string;
}

/** Sums of doubles: a balance this near to zero is zero. */
export const TOLERANCE = 1e-9;

/** The movement that takes `original` back. Post it like any other. */
export function reversalOf(
  original: Movement,
  row: Pick<Movement, "id" | "key" | "on" | "by" | "reason">,
): Movement {
  const { fromPlaceId, toPlaceId, ...rest } = original;
  const { id, key, on, by, reason } = row;
  return {
    ...rest,
    id,
    key,
    on,
    by,
    reason,
    kind: "reversal",
    reverses: original.id,
    ...(toPlaceId === undefined ? {} : { fromPlaceId: toPlaceId }),
    ...(fromPlaceId === undefined ? {} : { toPlaceId: fromPlaceId }),
  };
}

/** What a movement does at one place. `key` names the balance it changes. */
export interface Leg {
  key: string;
  placeId: string;
  delta: number;
}

export function legsOf(movement: Movement): Leg[] {
  const { fromPlaceId, toPlaceId, quantity, itemCode, owner, lotId, drumId } = movement;
  const leg = (placeId: string, delta: number): Leg => ({
    key: JSON.stringify([itemCode, owner, placeId, lotId ?? null, drumId ?? null]),
    placeId,
    delta,
  });
  return [
    ...(fromPlaceId === undefined ? [] : [leg(fromPlaceId, -quantity)]),
    ...(toPlaceId === undefined ? [] : [leg(toPlaceId, quantity)]),
  ];
}

/** Does the same thing move the same way on the same day? Row number, key, person and reason are left aside. */
export function sameContent(a: Movement, b: Movement): boolean {
  const content = (m: Movement) =>
    JSON.stringify([
      m.kind,
      m.itemCode,
      m.owner,
      m.quantity,
      m.fromPlaceId ?? null,
      m.toPlaceId ?? null,
      m.lotId ?? null,
      m.drumId ?? null,
      m.serial ?? null,
      m.on,
      m.reverses ?? null,
    ]);
  return content(a) === content(b);
}
