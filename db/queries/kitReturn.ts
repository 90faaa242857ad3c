/** What comes back from a kit that was issued. */

import { eq } from "drizzle-orm";
import { phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { Owner } from "@/lib/site";
import { isSameSerial } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { place } from "../schema";
import { type OutRow, outOfKit } from "./kitOut";
import { rowsBySerial } from "./kitSerials";
import { tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import { addLogEntry, type By } from "./log";

export interface ReturnNote {
  visitId: string;
  toPlace: string;
  lines: readonly {
    itemCode: string;
    lotCode: string;
    owner: Owner;
    quantityC: number;
    /** Of pieces whose serials the issue named: which come back. */
    serials?: readonly string[];
  }[];
  today: CalendarDate;
  /** Made once per return. */
  key: string;
}

/** Brings unused material from the vehicle back into a warehouse. */
export function returnFromKit(db: Db, note: ReturnNote, by: By): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const issued = outOfKit(db, note.visitId);
    const problems: Problem[] = [];
    const lines = note.lines.filter((l) => l.quantityC > 0);
    if (lines.length === 0)
      problems.push(
        problem(
          "lines",
          "return-empty",
          0,
          phrase("Nothing comes back."),
          phrase("Give a quantity on one line."),
        ),
      );
    if (db.select().from(place).where(eq(place.code, note.toPlace)).get()?.kind !== "warehouse")
      problems.push(
        problem(
          "to",
          "warehouse",
          note.toPlace,
          phrase("That is no warehouse."),
          phrase("Choose where it is put on the shelf."),
        ),
      );
    const posts = lines.flatMap((l) => {
      const out = issued.find(
        (r) => r.itemCode === l.itemCode && r.lotCode === l.lotCode && r.owner === l.owner,
      );
      if (out && out.unit !== "m" && l.quantityC % 100 !== 0) {
        problems.push(
          problem(
            l.itemCode,
            "return-opened",
            l.quantityC / 100,
            phrase("An opened unit does not go back onto the shelf."),
            phrase("Return whole units; what is opened stays on the vehicle for the next visit."),
          ),
        );
        return [];
      }
      const open = out?.backC ?? 0;
      if (out && l.quantityC <= open) {
        const named = namedBack(l, out, problems);
        return rowsBySerial(l.quantityC, named).map((row) => ({ ...l, ...row, from: out.vehiclePlace }));
      }
      problems.push(
        problem(
          l.itemCode,
          "return-more",
          l.quantityC / 100,
          phrase("Only {{open}} of it is out for this visit.", { open: shortFigure(open / 100) }),
          phrase(
            "Correct the quantity. Where less was used than reported, let the crew report it anew; what was found besides is a count adjustment.",
          ),
        ),
      );
      return [];
    });
    if (problems.length > 0) return refused(...problems);
    for (const [i, l] of posts.entries()) {
      const refusal = tryMovement(
        db,
        {
          key: `${note.key} ${i}`,
          kind: "return",
          itemCode: l.itemCode,
          lotCode: l.lotCode || undefined,
          serial: l.serial,
          owner: l.owner,
          fromPlace: l.from,
          toPlace: note.toPlace,
          quantityC: l.quantityC,
          effectiveOn: note.today,
          postedAt: by.at,
          visitId: note.visitId,
          reason: ledgerReason("returned"),
          postedBy: by.name,
        },
        l.itemCode,
      );
      if (refusal) problems.push(refusal);
    }
    if (problems.length > 0) return refused(...problems);
    addLogEntry(db, {
      at: by.at,
      userName: by.name,
      action: "kit returned",
      subject: `kit ${note.visitId}`,
      detail: { to: note.toPlace, rows: posts.length },
    });
    return ok({ rows: posts.length });
  });
}

/** Which pieces come back: all that are out need no naming; of some it must be clear which stay. */
function namedBack(
  line: Pick<ReturnNote["lines"][number], "itemCode" | "quantityC" | "serials">,
  out: OutRow,
  problems: Problem[],
): string[] {
  const chosen = out.serials.filter((s) => line.serials?.some((typed) => isSameSerial(typed, s)));
  const staysC = out.outC - line.quantityC;
  if (staysC < 100) return [...out.serials];
  if (chosen.length * 100 > line.quantityC || (out.serials.length - chosen.length) * 100 > staysC)
    problems.push(
      problem(
        line.itemCode,
        "return-serials",
        line.quantityC / 100,
        phrase("Which of the pieces with a serial come back is not clear."),
        phrase("Tick the serials that come back: {{serials}}.", { serials: out.serials.join(", ") }),
      ),
    );
  return chosen;
}
