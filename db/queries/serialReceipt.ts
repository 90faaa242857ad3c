/** Serials that are read when pieces come in: each has a row of the ledger from then on. */
import { phrase } from "@/lib/phrase";
import { type Problem, problem } from "@/lib/result";
import type { Db } from "../open";
import { doubtsOfSerials, type SerialsRead } from "./serialDoubts";

/** What stands against taking pieces in under these serials. @param of `units`: whole pieces that come onto the shelf */
export function receivedSerialProblems(db: Db, of: SerialsRead & { takesSerials: boolean }): Problem[] {
  const { itemCode, serials, units, path } = of;
  if (serials.length === 0) return [];
  const more = {
    message: phrase("Serials: {{serials}}; units for the shelf: {{units}}.", {
      serials: String(serials.length),
      units: String(units),
    }),
    remedy: phrase("Correct the quantity, or leave out a serial."),
  };
  const doubts = doubtsOfSerials(db, of, more, (serial, last) =>
    last?.place
      ? [
          {
            rule: "in-stock",
            message: phrase("{{serial}} stands at {{place}} by the ledger.", { serial, place: last.place }),
            remedy: phrase("Check the label; if it left there, record that first."),
          },
        ]
      : [],
  );
  if (of.takesSerials) return doubts;
  return [
    problem(
      path,
      "serials-of-radios",
      serials.join(", "),
      phrase("Pieces of {{item}} are not followed by serials.", { item: itemCode }),
      phrase("Leave the serials out."),
    ),
    ...doubts,
  ];
}
