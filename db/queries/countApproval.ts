/** What becomes of a count: counted again, approved by somebody else with its differences posted, or given up. */
import { and, eq, inArray, sql } from "drizzle-orm";
import { phrase, shortFigure } from "@/lib/phrase";
import { ok, type Problem, problem, type Result, refused } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { countLine, countSession } from "../schema";
import { bookOf, type CountBy, log, type Session, sessionIn } from "./countWork";
import { tryMovement, wholeOrNothing } from "./ledger";
import { ledgerReason } from "./ledgerReasons";

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
