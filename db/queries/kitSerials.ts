/** Serials that whoever picks reads into a kit: the rows of its issue name them (docs/decisions/037). */
import { and, eq } from "drizzle-orm";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { Owner } from "@/lib/site";
import { serialOf } from "@/lib/stock";
import type { Db } from "../open";
import { kitSerial } from "../schema";
import { kitProblem } from "./kitProblem";
import { wholeOrNothing } from "./ledger";
import type { By } from "./log";
import { loadKit } from "./plans";
import { doubtsOfSerials, type SerialDoubt, type SerialsRead } from "./serialDoubts";
import { isSerial, serialAsKept } from "./serials";

/** Serials that lie in a kit's box by whoever picked, by item, in the order in which they were read. */
export function serialsInBox(db: Db, visitId: string): Map<string, string[]> {
  return byItem(
    db
      .select({ itemCode: kitSerial.itemCode, serial: kitSerial.serial })
      .from(kitSerial)
      .where(eq(kitSerial.visitId, visitId))
      .orderBy(kitSerial.id)
      .all(),
  );
}

/** Serials that the rows of a kit's issue name, taken back left out. */
export function serialsIssued(db: Db, visitId: string): Map<string, string[]> {
  return byItem(
    db.$client
      .prepare(
        `SELECT item_code AS itemCode, serial FROM movement m
         WHERE kind = 'issue' AND visit_id = ? AND serial IS NOT NULL
           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id) ORDER BY id`,
      )
      .all(visitId) as { itemCode: string; serial: string }[],
  );
}

function byItem(rows: readonly { itemCode: string; serial: string }[]): Map<string, string[]> {
  const map = new Map<string, string[]>();
  for (const { itemCode, serial } of rows) map.set(itemCode, [...(map.get(itemCode) ?? []), serial]);
  return map;
}

/** What stands against sending these pieces out with a kit. */
export function serialProblems(db: Db, of: SerialsRead & { visitId: string }): Problem[] {
  const more = {
    message: phrase("Serials: {{serials}}; units in the box: {{units}}.", {
      serials: String(of.serials.length),
      units: String(of.units),
    }),
    remedy: phrase("Pick the units first, or leave out a serial."),
  };
  return doubtsOfSerials(db, of, more, (serial, last) => {
    const doubts: SerialDoubt[] = [];
    if (last?.kind === "hold" || last?.kind === "repair" || last?.kind === "vehicle")
      doubts.push({
        rule: "not-there",
        message:
          last.kind === "vehicle"
            ? phrase("{{serial}} is on a vehicle by the ledger.", { serial })
            : last.kind === "hold"
              ? phrase("{{serial}} is on hold by the ledger.", { serial })
              : phrase("{{serial}} is in repair by the ledger.", { serial }),
        remedy: phrase("Check the label; if it is back, record that first."),
      });
    if (boxOf(db, serial, of.visitId))
      doubts.push({
        rule: "in-other-kit",
        message: phrase("{{serial}} lies in the box of another kit.", { serial }),
        remedy: phrase("Check the label, or take it out there."),
      });
    return doubts;
  });
}

/** Another kit of the plan in force whose box holds the serial. */
function boxOf(db: Db, serial: string, visitId: string): string | undefined {
  return db.$client
    .prepare(
      `SELECT s.visit_id FROM kit_serial s JOIN plan p ON p.state = 'in force'
       JOIN kit k ON k.plan_id = p.id AND k.visit_id = s.visit_id AND k.state = 'picked'
       WHERE s.serial = ? COLLATE NOCASE AND s.visit_id <> ?`,
    )
    .pluck()
    .get(serialOf(serial), visitId) as string | undefined;
}

/** Writes which pieces of a line lie in the box; none = nobody read them. Sent again it writes the same. */
export function pickSerials(
  db: Db,
  planId: number,
  note: { visitId: string; lineNo: number; serials: readonly string[] },
  by: By,
): Result<number> {
  return wholeOrNothing(db, () => {
    const { visitId, lineNo } = note;
    const serials = note.serials.map((typed) => serialAsKept(db, typed));
    const kit = loadKit(db, planId, visitId);
    const wrong = kitProblem(kit, visitId, "open");
    if (wrong || !kit) return refused(...(wrong ? [wrong] : []));
    const line = kit.lines[lineNo - 1];
    if (!line || line.runId !== null)
      return refused(
        problem(
          `line ${lineNo}`,
          "kit-line",
          lineNo,
          phrase("There is no such line."),
          phrase("Reload the page."),
        ),
      );
    const { itemCode } = line;
    const problems = serialProblems(db, {
      ...{ visitId, itemCode, serials },
      units: Math.floor(line.pickedC / 100),
      path: `line ${lineNo} (${itemCode})`,
    });
    if (problems.length > 0) return refused(...problems);
    emptySerials(db, visitId, itemCode);
    keepSerials(db, visitId, new Map([[itemCode, serials]]), by);
    return ok(serials.length);
  });
}

/** What lay in the box of a kit that nobody fills any more gives way. */
export function keepSerials(
  db: Db,
  visitId: string,
  serials: ReadonlyMap<string, readonly string[]>,
  by: By,
): void {
  for (const [itemCode, list] of serials)
    for (const serial of list) {
      db.delete(kitSerial).where(isSerial(kitSerial.serial, serial)).run();
      db.insert(kitSerial).values({ visitId, itemCode, serial, readBy: by.name, readAt: by.at }).run();
    }
}

/** Forgets what was read: of one item, or of the whole box when it has left. */
export function emptySerials(db: Db, visitId: string, itemCode?: string): void {
  db.delete(kitSerial)
    .where(
      and(
        eq(kitSerial.visitId, visitId),
        itemCode === undefined ? undefined : eq(kitSerial.itemCode, itemCode),
      ),
    )
    .run();
}

/** Whose each serial is by the ledger; one that it does not know is missing. */
export function ownersOfSerials(db: Db, serials: readonly string[]): Map<string, Owner> {
  const owner = db.$client
    .prepare("SELECT owner FROM movement WHERE serial > '' AND serial = ? COLLATE NOCASE LIMIT 1")
    .pluck();
  return new Map(
    serials.flatMap((serial) => {
      const of = owner.get(serialOf(serial)) as Owner | undefined;
      return of === undefined ? [] : [[serial, of] as const];
    }),
  );
}

/** One row of the ledger for each serial, the rest in one without; serials are taken off `unnamed`. */
export function rowsBySerial(
  quantityC: number,
  unnamed: string[],
  isOf: (serial: string) => boolean = () => true,
): { quantityC: number; serial?: string }[] {
  const rows: { quantityC: number; serial?: string }[] = [];
  let leftC = quantityC;
  for (const serial of unnamed.filter(isOf)) {
    if (leftC < ONE_C) break;
    unnamed.splice(unnamed.indexOf(serial), 1);
    rows.push({ quantityC: ONE_C, serial });
    leftC -= ONE_C;
  }
  return leftC > 0 ? [...rows, { quantityC: leftC }] : rows;
}

/** One piece. */
const ONE_C = 100;
