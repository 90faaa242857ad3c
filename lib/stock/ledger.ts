/**
 * The ledger's rules, as plain functions over the list of movements. Rows are never changed or deleted; on hand is a
 * sum. This is the reference that the database's triggers are tested against: slow, obvious, complete.
 */
import { ok, type Problem, type Result, refused } from "@/lib/result";
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
  | "reversal";
export const MOVEMENT_KINDS: readonly MovementKind[] = [
  "receipt",
  "issue",
  "return",
  "transfer",
  "cut",
  "count adjustment",
  "scrap",
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
  /** A single piece with its own number; quantity 1. */
  serial?: string;
  /** Day on which it happened; may lie before rows already posted. */
  on: CalendarDate;
  /** Row that this reversal takes back. */
  reverses?: string;
  by: string;
  /** Needed for count adjustment, scrap and reversal. */
  reason: string;
}

/** Movements in the order in which they were posted. Within one day they happen in this order. */
export interface Ledger {
  movements: readonly Movement[];
}

export const EMPTY_LEDGER: Ledger = { movements: [] };

/** Sums of doubles: a balance this near to zero is zero. */
const TOLERANCE = 1e-9;

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
  const problems = [...shapeProblems(movement), ...reversalProblems(ledger, movement)];
  if (ledger.movements.some((m) => m.id === movement.id)) {
    problems.push(problem(movement, "id-reused", movement.id, "The row number is taken.", "Use a new one."));
  }
  if (problems.length > 0) return refused(...problems);
  const next: Ledger = { movements: [...ledger.movements, movement] };
  const breach = firstBreach(next, movement);
  return breach ? refused(breach) : ok(next);
}

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

export interface Balance {
  placeId: string;
  itemCode: string;
  owner: Owner;
  lotId?: string;
  drumId?: string;
  serial?: string;
  quantity: number;
}

/** On hand by place, item, owner, lot, drum and serial at the end of a day (default: after everything). Zeros are left out. */
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

function identityOf({
  itemCode,
  owner,
  lotId,
  drumId,
  serial,
}: Movement): Omit<Balance, "placeId" | "quantity"> {
  return {
    itemCode,
    owner,
    ...(lotId === undefined ? {} : { lotId }),
    ...(drumId === undefined ? {} : { drumId }),
    ...(serial === undefined ? {} : { serial }),
  };
}

interface Leg {
  key: string;
  placeId: string;
  delta: number;
}

function legsOf(movement: Movement): Leg[] {
  const { fromPlaceId, toPlaceId, quantity, itemCode, owner, lotId, drumId, serial } = movement;
  const leg = (placeId: string, delta: number): Leg => ({
    key: JSON.stringify([itemCode, owner, placeId, lotId ?? null, drumId ?? null, serial ?? null]),
    placeId,
    delta,
  });
  return [
    ...(fromPlaceId === undefined ? [] : [leg(fromPlaceId, -quantity)]),
    ...(toPlaceId === undefined ? [] : [leg(toPlaceId, quantity)]),
  ];
}

/** Which places each kind names. A reversal mirrors its row; a count adjustment names one of the two. */
const PLACES: Record<MovementKind, readonly ("from" | "to" | "both")[]> = {
  receipt: ["to"],
  issue: ["from"],
  return: ["to"],
  transfer: ["both"],
  cut: ["from"],
  "count adjustment": ["from", "to"],
  scrap: ["from"],
  reversal: ["from", "to", "both"],
};

function shapeProblems(m: Movement): Problem[] {
  const problems: Problem[] = [];
  const add = (rule: string, value: unknown, message: string, remedy: string) =>
    problems.push(problem(m, rule, value, message, remedy));
  if (!(Number.isFinite(m.quantity) && m.quantity > 0)) {
    add(
      "quantity",
      m.quantity,
      "The quantity must be above zero.",
      "Say the way by the places, not by a sign.",
    );
  }
  const named =
    m.fromPlaceId !== undefined && m.toPlaceId !== undefined
      ? "both"
      : m.fromPlaceId !== undefined
        ? "from"
        : m.toPlaceId !== undefined
          ? "to"
          : undefined;
  if (named === undefined || !PLACES[m.kind].includes(named)) {
    add(
      "places",
      named ?? "none",
      `A ${m.kind} names these places: ${PLACES[m.kind].join(" or ")}.`,
      "Correct the places.",
    );
  }
  if (named === "both" && m.fromPlaceId === m.toPlaceId) {
    add("same-place", m.toPlaceId, "From and to are the same place.", "Choose another place.");
  }
  if (m.kind === "cut" && m.drumId === undefined)
    add("cut-drum", undefined, "A cut needs its drum.", "Name the drum.");
  if (m.serial !== undefined && m.quantity !== 1) {
    add("serial-one", m.quantity, "A piece with a serial number moves alone.", "Post one row a piece.");
  }
  if (["count adjustment", "scrap", "reversal"].includes(m.kind) && m.reason.trim() === "") {
    add("reason", m.reason, `A ${m.kind} needs a reason.`, "Say why.");
  }
  if (m.by.trim() === "") add("by", m.by, "Somebody must answer for the row.", "Say who.");
  if ((m.kind === "reversal") !== (m.reverses !== undefined)) {
    add(
      "reverses",
      m.reverses,
      "A reversal, and nothing else, points at the row it takes back.",
      "Correct the kind or the pointer.",
    );
  }
  return problems;
}

function reversalProblems(ledger: Ledger, m: Movement): Problem[] {
  if (m.reverses === undefined) return [];
  const original = ledger.movements.find((row) => row.id === m.reverses);
  const refuse = (rule: string, message: string, remedy: string) => [
    problem(m, rule, m.reverses, message, remedy),
  ];
  if (!original)
    return refuse("reverses-unknown", "The row to take back is not in the ledger.", "Point at a posted row.");
  if (original.kind === "reversal") {
    return refuse("reverses-reversal", "A reversal is not taken back.", "Post the movement again.");
  }
  if (ledger.movements.some((row) => row.reverses === m.reverses)) {
    return refuse("reversed-already", "The row is already taken back.", "Nothing more to do.");
  }
  if (m.on < original.on) {
    return refuse(
      "reversal-before",
      `The row happened on ${original.on}; it is not taken back before.`,
      "Use a later date.",
    );
  }
  const mirror = reversalOf(original, m);
  if (!sameContent(mirror, { ...m, key: mirror.key })) {
    return refuse(
      "reversal-mirror",
      "A reversal moves the same thing back the same way.",
      "Copy the row, places exchanged.",
    );
  }
  return [];
}

/**
 * Replays the ledger in order of day, then of posting, and returns the first rule that breaks: a balance below zero, a
 * drum or serial in two places or received twice, a drum moved in part.
 */
function firstBreach(ledger: Ledger, posted: Movement): Problem | undefined {
  const inTime = ledger.movements
    .map((movement, seq) => ({ movement, seq }))
    .sort((a, b) => (a.movement.on < b.movement.on ? -1 : a.movement.on > b.movement.on ? 1 : a.seq - b.seq));
  const balances = new Map<string, number>();
  const placesOf = new Map<string, Map<string, number>>();
  const takenBack = new Set(ledger.movements.flatMap((m) => (m.reverses === undefined ? [] : [m.reverses])));
  const received = new Set<string>();
  for (const { movement } of inTime) {
    const { on, drumId, serial } = movement;
    const single = drumId ?? serial;
    const name = drumId !== undefined ? `drum ${drumId}` : `serial ${serial}`;
    for (const leg of legsOf(movement)) {
      const before = balances.get(leg.key) ?? 0;
      if (
        movement.kind === "transfer" &&
        drumId !== undefined &&
        leg.delta < 0 &&
        Math.abs(before + leg.delta) > TOLERANCE
      ) {
        return problem(
          posted,
          "whole-drum",
          before,
          `On ${on} ${name} has ${before} at ${leg.placeId}; a drum moves whole.`,
          "Transfer all that is on it.",
        );
      }
      const after = before + leg.delta;
      if (after < -TOLERANCE) {
        const message = `On ${on} ${movement.itemCode} at ${leg.placeId} would be ${after}.`;
        return problem(
          posted,
          "below-zero",
          after,
          message,
          "Check quantity, place and date, or count the place.",
        );
      }
      balances.set(leg.key, after);
      if (single !== undefined) {
        const places = placesOf.get(name) ?? new Map<string, number>();
        places.set(leg.placeId, (places.get(leg.placeId) ?? 0) + leg.delta);
        placesOf.set(name, places);
      }
    }
    if (single === undefined) continue;
    const held = [...placesOf.get(name)!].filter(([, quantity]) => quantity > TOLERANCE);
    if (held.length > 1) {
      return problem(
        posted,
        "one-place",
        held.map(([place]) => place),
        `On ${on} ${name} would be in ${held.length} places.`,
        "Move it, do not add it.",
      );
    }
    if (serial !== undefined && held.some(([, quantity]) => quantity > 1 + TOLERANCE)) {
      return problem(
        posted,
        "one-piece",
        serial,
        `On ${on} there would be two pieces of ${name}.`,
        "Check the serial number.",
      );
    }
    if (movement.kind === "receipt" && !takenBack.has(movement.id)) {
      if (received.has(name))
        return problem(
          posted,
          "received-twice",
          name,
          `The ${name} was already received.`,
          "Check the number.",
        );
      received.add(name);
    }
  }
  return undefined;
}

function sameContent(a: Movement, b: Movement): boolean {
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

function problem(m: Movement, rule: string, value: unknown, message: string, remedy: string): Problem {
  return { path: m.id, rule, value, message, remedy };
}
