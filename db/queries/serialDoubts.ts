/** What speaks against serials that somebody read off labels, wherever they are typed: a label read wrongly, as a rule. */
import { type Phrase, phrase } from "@/lib/phrase";
import { type Problem, problem } from "@/lib/result";
import { serialAgainAt } from "@/lib/stock";
import type { Db } from "../open";
import { loadHung } from "./hung";
import { lastMoveOf } from "./ledger";

/** A reason in words, with what to do. */
export interface SerialDoubt {
  rule: string;
  message: Phrase;
  remedy: Phrase;
}

export interface SerialsRead {
  itemCode: string;
  serials: readonly string[];
  /** Pieces that there are to read. */
  units: number;
  /** The field that they stand in. */
  path: string;
}

/**
 * Serials that stand twice, are more than the pieces, are of another variant or hang somewhere by the books.
 * @param more      said when there are more serials than pieces
 * @param doubtsOf  what else speaks against one of the right variant, by its last row in the ledger
 */
export function doubtsOfSerials(
  db: Db,
  { itemCode, serials, units, path }: SerialsRead,
  more: Omit<SerialDoubt, "rule">,
  doubtsOf: (serial: string, last: ReturnType<typeof lastMoveOf>) => readonly SerialDoubt[],
): Problem[] {
  const problems: Problem[] = [];
  const add = (value: unknown, { rule, message, remedy }: SerialDoubt) =>
    problems.push(problem(path, rule, value, message, remedy));
  const again = serialAgainAt(serials);
  if (again)
    add(serials[again.at], {
      rule: "serial-twice",
      message: phrase("A serial stands there twice."),
      remedy: phrase("Read each label once."),
    });
  if (serials.length > units) add(serials.length, { rule: "serials-more", ...more });
  for (const serial of serials) {
    const last = lastMoveOf(db, serial);
    if (last && last.itemCode !== itemCode)
      add(serial, {
        rule: "other-variant",
        message: phrase("{{serial}} is {{item}} by the ledger.", { serial, item: last.itemCode }),
        remedy: phrase("Check the label: variants do not stand in for each other."),
      });
    else for (const doubt of doubtsOf(serial, last)) add(serial, doubt);
    const [hanging] = loadHung(db, { serial, onlyStanding: true });
    if (hanging)
      add(serial, {
        rule: "hangs-elsewhere",
        message: phrase("{{serial}} hangs at {{hop}} by the books.", { serial, hop: hanging.hopCode }),
        remedy: phrase("Check the label; if it was moved, have it taken down there first."),
      });
  }
  return problems;
}
