/** Serials that are read when pieces come in: each has a row of the ledger from then on. */
import { type Phrase, phrase } from "@/lib/phrase";
import { type Problem, problem } from "@/lib/result";
import { serialAgainAt } from "@/lib/stock";
import type { Db } from "../open";
import { loadHung } from "./hung";
import { lastMoveOf } from "./ledger";

/** What stands against taking pieces in under these serials. @param of `units`: whole pieces that come onto the shelf */
export function receivedSerialProblems(
  db: Db,
  of: {
    itemCode: string;
    takesSerials: boolean;
    serials: readonly string[];
    units: number;
    path: string;
  },
): Problem[] {
  const { itemCode, serials, units, path } = of;
  const problems: Problem[] = [];
  if (serials.length === 0) return problems;
  const add = (rule: string, value: unknown, message: Phrase, remedy: Phrase) =>
    problems.push(problem(path, rule, value, message, remedy));
  if (!of.takesSerials)
    add(
      "serials-of-radios",
      serials.join(", "),
      phrase("Pieces of {{item}} are not followed by serials.", { item: itemCode }),
      phrase("Leave the serials out."),
    );
  const again = serialAgainAt(serials);
  if (again)
    add(
      "serial-twice",
      serials[again.at],
      phrase("A serial stands there twice."),
      phrase("Read each label once."),
    );
  if (serials.length > units)
    add(
      "serials-more",
      serials.length,
      phrase("Serials: {{serials}}; units for the shelf: {{units}}.", {
        serials: String(serials.length),
        units: String(units),
      }),
      phrase("Correct the quantity, or leave out a serial."),
    );
  for (const serial of serials) {
    const last = lastMoveOf(db, serial);
    const [hanging] = loadHung(db, { serial, onlyStanding: true });
    if (last && last.itemCode !== itemCode)
      add(
        "other-variant",
        serial,
        phrase("{{serial}} is {{item}} by the ledger.", { serial, item: last.itemCode }),
        phrase("Check the label: variants do not stand in for each other."),
      );
    else if (last?.place)
      add(
        "in-stock",
        serial,
        phrase("{{serial}} stands at {{place}} by the ledger.", { serial, place: last.place }),
        phrase("Check the label; if it left there, record that first."),
      );
    if (hanging)
      add(
        "hangs-elsewhere",
        serial,
        phrase("{{serial}} hangs at {{hop}} by the books.", { serial, hop: hanging.hopCode }),
        phrase("Check the label; if it was moved, have it taken down there first."),
      );
  }
  return problems;
}
