/**
 * The way of faulty pieces: which kinds of rows lead onto hold and into repair, and how a serial is followed there. On
 * shelves and vehicles pieces are alike and leave without their serials being read; on hold and in repair each is known.
 */
import type { Problem } from "@/lib/result";
import { problem } from "./ledgerRules";
import type { Movement, MovementKind } from "./movement";

export type LedgerPlaceKind = "warehouse" | "vehicle" | "site" | "hold" | "repair";

/** Kinds of the places; a place that is not there is taken for a warehouse. */
export type PlaceKinds = ReadonlyMap<string, LedgerPlaceKind>;

/** Everything against a row because of holds, repairs and serials, given the rows posted before. */
export function serialProblems(
  movements: readonly Movement[],
  m: Movement,
  kinds: PlaceKinds = new Map(),
): Problem[] {
  const kindOf = (placeId: string | undefined) =>
    placeId === undefined ? undefined : (kinds.get(placeId) ?? "warehouse");
  const isFollowed = (placeId: string | undefined) =>
    kindOf(placeId) === "hold" || kindOf(placeId) === "repair";
  const problems: Problem[] = [];
  const add = (rule: string, value: unknown, message: string, remedy: string) =>
    problems.push(problem(m, rule, value, message, remedy));
  const [from, to] = [kindOf(m.fromPlaceId), kindOf(m.toPlaceId)];
  if (m.kind !== "reversal" && !isWay(m.kind, from, to))
    add("hold-way", [from, to], `A ${m.kind} does not go this way.`, "Use the kind of row for this step.");
  if (m.serial === undefined) {
    if (m.drumId === undefined && isFollowed(m.fromPlaceId)) {
      const lying = sumAt(movements, m.fromPlaceId!, m);
      const named = serialsAt(movements, m.fromPlaceId!, m).length;
      if (lying - m.quantity < named - 1e-9)
        add("serial-stays", named, "What is left there has serials.", "Name the serial of the piece.");
    }
    return problems;
  }
  const own = movements.filter((row) => row.serial === m.serial);
  if (own.some((row) => row.itemCode !== m.itemCode || row.owner !== m.owner))
    add("serial-other", m.serial, "The serial belongs to another item or owner.", "Check the serial.");
  if (own.some((row) => row.on > m.on))
    add("serial-later", m.serial, "The serial moved on a later day.", "Use a later date.");
  const standing = standingPlace(own);
  if ((isFollowed(standing) || isFollowed(m.fromPlaceId)) && standing !== m.fromPlaceId)
    add("serial-elsewhere", standing ?? "outside", "The serial is not there.", "Look where it stands.");
  if (m.kind !== "quality hold" && m.fromPlaceId === undefined && standing !== undefined)
    add("serial-in-stock", standing, "The serial is in stock already.", "Check the serial.");
  return problems;
}

function isWay(
  kind: MovementKind,
  from: LedgerPlaceKind | undefined,
  to: LedgerPlaceKind | undefined,
): boolean {
  const isAside = (place: LedgerPlaceKind | undefined) => place === "hold" || place === "repair";
  switch (kind) {
    case "quality hold":
      return to === "hold" && !isAside(from);
    case "release":
      return from === "hold" && to === "warehouse";
    case "to repair":
      return from === "hold" && to === "repair";
    case "from repair":
      return from === "repair" && to === "warehouse";
    case "exchange":
      return (from === "repair" && to === undefined) || (from === undefined && to === "warehouse");
    case "return":
      // From the field to a shelf, or what was turned down back to its supplier.
      return to === undefined ? from === "hold" : !isAside(from) && !isAside(to);
    case "scrap":
    case "count adjustment":
      return true;
    default:
      return !isAside(from) && !isAside(to);
  }
}

/** Where the last row of a serial left it: in order of day, then of posting. */
function standingPlace(own: readonly Movement[]): string | undefined {
  return own.reduce<Movement | undefined>((last, row) => (last && last.on > row.on ? last : row), undefined)
    ?.toPlaceId;
}

type Thing = Pick<Movement, "itemCode" | "owner">;

function sumAt(movements: readonly Movement[], placeId: string, { itemCode, owner }: Thing): number {
  return movements
    .filter((row) => row.itemCode === itemCode && row.owner === owner && row.drumId === undefined)
    .reduce(
      (sum, row) =>
        sum +
        (row.toPlaceId === placeId ? row.quantity : 0) -
        (row.fromPlaceId === placeId ? row.quantity : 0),
      0,
    );
}

function serialsAt(movements: readonly Movement[], placeId: string, { itemCode, owner }: Thing): string[] {
  const bySerial = new Map<string, Movement[]>();
  for (const row of movements) {
    if (row.serial === undefined || row.itemCode !== itemCode || row.owner !== owner) continue;
    const list = bySerial.get(row.serial);
    if (list) list.push(row);
    else bySerial.set(row.serial, [row]);
  }
  return [...bySerial].filter(([, own]) => standingPlace(own) === placeId).map(([serial]) => serial);
}
