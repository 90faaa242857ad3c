/** The accepted rows of an import into the tables, all or nothing. */
import { inArray } from "drizzle-orm";
import {
  type CrewMemberRow,
  hopsFromRows,
  hopsWithout,
  itemFromRow,
  KIND_NAMES,
  type KindName,
  type OrderRow,
  type PlaceRow,
  type RowOf,
  type StockRow,
  siteFromRow,
  type TakenOut,
} from "@/lib/exchange";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { CalendarDate } from "@/lib/time";
import { decodeMembers, encodeMembers, encodeSeries, type WeatherSeries } from "@/lib/weather";
import { type Db, writing } from "../open";
import { type OrderState, orderLine, purchaseOrder } from "../schema";
import { storeActualHours } from "./actualHours";
import { loadCatalogue, saveItem } from "./catalogue";
import { saveCrew, saveMember } from "./crews";
import { groupBy, loadSites, type PartHop, saveHops, saveSites } from "./design";
import { NO_SITE, standingHops } from "./existingRows";
import { ledgerRefusal, postMovement } from "./ledger";
import { ledgerReason } from "./ledgerReasons";
import { addLogEntry } from "./log";
import { loadPlaces, savePlace } from "./places";
import { type BalanceRow, loadBalances, saveLot } from "./shelves";
import { upsertRows } from "./upsert";
import {
  deleteWeatherBlock,
  forecastBlocks,
  memberBlock,
  saveWeatherBlock,
  saveWeatherPlace,
} from "./weather";

/** Rows of one kind that are new or changed (`rowsToStore` of a preview). */
export interface KindRows {
  kind: KindName;
  rows: readonly RowOf<KindName>[];
}

export interface StoreContext {
  /** Names the keys of the ledger rows: the same import moves nothing twice. */
  importId: string;
  /** Name of the person, for the ledger and orders. */
  by: string;
  now: number;
  today: CalendarDate;
  /** Names of the files, for the log of what they change. */
  files?: readonly string[];
  /** Parts of hops that stand and are taken out by hand; the rows name their hop. */
  takenOut?: readonly TakenOut[];
}

export type StoredCounts = Partial<Record<KindName, number>>;

/** Undoes the transaction; never leaves this file. */
class NotStored extends Error {
  constructor(readonly problems: readonly Problem[]) {
    super("not stored");
  }
}

/** Stores all rows in one transaction, each kind after those it refers to. Refused: nothing is stored. */
export function storeRows(db: Db, kinds: readonly KindRows[], context: StoreContext): Result<StoredCounts> {
  try {
    return ok(
      writing(db, () => {
        const given = <K extends KindName>(kind: K) =>
          kinds.filter((k) => k.kind === kind).flatMap((k) => k.rows) as RowOf<K>[];
        saveSites(
          db,
          given("sites").map((row) => siteFromRow(row)),
        );
        for (const row of given("places")) savePlace(db, placeOf(row));
        for (const row of given("items")) saveItem(db, itemFromRow(row));
        storeDesign(db, given, context.takenOut ?? []);
        storeStock(db, given("stock"), context);
        storeOrders(db, given("orders"), context);
        for (const row of given("crews")) saveCrew(db, row);
        for (const row of given("crew members")) saveMember(db, row.crewCode, memberOf(row));
        for (const row of given("weather places")) saveWeatherPlace(db, row);
        const problems = storeActualHours(db, given("actual hours"), context);
        if (problems.length > 0) throw new NotStored(problems);
        return Object.fromEntries(
          KIND_NAMES.flatMap((kind) => {
            const { length } = given(kind);
            return length > 0 ? [[kind, length]] : [];
          }),
        ) as StoredCounts;
      }),
    );
  } catch (thrown) {
    if (thrown instanceof NotStored) return refused(...thrown.problems);
    throw thrown;
  }
}

/** Stores series as blocks: a year of history takes the place of the same year, a forecast that of the same issue. */
export function storeWeather(db: Db, series: readonly WeatherSeries[]): void {
  for (const s of series.filter(({ kind }) => kind !== "member")) {
    // A forecast holds what stood of its issue, which may have begun at another hour.
    if (s.kind === "forecast")
      for (const b of forecastBlocks(db, s.placeId, s.issuedAtMillis)) deleteWeatherBlock(db, b);
    saveWeatherBlock(db, { ...blockHead(s), payload: Buffer.from(encodeSeries(s)) });
  }
  const members = groupBy(
    series.filter(({ kind }) => kind === "member"),
    (s) => `${s.issuedAtMillis} ${s.placeId}`,
  );
  for (const issue of members.values()) storeMembers(db, issue);
}

/** All members of a place and issue are one block; a member that stands already is replaced by the new one. */
function storeMembers(db: Db, issue: readonly WeatherSeries[]): void {
  const { placeId, issuedAtMillis } = issue[0]!;
  const standing = memberBlock(db, placeId, issuedAtMillis);
  const all = new Map<number, WeatherSeries>();
  for (const s of [...(standing ? decodeMembers(standing.payload) : []), ...issue]) all.set(s.memberNo!, s);
  const members = [...all.values()].sort((a, b) => a.memberNo! - b.memberNo!);
  if (standing) deleteWeatherBlock(db, standing);
  const startsAt = Math.min(...members.map((s) => s.startsAtMillis));
  const hours = Math.max(...members.map((s) => (s.startsAtMillis - startsAt) / HOUR_MILLIS + s.hours));
  saveWeatherBlock(db, {
    ...blockHead(members[0]!),
    startsAt,
    hours,
    payload: Buffer.from(encodeMembers(members)),
  });
}

const HOUR_MILLIS = 3_600_000;

function blockHead(s: WeatherSeries) {
  return {
    placeCode: s.placeId,
    kind: s.kind,
    issuedAt: s.kind === "history" ? 0 : s.issuedAtMillis,
    startsAt: s.startsAtMillis,
    hours: s.hours,
    source: s.source,
    isMadeUp: s.isMadeUp,
  };
}

function placeOf({ code, name, kind, latDeg, lonDeg }: PlaceRow) {
  return { code, name, kind, latDeg: latDeg ?? null, lonDeg: lonDeg ?? null };
}

/** A person has each skill once and begins one leave a day: the longest of equals stands. */
function memberOf(row: CrewMemberRow) {
  const skills = new Map<string, CrewMemberRow["skills"][number]>();
  for (const held of row.skills) {
    const other = skills.get(held.skill);
    if (!other || (other.validUntil && (!held.validUntil || held.validUntil > other.validUntil)))
      skills.set(held.skill, held);
  }
  const leave = new Map<string, CrewMemberRow["leave"][number]>();
  for (const span of row.leave) {
    const other = leave.get(span.fromOn);
    if (!other || span.toOn > other.toOn) leave.set(span.fromOn, span);
  }
  const { code, name, isLead } = row;
  return { code, name, isLead, skills: [...skills.values()], leave: [...leave.values()] };
}

/** Hops that are read by their codes rather than with all others. */
const MOST_NAMED = 200;

/** A hop without a site at an end is stored without that end, with all that its other end has. */
function storeDesign(
  db: Db,
  given: <K extends KindName>(kind: K) => RowOf<K>[],
  takenOut: readonly TakenOut[],
): void {
  const rows = {
    hops: given("hops").map((h) => ({
      ...h,
      nearSiteCode: h.nearSiteCode ?? NO_SITE,
      farSiteCode: h.farSiteCode ?? NO_SITE,
    })),
    ends: given("ends"),
    antennas: given("antennas"),
    radios: given("radios"),
    gates: given("gates"),
  };
  if (Object.values(rows).every((list) => list.length === 0)) return;
  const parts = [...rows.ends, ...rows.antennas, ...rows.radios, ...rows.gates];
  const touched = [...new Set([...rows.hops.map((h) => h.code), ...parts.map((r) => r.hopCode)])];
  // Reading all hops takes half a second in a large programme; naming very many takes more than a statement holds.
  const standing = standingHops(db, touched.length <= MOST_NAMED ? touched : undefined);
  const { hops } = hopsFromRows(rows, takenOut.length > 0 ? hopsWithout(standing, takenOut) : standing);
  saveHops(
    db,
    hops.map(
      ({ near, far, ...hop }): PartHop => ({
        ...hop,
        ...(near.siteId !== NO_SITE && { near }),
        ...(far.siteId !== NO_SITE && { far }),
      }),
    ),
  );
}

const lineKey = (b: Omit<BalanceRow, "quantityC">) =>
  JSON.stringify([b.itemCode, b.placeCode, b.owner, b.lotCode, b.drumSerial]);

/**
 * Rows say what lies there. A difference to the ledger is posted: a receipt where nothing of it lay yet, else a count
 * adjustment up or down; rows of the ledger are never edited.
 */
function storeStock(db: Db, rows: readonly StockRow[], context: StoreContext): void {
  if (rows.length === 0) return;
  makeSitePlaces(
    db,
    rows.map((r) => r.placeCode),
  );
  const onHand = new Map(loadBalances(db).map((b) => [lineKey(b), b.quantityC]));
  const drumStands = db.$client.prepare("UPDATE drum SET received_c = ? WHERE serial = ? AND item_code = ?");
  const drumIsNew = db.$client.prepare("INSERT INTO drum (serial, item_code, received_c) VALUES (?, ?, ?)");
  const itemOf = {
    Drum: db.$client.prepare("SELECT item_code FROM drum WHERE serial = ?").pluck(),
    Lot: db.$client.prepare("SELECT item_code FROM lot WHERE code = ?").pluck(),
  };
  const refuseForeign = (what: "Drum" | "Lot", code: string, row: StockRow) => {
    const other = itemOf[what].get(code) as string | undefined;
    if (other === undefined || other === row.itemCode) return other !== undefined;
    throw new NotStored([
      {
        path: `Stock, ${what}`,
        rule: "belongs-to-another-item",
        value: code,
        message: `${what} "${code}" is known as ${other}, and the file says ${row.itemCode}.`,
        remedy: "Correct the item or the code in the file.",
      },
    ]);
  };

  for (const row of rows) {
    if (row.lotCode) {
      refuseForeign("Lot", row.lotCode, row);
      saveLot(db, { code: row.lotCode, itemCode: row.itemCode, expiresOn: row.expiresOn });
    }
    if (row.drumSerial) {
      const isKnown = refuseForeign("Drum", row.drumSerial, row);
      const receivedC = hundredths(row.receivedM ?? row.quantity);
      if (!isKnown && receivedC > 0) drumIsNew.run(row.drumSerial, row.itemCode, receivedC);
      else if (isKnown && row.receivedM !== undefined)
        drumStands.run(receivedC, row.drumSerial, row.itemCode);
    }
    const { itemCode, placeCode, owner, lotCode, drumSerial } = row;
    const name = lineKey({
      itemCode,
      placeCode,
      owner,
      lotCode: lotCode ?? "",
      drumSerial: drumSerial ?? "",
    });
    const before = onHand.get(name);
    const difference = hundredths(row.quantity) - (before ?? 0);
    if (difference === 0) continue;
    post(db, row, {
      key: `import/${context.importId}/${name}`,
      kind: before === undefined ? "receipt" : "count adjustment",
      itemCode,
      lotCode,
      drumSerial,
      owner,
      ...(difference > 0 ? { toPlace: placeCode } : { fromPlace: placeCode }),
      quantityC: Math.abs(difference),
      effectiveOn: context.today,
      postedAt: context.now,
      reason: ledgerReason(before === undefined ? "openingFile" : "fromFile"),
      postedBy: context.by,
    });
  }
}

function post(db: Db, row: StockRow, movement: Parameters<typeof postMovement>[1]): void {
  try {
    postMovement(db, movement);
  } catch (thrown) {
    const words = ledgerRefusal(thrown);
    if (words === undefined) throw thrown;
    throw new NotStored([
      {
        path: "Stock, Quantity",
        rule: "ledger-refuses",
        value: row.quantity,
        message: `${row.itemCode} at ${row.placeCode}${row.drumSerial ? `, drum ${row.drumSerial}` : ""}: ${words}.`,
        remedy: "Look at the item's ledger, and correct the row or leave it out.",
      },
    ]);
  }
}

const hundredths = (quantity: number) => Math.round(quantity * 100);

/** What lies at, or is sent to, a site needs the site as a place of stock. */
function makeSitePlaces(db: Db, codes: readonly string[]): void {
  const known = new Set(loadPlaces(db).map((p) => p.code));
  const missing = new Set(codes.filter((code) => !known.has(code)));
  if (missing.size === 0) return;
  for (const site of loadSites(db)) {
    if (!missing.has(site.code)) continue;
    savePlace(db, {
      code: site.code,
      name: site.name,
      kind: "site",
      latDeg: site.position?.latDeg ?? null,
      lonDeg: site.position?.lonDeg ?? null,
    });
  }
}

/** Orders of files are on their way: state sent. The customer's material is a call-off. */
function storeOrders(db: Db, rows: readonly OrderRow[], context: StoreContext): void {
  if (rows.length === 0) return;
  makeSitePlaces(
    db,
    rows.map((r) => r.placeCode),
  );
  const byOrder = groupBy(rows, (r) => r.orderCode);
  const heads = new Map(
    db
      .select()
      .from(purchaseOrder)
      .where(inArray(purchaseOrder.code, [...byOrder.keys()]))
      .all()
      .map((o) => [o.code, o]),
  );
  const ownerOf = new Map(loadCatalogue(db).map((i) => [i.code, i.owner]));
  const lineStands = db.$client.prepare(
    `SELECT quantity_c AS quantityC, item_code AS itemCode, due_on AS dueOn, received_c AS receivedC, promised_on AS promisedOn, price_minor AS priceMinor, currency
     FROM order_line WHERE order_code = ? AND line_no = ?`,
  );

  for (const [code, lines] of byOrder) {
    const head = heads.get(code);
    const first = lines[0]!;
    const problem = orderProblem(code, head, lines);
    if (problem) throw new NotStored([problem]);
    const isCustomers = lines.some((l) => l.owner === "customer" || ownerOf.get(l.itemCode) === "customer");
    const state: OrderState = head?.state === "partly received" ? "partly received" : "sent";
    upsertRows(db, purchaseOrder, [
      {
        code,
        kind: isCustomers ? "call-off" : "purchase",
        supplier: first.supplier ?? "",
        state,
        placeCode: first.placeCode,
        createdAt: head?.createdAt ?? context.now,
        createdBy: head?.createdBy ?? context.by,
        note: head?.note ?? "",
      },
    ]);
    const before = lines.map((l) => lineStands.get(code, l.lineNo) as StandingLine | undefined);
    logFile(db, code, head !== undefined, lines, before, context);
    upsertRows(
      db,
      orderLine,
      lines.map((l, i) => {
        const stands = before[i];
        const receivedC = stands?.receivedC ?? 0;
        return {
          orderCode: code,
          lineNo: l.lineNo,
          itemCode: l.itemCode,
          quantityC: receivedC + hundredths(l.quantity),
          receivedC,
          dueOn: l.dueOn,
          // A day that moves is a slip; the promise is the first one that was heard of.
          promisedOn: stands?.promisedOn ?? l.dueOn,
          priceMinor: l.priceMinor ?? stands?.priceMinor ?? null,
          currency: l.priceMinor === undefined ? (stands?.currency ?? null) : l.currency!,
        };
      }),
    );
  }
}

/** The order's own log says who changed it by which file. */
function logFile(
  db: Db,
  code: string,
  isKnown: boolean,
  lines: readonly OrderRow[],
  before: readonly (StandingLine | undefined)[],
  { by, now, files }: StoreContext,
): void {
  const isDayOnly = lines.every((l, i) => {
    const b = before[i];
    return (
      b !== undefined &&
      b.itemCode === l.itemCode &&
      b.quantityC - b.receivedC === hundredths(l.quantity) &&
      b.dueOn !== l.dueOn
    );
  });
  addLogEntry(db, {
    at: now,
    userName: by,
    action: !isKnown ? "order brought in by a file" : isDayOnly ? "delivery day changed" : "order changed",
    subject: `order ${code}`,
    detail: {
      files,
      lines: lines.map((l, i) => {
        const b = before[i];
        return {
          lineNo: l.lineNo,
          itemCode: l.itemCode,
          quantity: l.quantity,
          dueOn: l.dueOn,
          ...(b && {
            before: { itemCode: b.itemCode, quantity: (b.quantityC - b.receivedC) / 100, dueOn: b.dueOn },
          }),
        };
      }),
    },
  });
}

interface StandingLine {
  quantityC: number;
  itemCode: string;
  dueOn: CalendarDate;
  receivedC: number;
  promisedOn: CalendarDate | null;
  priceMinor: number | null;
  currency: string | null;
}

function orderProblem(
  code: string,
  head: typeof purchaseOrder.$inferSelect | undefined,
  lines: readonly OrderRow[],
): Problem | undefined {
  if (head?.state === "closed") {
    return {
      path: "Orders, Order",
      rule: "order-closed",
      value: code,
      message: `Order ${code} is closed: nothing of it is on its way any more.`,
      remedy: "Leave its rows out, or give the new order a number of its own.",
    };
  }
  // What is brought in is on its way: a file is no way around who may approve what.
  if (head?.state === "approved") {
    return {
      path: "Orders, Order",
      rule: "order-not-sent",
      value: code,
      ...sentences(
        phrase("Order {{code}} is approved here and nobody has marked it sent yet.", { code }),
        phrase("Mark it sent on its page; a file may then say when it comes. Or leave its rows out."),
      ),
    };
  }
  if (head?.state === "proposed") {
    return {
      path: "Orders, Order",
      rule: "order-not-approved",
      value: code,
      message: `Order ${code} is proposed here and nobody has approved it yet.`,
      remedy: "Have it approved and mark it sent on its page, or leave its rows out.",
    };
  }
  const places = new Set(lines.map((l) => l.placeCode));
  if (places.size < 2) return undefined;
  return {
    path: "Orders, Place",
    rule: "order-to-several-places",
    value: [...places].join(", "),
    message: `Order ${code} goes to ${places.size} places; an order goes to one.`,
    remedy: "Give the lines of each place an order number of their own.",
  };
}
