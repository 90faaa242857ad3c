/** The ledger: posting a row, taking one back, reading rows, and holding balances against their sum. Quantities are hundredths (`...C`). */
import { and, desc, eq, gte, inArray, lt, or, sql } from "drizzle-orm";
import { type Phrase, phrase, shortFigure } from "@/lib/phrase";
import { type Problem, type Result, refused, sentences } from "@/lib/result";
import type { Owner } from "@/lib/site";
import { type ScrapReason, serialOf } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import { type Db, writing } from "../open";
import { item, type MovementKind, movement, type PlaceKind, place } from "../schema";
import { isSerial } from "./serials";
import { visitPartsOf } from "./typedVisit";

export interface NewMovement {
  key: string;
  kind: MovementKind;
  itemCode: string;
  lotCode?: string;
  drumSerial?: string;
  /** Of a single piece: found faulty, or read into a kit. */
  serial?: string;
  owner: Owner;
  fromPlace?: string;
  toPlace?: string;
  quantityC: number;
  effectiveOn: CalendarDate;
  postedAt: number;
  correctsId?: number;
  orderCode?: string;
  visitId?: string;
  runId?: string;
  faultId?: number;
  reason: string;
  /** Of scrap by hand. */
  scrapReason?: ScrapReason;
  postedBy: string;
}

/**
 * Adds one row to the ledger; a key that is there already moves nothing and gives the row it made then.
 * Throws what the ledger's triggers refuse (see `ledgerRefusal`).
 */
export function postMovement(db: Db, m: NewMovement): { id: number; isNew: boolean } {
  const known = movementByKey(db, m.key);
  if (known !== undefined) return { id: known, isNew: false };
  const row = db.insert(movement).values(m).returning({ id: movement.id }).get();
  return { id: row.id, isNew: true };
}

/** Posts the mirror of a row. Undefined when there is no such row. */
export function reverseMovement(
  db: Db,
  id: number,
  by: { key: string; effectiveOn: CalendarDate; postedAt: number; reason: string; postedBy: string },
): { id: number; isNew: boolean } | undefined {
  const row = db.select().from(movement).where(eq(movement.id, id)).get();
  if (!row) return undefined;
  return postMovement(db, {
    ...by,
    kind: "reversal",
    itemCode: row.itemCode,
    lotCode: row.lotCode ?? undefined,
    drumSerial: row.drumSerial ?? undefined,
    serial: row.serial ?? undefined,
    owner: row.owner,
    fromPlace: row.toPlace ?? undefined,
    toPlace: row.fromPlace ?? undefined,
    quantityC: row.quantityC,
    correctsId: row.id,
    orderCode: row.orderCode ?? undefined,
    visitId: row.visitId ?? undefined,
    runId: row.runId ?? undefined,
    faultId: row.faultId ?? undefined,
  });
}

/** The ledger's own words when a trigger or check refused a row; undefined for any other error. */
export function ledgerRefusal(error: unknown): string | undefined {
  if (!(error instanceof Error)) return undefined;
  const cause = error.cause instanceof Error ? error.cause : error;
  const code = (cause as { code?: string }).code;
  if (code === "SQLITE_CONSTRAINT_TRIGGER") return cause.message;
  if (code === "SQLITE_CONSTRAINT_CHECK" && cause.message.includes("balance"))
    return "on hand would fall below zero";
  if (code === "SQLITE_CONSTRAINT_UNIQUE" && cause.message.includes("corrects_id"))
    return "the row was taken back already";
  return undefined;
}

export interface LedgerDifference {
  itemCode: string;
  placeCode: string;
  lotCode: string;
  drumSerial: string;
  owner: Owner;
  balanceC: number;
  ledgerC: number;
}

/**
 * Balances that differ from the sum of their movements: empty when the ledger is whole. It reads every row ever
 * posted, so that no page asks for it: the job "reconcile" does.
 */
export function ledgerDifferences(db: Db): LedgerDifference[] {
  return db.$client
    .prepare(
      `SELECT item_code AS itemCode, place AS placeCode, lot AS lotCode, drum AS drumSerial, owner,
              SUM(kept) AS balanceC, SUM(q) AS ledgerC
       FROM (
         SELECT item_code, to_place AS place, COALESCE(lot_code, '') AS lot, COALESCE(drum_serial, '') AS drum, owner,
                quantity_c AS q, 0 AS kept FROM movement WHERE to_place IS NOT NULL
         UNION ALL
         SELECT item_code, from_place, COALESCE(lot_code, ''), COALESCE(drum_serial, ''), owner,
                -quantity_c, 0 FROM movement WHERE from_place IS NOT NULL
         UNION ALL
         SELECT item_code, place_code, lot_code, drum_serial, owner, 0, quantity_c FROM balance
       )
       GROUP BY item_code, place, lot, drum, owner HAVING SUM(q) <> SUM(kept)`,
    )
    .all() as LedgerDifference[];
}

export interface LedgerRow {
  id: number;
  kind: MovementKind;
  itemCode: string;
  itemName: string;
  unit: string;
  lotCode: string | null;
  drumSerial: string | null;
  serial: string | null;
  owner: Owner;
  fromPlace: string | null;
  toPlace: string | null;
  quantityC: number;
  effectiveOn: CalendarDate;
  postedAt: number;
  postedBy: string;
  reason: string;
  correctsId: number | null;
  orderCode: string | null;
  visitId: string | null;
  faultId: number | null;
  /** A cut, or the saw allowance of one: the two are taken back together. */
  isOfCut: boolean;
}

export interface LedgerFilter {
  itemCode?: string;
  /** From it or to it. */
  placeCode?: string;
  drumSerial?: string;
  visitId?: string;
  /** All visits of a hop or of one of its ends: what their ids begin with. */
  visitsOf?: string;
  serial?: string;
  faultId?: number;
}

const fits = (filter: LedgerFilter) =>
  and(
    filter.itemCode ? eq(movement.itemCode, filter.itemCode) : undefined,
    filter.placeCode
      ? or(eq(movement.fromPlace, filter.placeCode), eq(movement.toPlace, filter.placeCode))
      : undefined,
    filter.drumSerial ? eq(movement.drumSerial, filter.drumSerial) : undefined,
    filter.visitId ? eq(movement.visitId, filter.visitId) : undefined,
    // The sign after "/" ends the range, so that the index on visits serves.
    filter.visitsOf
      ? and(gte(movement.visitId, `${filter.visitsOf}/`), lt(movement.visitId, `${filter.visitsOf}0`))
      : undefined,
    filter.serial ? isSerial(movement.serial, filter.serial) : undefined,
    filter.faultId ? eq(movement.faultId, filter.faultId) : undefined,
  );

/**
 * What somebody typed as the ledger knows it: an item or a place in capitals or not; a visit as it is shown ("H-012 near"), by its
 * hop alone, or by its id.
 */
export function askedOfLedger(
  db: Db,
  asked: { item?: string; place?: string; drum?: string; visit?: string; serial?: string },
): LedgerFilter {
  const known = (table: typeof item | typeof place, code: string): string =>
    db.select({ code: table.code }).from(table).where(sql`${table.code} = ${code} COLLATE NOCASE`).get()
      ?.code ?? code;
  const { parts } = visitPartsOf(db, asked.visit ?? "");
  const visit = parts.join("/");
  return {
    itemCode: asked.item?.trim() ? known(item, asked.item.trim()) : undefined,
    placeCode: asked.place?.trim() ? known(place, asked.place.trim()) : undefined,
    drumSerial: asked.drum?.trim() || undefined,
    ...(parts.length > 2 ? { visitId: visit } : { visitsOf: visit || undefined }),
    serial: asked.serial?.trim() || undefined,
  };
}

/** Ledger rows, newest first. @param filter `before`: only rows older than this one, for the next page */

export function loadLedger(db: Db, filter: LedgerFilter & { limit: number; before?: number }): LedgerRow[] {
  return db
    .select({
      id: movement.id,
      kind: movement.kind,
      itemCode: movement.itemCode,
      itemName: item.name,
      unit: item.unit,
      lotCode: movement.lotCode,
      drumSerial: movement.drumSerial,
      serial: movement.serial,
      owner: movement.owner,
      fromPlace: movement.fromPlace,
      toPlace: movement.toPlace,
      quantityC: movement.quantityC,
      effectiveOn: movement.effectiveOn,
      postedAt: movement.postedAt,
      postedBy: movement.postedBy,
      reason: movement.reason,
      correctsId: movement.correctsId,
      orderCode: movement.orderCode,
      visitId: movement.visitId,
      faultId: movement.faultId,
      isOfCut: sql<number>`${movement.runId} IS NOT NULL
        AND (${movement.kind} = 'cut' OR ${movement.kind} = 'scrap' AND ${movement.key} LIKE 'saw %')`,
    })
    .from(movement)
    .innerJoin(item, eq(item.code, movement.itemCode))
    .where(and(fits(filter), filter.before ? lt(movement.id, filter.before) : undefined))
    .orderBy(desc(movement.id))
    .limit(filter.limit)
    .all()
    .map((r) => ({ ...r, isOfCut: r.isOfCut === 1 }));
}

export interface CutMade {
  id: number;
  runId: string;
  visitId: string | null;
  itemCode: string;
  drumSerial: string;
  /** The warehouse where it was cut. */
  placeCode: string;
  /** The run as cut, without the saw allowance. */
  quantityC: number;
  effectiveOn: CalendarDate;
  postedBy: string;
}

/** Cuts that stand, by run: not taken back, and their piece not lost. */
export function cutsMade(db: Db): Map<string, CutMade> {
  const rows = db.$client
    .prepare(
      `SELECT id, run_id AS runId, visit_id AS visitId, item_code AS itemCode, drum_serial AS drumSerial,
              from_place AS placeCode, quantity_c AS quantityC, effective_on AS effectiveOn, posted_by AS postedBy
       FROM movement m WHERE kind = 'cut' AND run_id IS NOT NULL
         AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)
         AND NOT EXISTS (SELECT 1 FROM run_loss x WHERE x.cut_id = m.id)
       ORDER BY +id`, // sorted by hand: for an order that costs nothing the whole ledger would be read
    )
    .all() as CutMade[];
  return new Map(rows.map((r) => [r.runId, r]));
}

export interface LastMove {
  itemCode: string;
  /** Where it went; null = out of the places. */
  place: string | null;
  kind: PlaceKind | null;
}

/** What the newest row that names a serial says it is, and where it went; undefined = no row names it. */
export function lastMoveOf(db: Db, serial: string): LastMove | undefined {
  return db.$client
    .prepare(
      `SELECT m.item_code AS itemCode, m.to_place AS place, p.kind FROM movement m
       LEFT JOIN place p ON p.code = m.to_place
       WHERE m.serial > '' AND m.serial = ? COLLATE NOCASE ORDER BY m.effective_on DESC, m.id DESC LIMIT 1`,
    )
    .get(serialOf(serial)) as LastMove | undefined;
}

/** One row of the ledger; undefined when there is no such row. */
export function movementById(db: Db, id: number): typeof movement.$inferSelect | undefined {
  return db.select().from(movement).where(eq(movement.id, id)).get();
}

/** The row that was posted under a key; undefined = none was. */
export const movementByKey = (db: Db, key: string): number | undefined =>
  db.select({ id: movement.id }).from(movement).where(eq(movement.key, key)).get()?.id;

/** Which of these rows have been taken back, with the row that did it. */
export function reversalsOf(db: Db, ids: readonly number[]): Map<number, number> {
  if (ids.length === 0) return new Map();
  const rows = db
    .select({ id: movement.id, correctsId: movement.correctsId })
    .from(movement)
    .where(inArray(movement.correctsId, [...ids]))
    .all();
  return new Map(rows.map((r) => [r.correctsId!, r.id]));
}

export const REMEDIES: readonly [words: string, remedy: string][] = [
  ["on a later day", "Use a later date, or take back what left the place afterwards first."],
  ["below zero", "Check quantity, place and lot; count the place when the shelf shows more than the ledger."],
  ["one place", "Move the whole of what is left on the drum."],
  ["already received", "Check the serial; a drum keeps one serial for life."],
  ["more cable", "Check the length against the drum's label."],
  ["lot belongs", "Choose a lot of this item."],
  ["drum holds", "Choose a drum of this cable."],
  ["another item or owner", "Check serial and item; a serial belongs to one piece."],
  ["moved on a later day", "Use a later date, or take back what was done with the piece afterwards first."],
  ["stands elsewhere", "Look the serial up under faulty pieces: it is on hold or in repair."],
  ["in stock already", "Check the serial of the piece that came."],
  ["name the serial", "Name the serial of the piece that leaves."],
  ["does not go this way", "Use the steps on the page of the faulty piece."],
];

/** What the ledger refused, as a problem that names the row. */
function refusalOfRow(m: NewMovement, words: string, path: string): Problem {
  const [from, to] = [m.fromPlace ?? "", m.toPlace ?? ""];
  const way =
    from && to
      ? phrase("from {{from}} to {{to}}", { from, to })
      : from
        ? phrase("from {{from}}", { from })
        : phrase("to {{to}}", { to });
  const parts: (string | Phrase)[] = [
    m.itemCode,
    ...(m.lotCode ? [phrase("lot {{lot}}", { lot: m.lotCode })] : []),
    ...(m.drumSerial ? [phrase("drum {{drum}}", { drum: m.drumSerial })] : []),
    ...(m.serial ? [phrase("serial {{serial}}", { serial: m.serial })] : []),
  ];
  const what = phrase(
    parts.map((_, i) => `{{part${i}}}`).join(", "),
    Object.fromEntries(parts.map((part, i) => [`part${i}`, part])),
  );
  return {
    path,
    rule: "ledger",
    value: m.quantityC / 100,
    ...sentences(
      phrase("The ledger refused {{kind}} of {{quantity}} {{way}} ({{what}}): {{why}}.", {
        kind: phrase(m.kind),
        quantity: shortFigure(m.quantityC / 100),
        way,
        what,
        why: phrase(words),
      }),
      phrase(REMEDIES.find(([part]) => words.includes(part))?.[1] ?? "Correct the row and post it again."),
    ),
  };
}

/** Posts one row; the problem when the ledger's rules refuse it. `path` names the field that the row came from. */
export function tryMovement(db: Db, m: NewMovement, path: string): Problem | undefined {
  try {
    postMovement(db, m);
    return undefined;
  } catch (error) {
    const words = ledgerRefusal(error);
    if (words === undefined) throw error;
    return refusalOfRow(m, words, path);
  }
}

class Undo extends Error {
  constructor(readonly problems: readonly Problem[]) {
    super("undone");
  }
}

/** Carries `work` out whole or, when its result is refused, not at all. */
export function wholeOrNothing<T>(db: Db, work: () => Result<T>): Result<T> {
  try {
    return writing(db, () => {
      const result = work();
      if (!result.ok) throw new Undo(result.problems);
      return result as Result<T> & { then?: never };
    }) as Result<T>;
  } catch (error) {
    if (error instanceof Undo) return refused(...error.problems);
    throw error;
  }
}

/** Remembered: of the whole of a large ledger it is the slowest part of the page. */
export function countLedger(db: Db, filter: LedgerFilter): number {
  return remembered(
    db,
    `ledger rows ${JSON.stringify(filter)}`,
    ["stock"],
    () => db.select({ n: sql<number>`COUNT(*)` }).from(movement).where(fits(filter)).get()!.n,
  );
}
