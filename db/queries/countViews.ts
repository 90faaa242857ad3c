/** Counts as pages show them: the list, the blind lines, the differences. */
import { and, desc, eq, sql } from "drizzle-orm";
import type { Owner } from "@/lib/site";
import type { Db } from "../open";
import { countLine, countSession, item, place } from "../schema";
import type { Session } from "./countWork";

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
