/** Counting a place: blind, approved by somebody else, the differences posted in one go. */

import { and, desc, eq, inArray, sql } from "drizzle-orm";
import { phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { Owner } from "@/lib/site";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { balance, type CountState, countLine, countSession, item, lot, place } from "../schema";
import { tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import { addLogEntry } from "./reports";
import { loadBalances } from "./shelves";

/** Who does it; the id tells people of one name apart. */
export interface CountBy {
  userId: string;
  name: string;
  at: number;
}

type Session = typeof countSession.$inferSelect;

function log(db: Db, id: number, action: string, by: CountBy, detail: unknown): void {
  addLogEntry(db, { at: by.at, userName: by.name, action, subject: `count ${id}`, detail });
}

/** The session when it is in one of the states; what is wrong otherwise. */
function sessionIn(db: Db, id: number, ...states: CountState[]): Result<Session> {
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
function bookOf(db: Db, placeCode: string, t: Thing): number {
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

const counted = (by: CountBy) => ({ countedById: by.userId, countedByName: by.name, countedAt: by.at });

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
  note: { id: number; itemCode: string; lotCode: string; quantityC: number },
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
  if (note.lotCode) {
    const known = db.select().from(lot).where(eq(lot.code, note.lotCode)).get();
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
        phrase("Count them; enter 0 for what is not there."),
      ),
    );
  db.update(countSession).set({ state: "counted", countedAt: by.at }).where(eq(countSession.id, id)).run();
  log(db, id, "count handed in", by, {});
  return ok(id);
}

type LineRow = typeof countLine.$inferSelect;

/**
 * Lines of which so much was used since they were counted that what was missing then cannot be taken off any more: a
 * crew that reports its use meanwhile has booked a part of the difference already. Nobody can say which part, so they
 * are counted again.
 */
function usedSince(db: Db, { id, placeCode }: Session): (LineRow & { nowC: number })[] {
  return db
    .select()
    .from(countLine)
    .where(and(eq(countLine.sessionId, id), sql`${countLine.countedC} < ${countLine.bookC}`))
    .orderBy(countLine.lineNo)
    .all()
    .map((l) => ({ ...l, nowC: bookOf(db, placeCode, l) }))
    .filter((l) => l.nowC + l.countedC! - l.bookC! < 0);
}

/** How many lines of a count that was handed in must be counted again before it can be approved. */
export function countUsedSince(db: Db, id: number): number {
  const session = sessionIn(db, id, "counted");
  return session.ok ? usedSince(db, session.value).length : 0;
}

/**
 * Has the lines that differ counted again, or only those used since; their figures are cleared, so that the second
 * count is blind too.
 */
export function askRecount(
  db: Db,
  id: number,
  reason: string,
  by: CountBy,
  only?: "used since",
): Result<number> {
  const session = sessionIn(db, id, "counted");
  if (!session.ok) return session;
  const which = only
    ? inArray(
        countLine.lineNo,
        usedSince(db, session.value).map((l) => l.lineNo),
      )
    : sql`${countLine.countedC} <> ${countLine.bookC}`;
  const cleared = db
    .update(countLine)
    .set({ countedC: null, bookC: null, countedById: null, countedByName: null, countedAt: null })
    .where(and(eq(countLine.sessionId, id), which))
    .run().changes;
  if (only && cleared === 0)
    return refused(
      problem(
        "lines",
        "nothing-used",
        id,
        phrase("No line was used since it was counted."),
        phrase("Approve the count, or have the differences counted again."),
      ),
    );
  db.update(countSession).set({ state: "counting", countedAt: null }).where(eq(countSession.id, id)).run();
  log(db, id, "recount asked for", by, { reason, lines: cleared });
  return ok(cleared);
}

/**
 * Approves a count and posts every difference as a count adjustment, all or none. Whoever counted a line of it may not
 * approve it.
 */
export function approveCount(db: Db, id: number, today: CalendarDate, by: CountBy): Result<{ rows: number }> {
  return wholeOrNothing(db, () => {
    const session = sessionIn(db, id, "counted");
    if (!session.ok) return session;
    const { placeCode } = session.value;
    const lines = db
      .select()
      .from(countLine)
      .where(eq(countLine.sessionId, id))
      .orderBy(countLine.lineNo)
      .all();
    if (lines.some((l) => l.countedById === by.userId))
      return refused(
        problem(
          "approval",
          "counted-yourself",
          by.name,
          phrase("You counted a part of it yourself."),
          phrase("Somebody else approves a count."),
        ),
      );
    const problems: Problem[] = usedSince(db, session.value).map(usedProblem);
    if (problems.length > 0) return refused(...problems);
    let rows = 0;
    for (const l of lines) {
      const differenceC = l.countedC! - l.bookC!;
      if (differenceC === 0) continue;
      const refusal = tryMovement(
        db,
        {
          key: `count ${id} ${l.lineNo}`,
          kind: "count adjustment",
          itemCode: l.itemCode,
          lotCode: l.lotCode || undefined,
          drumSerial: l.drumSerial || undefined,
          owner: l.owner,
          ...(differenceC > 0 ? { toPlace: placeCode } : { fromPlace: placeCode }),
          quantityC: Math.abs(differenceC),
          effectiveOn: today,
          postedAt: by.at,
          reason: ledgerReason("counted", {
            id: String(id),
            n: String(l.countedC! / 100),
            name: l.countedByName ?? "",
            m: String(l.bookC! / 100),
          }),
          postedBy: by.name,
        },
        `line ${l.lineNo} (${l.itemCode})`,
      );
      if (refusal) problems.push(refusal);
      rows++;
    }
    if (problems.length > 0) return refused(...problems);
    end(db, id, "approved", by);
    log(db, id, "count approved", by, { placeCode, lines: lines.length, adjusted: rows });
    return ok({ rows });
  });
}

const usedProblem = (l: LineRow & { nowC: number }): Problem =>
  problem(
    `line ${l.lineNo} (${l.itemCode})`,
    "used-since",
    l.countedC! / 100,
    phrase(
      "Used since the count: the books had {{before}} when {{counted}} were counted, and have {{now}} now.",
      {
        before: shortFigure(l.bookC! / 100),
        counted: shortFigure(l.countedC! / 100),
        now: shortFigure(l.nowC / 100),
      },
    ),
    phrase("Count this line again."),
  );

export function cancelCount(db: Db, id: number, reason: string, by: CountBy): Result<number> {
  const session = sessionIn(db, id, "counting", "counted");
  if (!session.ok) return session;
  end(db, id, "cancelled", by, reason);
  log(db, id, "count cancelled", by, { reason });
  return ok(id);
}

function end(db: Db, id: number, state: "approved" | "cancelled", by: CountBy, note = ""): void {
  db.update(countSession)
    .set({ state, endedBy: by.name, endedAt: by.at, note })
    .where(eq(countSession.id, id))
    .run();
}

export interface CountRow extends Session {
  placeName: string;
  lines: number;
  countedLines: number;
  /** Lines that differ; null as long as it is counted, so that nobody reads it meanwhile. */
  differing: number | null;
}

/** All counts, the newest first. */
export function loadCounts(db: Db): CountRow[] {
  return db
    .select({
      session: countSession,
      placeName: place.name,
      lines: sql<number>`COUNT(${countLine.lineNo})`,
      countedLines: sql<number>`COUNT(${countLine.countedC})`,
      differing: sql<number>`COALESCE(SUM(${countLine.countedC} <> ${countLine.bookC}), 0)`,
    })
    .from(countSession)
    .innerJoin(place, eq(place.code, countSession.placeCode))
    .leftJoin(countLine, eq(countLine.sessionId, countSession.id))
    .groupBy(countSession.id)
    .orderBy(desc(countSession.id))
    .all()
    .map(({ session, differing, ...r }) => ({
      ...session,
      ...r,
      differing: session.state === "counting" ? null : differing,
    }));
}

/** A line as the person sees it who counts: without what the ledger says. */
export interface BlindLine {
  lineNo: number;
  itemCode: string;
  name: string;
  unit: string;
  lotCode: string;
  drumSerial: string;
  owner: Owner;
  countedC: number | null;
  countedByName: string | null;
}

export function loadBlindLines(db: Db, id: number): BlindLine[] {
  return lineRows(db, id).map(({ bookC: _, priceMinor: _p, currency: _c, ...l }) => l);
}

export interface CountDifference extends BlindLine {
  bookC: number;
  differenceC: number;
  /** What the difference is worth at catalogue prices. */
  valueMinor: number;
  currency: string;
}

/** Every line against the ledger, those that differ most in value first; nothing as long as it is counted. */
export function loadDifferences(db: Db, id: number): CountDifference[] {
  const session = db.select().from(countSession).where(eq(countSession.id, id)).get();
  if (!session || session.state === "counting") return [];
  return lineRows(db, id)
    .filter((l) => l.countedC !== null && l.bookC !== null)
    .map(({ priceMinor, ...l }) => {
      const differenceC = l.countedC! - l.bookC!;
      return {
        ...l,
        bookC: l.bookC!,
        differenceC,
        valueMinor: Math.round((differenceC * priceMinor) / 100),
      };
    })
    .sort((a, b) => Math.abs(b.valueMinor) - Math.abs(a.valueMinor) || a.lineNo - b.lineNo);
}

function lineRows(db: Db, id: number) {
  return db
    .select({
      lineNo: countLine.lineNo,
      itemCode: countLine.itemCode,
      name: item.name,
      unit: item.unit,
      lotCode: countLine.lotCode,
      drumSerial: countLine.drumSerial,
      owner: countLine.owner,
      countedC: countLine.countedC,
      bookC: countLine.bookC,
      countedByName: countLine.countedByName,
      priceMinor: item.priceMinor,
      currency: item.currency,
    })
    .from(countLine)
    .innerJoin(item, eq(item.code, countLine.itemCode))
    .where(eq(countLine.sessionId, id))
    .orderBy(countLine.lineNo)
    .all();
}

/** Whether somebody counted a line of it. */
export function hasCounted(db: Db, id: number, userId: string): boolean {
  return (
    db
      .select({ lineNo: countLine.lineNo })
      .from(countLine)
      .where(and(eq(countLine.sessionId, id), eq(countLine.countedById, userId)))
      .get() !== undefined
  );
}
