/** What labels can be printed for, and what a scanned one means. */
import { desc, eq, sql } from "drizzle-orm";
import type { Label, LabelKind } from "@/lib/labels";
import { readLabel } from "@/lib/labels";
import { figure, type Phrase, phrase } from "@/lib/phrase";
import type { CalendarDate } from "@/lib/time";
import { parseVisitId, visitWords } from "@/lib/visitIds";
import type { Db } from "../open";
import {
  drum,
  fault,
  hungUnit,
  item,
  kit,
  lot,
  movement,
  type PlaceKind,
  place,
  planVisit,
  purchaseOrder,
  revisit,
} from "../schema";
import { atMark, marksByRun } from "./drumMarks";
import { loadDrumAccounts, placesOfRuns, standingDrum, visitOfRun } from "./drumViews";
import { neverIssued } from "./kitShort";
import { cutsMade } from "./ledger";
import { loadPlaces } from "./places";
import { loadCutting, type PlanHead } from "./plans";
import { withdrawnVisits } from "./withdrawn";

/** A label before it is laid out. */
export interface LabelRow extends Label {
  /** In large letters. */
  title: string | Phrase;
  /** Below it, the most important first: names as they are, and sentences for the language of who prints. */
  lines: (string | Phrase)[];
  /** The hop of a kit: who may see it. */
  hopCode?: string;
}

export interface LabelWish {
  kind: LabelKind;
  /** Drums: the place where they stand. */
  placeCode?: string;
  /** Kits: picked from this day to that. */
  from?: CalendarDate;
  to?: CalendarDate;
  /** One of them alone. */
  code?: string;
}

/** A day in words, as whoever prints writes it. */
type DayWords = (day: CalendarDate, style: "full" | "weekday") => string;

export function labelRows(
  db: Db,
  plan: PlanHead | undefined,
  wish: LabelWish,
  dayWords: DayWords,
): LabelRow[] {
  const rows = rowsOf(db, plan, wish, dayWords);
  return wish.code ? rows.filter((r) => r.code === wish.code) : rows;
}

function rowsOf(db: Db, plan: PlanHead | undefined, wish: LabelWish, dayWords: DayWords): LabelRow[] {
  const { kind, placeCode } = wish;
  switch (kind) {
    case "drum":
      return drumLabels(db, placeCode);
    case "place":
      return loadPlaces(db).map((p) => ({
        kind,
        code: p.code,
        title: p.code,
        lines: [p.name, phrase(p.kind)],
      }));
    case "item":
      return db
        .select({ code: item.code, name: item.name, category: item.category })
        .from(item)
        .orderBy(item.category, item.code)
        .all()
        .map((i) => ({ kind, code: i.code, title: i.code, lines: [i.name, phrase(i.category)] }));
    case "kit":
      return plan ? kitLabels(db, plan, wish, dayWords) : [];
  }
}

/** Drums with something left on them. */
function drumLabels(db: Db, placeCode: string | undefined): LabelRow[] {
  const names = new Map(
    db
      .select({ code: item.code, name: item.name })
      .from(item)
      .all()
      .map((i) => [i.code, i.name]),
  );
  return loadDrumAccounts(db)
    .filter((d) => d.placeCode !== null && (!placeCode || d.placeCode === placeCode))
    .map((d) => ({
      kind: "drum",
      code: d.serial,
      title: d.serial,
      lines: [
        names.get(d.itemCode) ?? d.itemCode,
        phrase("{{item}}, received {{length}}", {
          item: d.itemCode,
          length: figure(d.receivedC / 100, 2, "m"),
        }),
        phrase("Marks count from the outer end as received"),
      ],
    }));
}

/** Of withdrawn revisits and of visits that are done only those that somebody has begun to pick: no other has a box. */
function kitLabels(db: Db, plan: PlanHead, { from, to }: LabelWish, dayWords: DayWords): LabelRow[] {
  const withdrawn = withdrawnVisits(db);
  return db
    .select({
      visitId: kit.visitId,
      state: kit.state,
      pickOn: kit.pickOn,
      placeCode: kit.placeCode,
      massKg: kit.massKg,
      hopCode: planVisit.hopCode,
      side: planVisit.side,
      siteCode: planVisit.siteCode,
      crewCode: planVisit.crewCode,
      startOn: planVisit.startOn,
      remedy: revisit.remedy,
      isNeverIssued: sql<number>`${sql.raw(neverIssued("kit"))}`,
    })
    .from(kit)
    .innerJoin(planVisit, sql`${planVisit.planId} = ${kit.planId} AND ${planVisit.visitId} = ${kit.visitId}`)
    .leftJoin(revisit, eq(revisit.visitId, kit.visitId))
    .where(eq(kit.planId, plan.id))
    .orderBy(kit.pickOn, kit.visitId)
    .all()
    .filter((k) => (!from || k.pickOn >= from) && (!to || k.pickOn <= to))
    .filter((k) => k.state !== "planned" || !(withdrawn.has(k.visitId) || k.isNeverIssued))
    .map((k) => ({
      kind: "kit",
      code: k.visitId,
      title: phrase("{{hop}} {{side}}", { hop: k.hopCode, side: phrase(k.side) }),
      lines: [
        ...(withdrawn.has(k.visitId) ? [phrase("Withdrawn: what is in it goes back")] : []),
        ...whatFor(k.visitId, k.remedy),
        k.crewCode === null
          ? phrase("Site {{site}}, no crew yet", { site: k.siteCode })
          : phrase("Site {{site}}, crew {{crew}}", { site: k.siteCode, crew: k.crewCode }),
        k.startOn === null
          ? phrase("Needed on no day yet")
          : phrase("Needed {{day}}", { day: dayWords(k.startOn, "full") }),
        phrase("Picked {{day}}", { day: dayWords(k.pickOn, "weekday") }),
        phrase("{{place}}, {{mass}}", { place: k.placeCode, mass: figure(k.massKg, 0, "kg") }),
      ],
      hopCode: k.hopCode,
    }));
}

/** Two boxes of one end are told apart by what they are for; most are for the install. */
function whatFor(visitId: string, remedy: string | null): Phrase[] {
  const kind = parseVisitId(visitId)?.kind;
  return kind && kind !== "install" ? [phrase(visitWords(kind, { remedy: remedy ?? undefined }))] : [];
}

/** A cut that the list in force still wants of a drum. */
export interface CutToMake {
  runId: string;
  visitId: string | undefined;
  lengthCm: number;
  fromMarkCm: number;
  cutOn: CalendarDate;
  /** The warehouse whose kit wants the piece. */
  kitPlace: string | undefined;
}

export type Scanned =
  | {
      kind: "drum";
      code: string;
      itemCode: string;
      itemName: string;
      receivedC: number;
      /** Null when nothing is left on it. */
      placeCode: string | null;
      remainingC: number;
      /** In cutting order. */
      cuts: CutToMake[];
    }
  | { kind: "place"; code: string; name: string; placeKind: PlaceKind }
  | { kind: "kit"; code: string }
  | { kind: "item"; code: string; name: string }
  | { kind: "lot"; code: string; itemCode: string }
  | { kind: "order"; code: string }
  /** A piece with a serial that the ledger knows or that hangs by a crew's report; `faultId`: its latest story among the faulty pieces. */
  | { kind: "serial"; code: string; faultId: number | null }
  | { kind: "unknown"; code: string };

/** What a scanned text means here; a maker's own barcode is looked for among serials, places, items, lots and orders. */
export function whatIsScanned(db: Db, plan: PlanHead | undefined, text: string): Scanned {
  const { kind, code } = readLabel(text);
  const finders: [LabelKind | undefined, () => Scanned | undefined][] = [
    ["drum", () => drumScanned(db, plan, code)],
    ["place", () => placeScanned(db, code)],
    ["kit", () => kitScanned(db, plan, code)],
    ["item", () => itemScanned(db, code)],
    [undefined, () => lotScanned(db, code)],
    [undefined, () => serialScanned(db, code)],
    [undefined, () => orderScanned(db, code)],
  ];
  for (const [of, find] of finders) {
    if (kind !== undefined && of !== kind) continue;
    const found = find();
    if (found) return found;
  }
  return { kind: "unknown", code };
}

const same = (column: unknown, code: string) => sql`${column} = ${code} COLLATE NOCASE`;

function drumScanned(db: Db, plan: PlanHead | undefined, code: string): Scanned | undefined {
  const row = db
    .select({
      serial: drum.serial,
      itemCode: drum.itemCode,
      receivedC: drum.receivedC,
      itemName: item.name,
    })
    .from(drum)
    .innerJoin(item, eq(item.code, drum.itemCode))
    .where(same(drum.serial, code))
    .get();
  if (!row) return undefined;
  const standing = standingDrum(db, row.serial);
  return {
    kind: "drum",
    code: row.serial,
    itemCode: row.itemCode,
    itemName: row.itemName,
    receivedC: row.receivedC,
    placeCode: standing?.placeCode ?? null,
    remainingC: standing?.remainingC ?? 0,
    cuts: plan ? cutsToMake(db, plan, row.serial) : [],
  };
}

function cutsToMake(db: Db, plan: PlanHead, serial: string): CutToMake[] {
  const made = cutsMade(db);
  const kitPlaces = placesOfRuns(db, plan.id);
  const listed = loadCutting(db, plan.id)
    .flatMap((c) => c.drums)
    .find((d) => d.drum.serial === serial);
  const marks = marksByRun(db, plan.id);
  return (listed?.cuts ?? [])
    .filter((c) => !made.has(c.runId))
    .map((c) => atMark(c, marks))
    .map(({ runId, lengthCm, fromMarkCm, cutOn }) => ({
      runId,
      visitId: visitOfRun(db, plan.id, runId),
      lengthCm,
      fromMarkCm,
      cutOn,
      kitPlace: kitPlaces.get(runId),
    }));
}

function placeScanned(db: Db, code: string): Scanned | undefined {
  const row = db.select().from(place).where(same(place.code, code)).get();
  return row && { kind: "place", code: row.code, name: row.name, placeKind: row.kind };
}

function kitScanned(db: Db, plan: PlanHead | undefined, code: string): Scanned | undefined {
  if (!plan) return undefined;
  const row = db
    .select({ visitId: kit.visitId })
    .from(kit)
    .where(sql`${kit.planId} = ${plan.id} AND ${same(kit.visitId, code)}`)
    .get();
  return row && { kind: "kit", code: row.visitId };
}

function itemScanned(db: Db, code: string): Scanned | undefined {
  const row = db.select().from(item).where(same(item.code, code)).get();
  return row && { kind: "item", code: row.code, name: row.name };
}

function lotScanned(db: Db, code: string): Scanned | undefined {
  const row = db.select().from(lot).where(same(lot.code, code)).get();
  return row && { kind: "lot", code: row.code, itemCode: row.itemCode };
}

function serialScanned(db: Db, code: string): Scanned | undefined {
  const known = db
    .select({ id: fault.id, serial: fault.serial })
    .from(fault)
    .where(same(fault.serial, code))
    .orderBy(desc(fault.id))
    .get();
  if (known) return { kind: "serial", code: known.serial ?? code, faultId: known.id };
  const moved = db
    .select({ serial: movement.serial })
    .from(movement)
    .where(same(movement.serial, code))
    .get();
  if (moved) return { kind: "serial", code: moved.serial ?? code, faultId: null };
  const hung = db.select({ serial: hungUnit.serial }).from(hungUnit).where(same(hungUnit.serial, code)).get();
  return hung && { kind: "serial", code: hung.serial, faultId: null };
}

function orderScanned(db: Db, code: string): Scanned | undefined {
  const row = db
    .select({ code: purchaseOrder.code })
    .from(purchaseOrder)
    .where(same(purchaseOrder.code, code))
    .get();
  return row && { kind: "order", code: row.code };
}
