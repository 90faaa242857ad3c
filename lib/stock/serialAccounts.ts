/** What became of each radio of a hop, serial by serial: received, hung, back again, or not accounted for. */
import type { CalendarDate } from "@/lib/time";

/** A time that it hung at the hop. */
export interface HungSpell {
  /** Where: label of the radio in the design, with its end. */
  position: string;
  hungOn: CalendarDate;
  endedOn: CalendarDate | null;
  /** It was never there: a slip of the pen. */
  isWrong: boolean;
}

/** A row of the ledger that names the serial and stands. */
export interface SerialRow {
  kind: string;
  on: CalendarDate;
  /** Null = it left the places. */
  toPlace: string | null;
}

export interface SerialFacts {
  serial: string;
  itemCode: string;
  /** At this hop, oldest first. */
  spells: readonly HungSpell[];
  /** In the order of their days, then of posting. */
  rows: readonly SerialRow[];
  /** Another hop at which it hangs now. */
  hangsAt: string | null;
}

export type SerialState = "hangs" | "elsewhere" | "out" | "back" | "gone" | "installed" | "missing";

export interface SerialAccount {
  serial: string;
  itemCode: string;
  receivedOn: CalendarDate | null;
  position: string | null;
  hungOn: CalendarDate | null;
  endedOn: CalendarDate | null;
  state: SerialState;
  /** Where it is now: a place, another hop, or by which kind of row it left. */
  where: string | null;
}

/** Rows by which a piece comes into stock. */
const COMES_IN: ReadonlySet<string> = new Set(["receipt", "exchange"]);

/**
 * A radio that was taken down must turn up again: at a place, at another hop, or gone by a row that says how. One that
 * does not is missing. A row of the day on which it came down may be written before or after: it counts.
 */
export function serialAccount({ serial, itemCode, spells, rows, hangsAt }: SerialFacts): SerialAccount {
  const spell = spells.filter((s) => !s.isWrong).at(-1);
  const endedOn = spell?.endedOn ?? null;
  const account = (state: SerialState, where: string | null = null): SerialAccount => ({
    serial,
    itemCode,
    receivedOn: rows.find((r) => COMES_IN.has(r.kind) && r.toPlace !== null)?.on ?? null,
    position: spell?.position ?? null,
    hungOn: spell?.hungOn ?? null,
    endedOn,
    state,
    where,
  });
  if (spell && endedOn === null) return account("hangs");
  if (hangsAt !== null) return account("elsewhere", hangsAt);
  const last = rows.filter((r) => r.kind !== "installed" && (endedOn === null || r.on >= endedOn)).at(-1);
  if (last?.kind === "issue") return account("out", last.toPlace);
  if (last) return last.toPlace === null ? account("gone", last.kind) : account("back", last.toPlace);
  return account(spell ? "missing" : "installed");
}
