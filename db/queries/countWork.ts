/** Counting a place blind: begin, count, what is found besides, hand in. */

import { and, eq, sql } from "drizzle-orm";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import { takesSerials } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { balance, type CountState, countLine, countSession, item, lot, place } from "../schema";
import { addLogEntry, type By, type LogAction } from "./log";
import { lotProblems, pastLastDay } from "./pastLastDay";
import { loadBalances, saveLot } from "./shelves";

/** Who does it; the id tells people of one name apart. */
export interface CountBy extends By {
  userId: string;
}

export type Session = typeof countSession.$inferSelect;

export function log(db: Db, id: number, action: LogAction, by: CountBy, detail: unknown): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: `count ${id}`, detail });
}

/** The session when it is in one of the states; what is wrong otherwise. */
export function sessionIn(db: Db, id: number, ...states: CountState[]): Result<Session> {
  const row = db.select().from(countSession).where(eq(countSession.id, id)).get();
  if (row && states.includes(row.state)) return ok(row);
  return refused(
    problem(
      "count",
      "count-state",
      row?.state ?? id,
      row
        ? phrase("Count {{id}} is {{state}}.", { id: String(id), state: phrase(row.state) })
        : phrase("There is no count {{id}}.", { id: String(id) }),
      phrase("Reload the page: somebody may have moved it on."),
    ),
  );
}

/** Begins a count of everything that the ledger has at a place. One open count a place. */
export function startCount(db: Db, placeCode: string, by: CountBy): Result<number> {
  const at = db.select().from(place).where(eq(place.code, placeCode)).get();
  if (!at)
    return refused(
      problem(
        "place",
        "place-unknown",
        placeCode,
        phrase("There is no such place."),
        phrase("Choose a place from the list."),
      ),
    );
  const open = db
    .select({ id: countSession.id, startedBy: countSession.startedBy })
    .from(countSession)
    .where(and(eq(countSession.placeCode, placeCode), sql`${countSession.state} IN ('counting','counted')`))
    .get();
  if (open)
    return refused(
      problem(
        "place",
        "count-open",
        placeCode,
        phrase("Count {{id}} of {{place}}, begun by {{startedBy}}, is still open.", {
          id: String(open.id),
          place: placeCode,
          startedBy: open.startedBy,
        }),
        phrase("Finish it, or cancel it with a reason."),
      ),
    );
  const { id } = db
    .insert(countSession)
    .values({ placeCode, state: "counting", startedBy: by.name, startedAt: by.at })
    .returning({ id: countSession.id })
    .get();
  const things = loadBalances(db).filter((b) => b.placeCode === placeCode);
  for (const [i, b] of things.entries())
    db.insert(countLine)
      .values({
        sessionId: id,
        lineNo: i + 1,
        itemCode: b.itemCode,
        lotCode: b.lotCode,
        drumSerial: b.drumSerial,
        owner: b.owner,
      })
      .run();
  log(db, id, "count begun", by, { placeCode, lines: things.length });
  return ok(id);
}

type Thing = Pick<typeof countLine.$inferSelect, "itemCode" | "lotCode" | "drumSerial" | "owner">;

/** What the ledger has of a thing at a place now. */
export function bookOf(db: Db, placeCode: string, t: Thing): number {
  const row = db
    .select({ quantityC: balance.quantityC })
    .from(balance)
    .where(
      and(
        eq(balance.placeCode, placeCode),
        eq(balance.itemCode, t.itemCode),
        eq(balance.lotCode, t.lotCode),
        eq(balance.drumSerial, t.drumSerial),
        eq(balance.owner, t.owner),
      ),
    )
    .get();
  return row?.quantityC ?? 0;
}

export const counted = (by: CountBy) => ({
  countedById: by.userId,
  countedByName: by.name,
  countedAt: by.at,
});

/** Writes what somebody counted of a line; counted again, the last figure stands. */
export function countThing(
  db: Db,
  note: { id: number; lineNo: number; quantityC: number },
  by: CountBy,
): Result<number> {
  const session = sessionIn(db, note.id, "counting");
  if (!session.ok) return session;
  const where = and(eq(countLine.sessionId, note.id), eq(countLine.lineNo, note.lineNo));
  const line = db.select().from(countLine).where(where).get();
  if (!line)
    return refused(
      problem(
        "line",
        "line-unknown",
        note.lineNo,
        phrase("Count {{id}} has no such line.", { id: String(note.id) }),
        phrase("Reload the page."),
      ),
    );
  const bookC = bookOf(db, session.value.placeCode, line);
  db.update(countLine)
    .set({ countedC: note.quantityC, bookC, ...counted(by) })
    .where(where)
    .run();
  return ok(note.quantityC);
}

/** Adds something that lies there and is not on the list: an item, or a lot of it, that the ledger does not have there. */
export function addFound(
  db: Db,
  note: {
    id: number;
    itemCode: string;
    lotCode: string;
    quantityC: number;
    /** Of what ages: the last day of use on its label. */
    expiresOn?: CalendarDate;
    /** That last day of use is past, and it lies there all the same. */
    sureOfExpired?: CalendarDate;
    today: CalendarDate;
  },
  by: CountBy,
): Result<number> {
  const session = sessionIn(db, note.id, "counting");
  if (!session.ok) return session;
  const of = db.select().from(item).where(eq(item.code, note.itemCode)).get();
  const problems: Problem[] = [];
  if (!of)
    problems.push(
      problem(
        "item",
        "item-unknown",
        note.itemCode,
        phrase("There is no such item."),
        phrase("Choose an item of the catalogue."),
      ),
    );
  else if (of.category === "IF cable")
    problems.push(
      problem(
        "item",
        "drum-by-receipt",
        note.itemCode,
        phrase("A drum that the ledger does not know needs its serial and length."),
        phrase("Record it as a receipt without an order, with its serial."),
      ),
    );
  const known = note.lotCode ? db.select().from(lot).where(eq(lot.code, note.lotCode)).get() : undefined;
  if (of) {
    const ages = of.shelfLifeDays !== null;
    // A lot that the ledger has with its day needs no second saying of it.
    const expiresOn = note.expiresOn ?? (known?.itemCode === of.code ? known.expiresOn : null) ?? undefined;
    problems.push(
      ...lotProblems(
        "lot",
        { code: of.code, ages, takesSerials: takesSerials(of.category) },
        { lotCode: note.lotCode, expiresOn },
      ),
    );
    if (known?.itemCode === of.code && known.expiresOn !== null && known.expiresOn !== expiresOn)
      problems.push(
        problem(
          "expires",
          "lot-day-differs",
          note.expiresOn,
          phrase("The ledger has {{day}} as the last day of use of lot {{lot}}.", {
            day: known.expiresOn,
            lot: known.code,
          }),
          phrase("Check the label; leave the day empty to keep the ledger's."),
        ),
      );
    else if (ages && known === undefined) problems.push(...pastLastDay("expires", note, note.today));
  }
  const isNewLot = known === undefined && of?.shelfLifeDays != null;
  if (note.lotCode && problems.length === 0 && !isNewLot) {
    if (known?.itemCode !== note.itemCode)
      problems.push(
        problem(
          "lot",
          "lot-unknown",
          note.lotCode,
          phrase("The ledger knows no lot {{lot}} of {{item}}.", { lot: note.lotCode, item: note.itemCode }),
          phrase("Check the label; a new lot is recorded as a receipt with its last day of use."),
        ),
      );
  }
  if (problems.length > 0 || !of) return refused(...problems);
  const thing: Thing = { itemCode: of.code, lotCode: note.lotCode, drumSerial: "", owner: of.owner };
  const lines = db.select().from(countLine).where(eq(countLine.sessionId, note.id)).all();
  const same = lines.find(
    (l) =>
      l.itemCode === thing.itemCode &&
      l.lotCode === thing.lotCode &&
      l.drumSerial === "" &&
      l.owner === thing.owner,
  );
  if (same)
    return refused(
      problem(
        "item",
        "on-the-list",
        note.itemCode,
        phrase("It is on the list already, on line {{lineNo}}.", { lineNo: String(same.lineNo) }),
        phrase("Enter on that line all of it that lies there."),
      ),
    );
  if (isNewLot || (known?.expiresOn === null && note.expiresOn))
    saveLot(db, { code: note.lotCode, itemCode: of.code, expiresOn: note.expiresOn });
  const bookC = bookOf(db, session.value.placeCode, thing);
  const lineNo = Math.max(0, ...lines.map((l) => l.lineNo)) + 1;
  db.insert(countLine)
    .values({ sessionId: note.id, lineNo, ...thing, countedC: note.quantityC, bookC, ...counted(by) })
    .run();
  return ok(lineNo);
}

/** Hands the count in for approval. Every line must have been counted; what is not there is counted as nought. */
export function handInCount(db: Db, id: number, by: CountBy): Result<number> {
  const session = sessionIn(db, id, "counting");
  if (!session.ok) return session;
  const open = db
    .select({ n: sql<number>`COUNT(*)` })
    .from(countLine)
    .where(and(eq(countLine.sessionId, id), sql`${countLine.countedC} IS NULL`))
    .get()!.n;
  if (open > 0)
    return refused(
      problem(
        "lines",
        "not-counted",
        open,
        open === 1
          ? phrase("1 line is not counted yet.")
          : phrase("{{number}} lines are not counted yet.", { number: String(open) }),
        phrase("Enter what lies there, or 0 for what is not there. What is counted is kept."),
      ),
    );
  db.update(countSession).set({ state: "counted", countedAt: by.at }).where(eq(countSession.id, id)).run();
  log(db, id, "count handed in", by, {});
  return ok(id);
}
