/** What may be posted: the shape of a row, what a reversal may take back, and the replay of the whole ledger. */
import type { Problem } from "@/lib/result";
import { legsOf, type Movement, type MovementKind, reversalOf, sameContent, TOLERANCE } from "./movement";

/** Which places each kind names. A reversal mirrors its row; a count adjustment names one of the two. */
const PLACES: Record<MovementKind, readonly ("from" | "to" | "both")[]> = {
  receipt: ["to"],
  issue: ["from"],
  return: ["to", "from"],
  transfer: ["both"],
  cut: ["from"],
  "count adjustment": ["from", "to"],
  scrap: ["from"],
  "quality hold": ["to", "both"],
  release: ["both"],
  "to repair": ["both"],
  "from repair": ["both"],
  exchange: ["from", "to"],
  reversal: ["from", "to", "both"],
};

const NEEDS_REASON: readonly MovementKind[] = [
  "count adjustment",
  "scrap",
  "quality hold",
  "release",
  "exchange",
  "reversal",
];

export function shapeProblems(m: Movement): Problem[] {
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
  if (NEEDS_REASON.includes(m.kind) && m.reason.trim() === "") {
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

export function reversalProblems(movements: readonly Movement[], m: Movement): Problem[] {
  if (m.reverses === undefined) return [];
  const original = movements.find((row) => row.id === m.reverses);
  const refuse = (rule: string, message: string, remedy: string) => [
    problem(m, rule, m.reverses, message, remedy),
  ];
  if (!original)
    return refuse("reverses-unknown", "The row to take back is not in the ledger.", "Point at a posted row.");
  if (original.kind === "reversal") {
    return refuse("reverses-reversal", "A reversal is not taken back.", "Post the movement again.");
  }
  if (movements.some((row) => row.reverses === m.reverses)) {
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
 * drum in two places or received twice, a drum moved in part.
 */
export function firstBreach(movements: readonly Movement[], posted: Movement): Problem | undefined {
  const inTime = movements
    .map((movement, seq) => ({ movement, seq }))
    .sort((a, b) => (a.movement.on < b.movement.on ? -1 : a.movement.on > b.movement.on ? 1 : a.seq - b.seq));
  const balances = new Map<string, number>();
  const placesOf = new Map<string, Map<string, number>>();
  const takenBack = new Set(movements.flatMap((m) => (m.reverses === undefined ? [] : [m.reverses])));
  const received = new Set<string>();
  for (const { movement } of inTime) {
    const { on, drumId } = movement;
    const name = `drum ${drumId}`;
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
      if (drumId !== undefined) {
        const places = placesOf.get(name) ?? new Map<string, number>();
        places.set(leg.placeId, (places.get(leg.placeId) ?? 0) + leg.delta);
        placesOf.set(name, places);
      }
    }
    if (drumId === undefined) continue;
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

export function problem(m: Movement, rule: string, value: unknown, message: string, remedy: string): Problem {
  return { path: m.id, rule, value, message, remedy };
}
