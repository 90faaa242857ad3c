/**
 * The ledger's rules, as plain functions over the list of movements. Rows are never changed or deleted; on hand is a
 * sum. This is the reference that the database's triggers are tested against: slow, obvious, complete.
 */
import { ok, type Result, refused } from "@/lib/result";
import type { Owner } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import { firstBreach, problem, reversalProblems, shapeProblems } from "./ledgerRules";
import { legsOf, type Movement, sameContent, TOLERANCE } from "./movement";
import { type PlaceKinds, serialProblems } from "./serialRules";

/** Movements in the order in which they were posted. Within one day they happen in this order. */
export interface Ledger {
  movements: readonly Movement[];
  /** What its places are; a place that is not named is taken for a warehouse. */
  placeKinds?: PlaceKinds;
}

export const EMPTY_LEDGER: Ledger = { movements: [] };

/**
 * Posts one movement, or says everything that is against it. The ledger given is left as it is.
 *
 * A movement with a key that is already there and the same content is accepted and moves nothing; with other content it
 * is refused. A backdated movement is tried against every later balance.
 */
export function postMovement(ledger: Ledger, movement: Movement): Result<Ledger> {
  const twin = ledger.movements.find((m) => m.key === movement.key);
  if (twin) {
    if (sameContent(twin, movement)) return ok(ledger);
    return refused(
      problem(
        movement,
        "key-reused",
        movement.key,
        "This submission was already used for another movement.",
        "Submit again with a new key.",
      ),
    );
  }
  const problems = [
    ...shapeProblems(movement),
    ...reversalProblems(ledger.movements, movement),
    ...serialProblems(ledger.movements, movement, ledger.placeKinds),
  ];
  if (ledger.movements.some((m) => m.id === movement.id)) {
    problems.push(problem(movement, "id-reused", movement.id, "The row number is taken.", "Use a new one."));
  }
  if (problems.length > 0) return refused(...problems);
  const next: Ledger = { ...ledger, movements: [...ledger.movements, movement] };
  const breach = firstBreach(next.movements, movement);
  return breach ? refused(breach) : ok(next);
}

export interface Balance {
  placeId: string;
  itemCode: string;
  owner: Owner;
  lotId?: string;
  drumId?: string;
  quantity: number;
}

/** On hand by place, item, owner, lot and drum at the end of a day (default: after everything). Zeros are left out. */
export function balanceOf(movements: readonly Movement[], onDay?: CalendarDate): Balance[] {
  const sums = new Map<string, Balance>();
  for (const movement of movements) {
    if (onDay !== undefined && movement.on > onDay) continue;
    for (const leg of legsOf(movement)) {
      const found = sums.get(leg.key);
      if (found) found.quantity += leg.delta;
      else sums.set(leg.key, { ...identityOf(movement), placeId: leg.placeId, quantity: leg.delta });
    }
  }
  return [...sums.entries()]
    .filter(([, balance]) => Math.abs(balance.quantity) > TOLERANCE)
    .sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0))
    .map(([, balance]) => balance);
}

/** What came in and went out by kind, over all places; `onHand` is their difference. Transfers cancel out. */
export function ledgerTotals(movements: readonly Movement[]): { in: number; out: number; onHand: number } {
  let into = 0;
  let out = 0;
  for (const { quantity, fromPlaceId, toPlaceId } of movements) {
    if (toPlaceId !== undefined) into += quantity;
    if (fromPlaceId !== undefined) out += quantity;
  }
  return { in: into, out, onHand: into - out };
}

function identityOf({ itemCode, owner, lotId, drumId }: Movement): Omit<Balance, "placeId" | "quantity"> {
  return {
    itemCode,
    owner,
    ...(lotId === undefined ? {} : { lotId }),
    ...(drumId === undefined ? {} : { drumId }),
  };
}
