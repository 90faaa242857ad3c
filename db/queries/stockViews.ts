/** What the stock pages show: what runs out, what lies where, what a late delivery would stop, drums and their cuts. */
import { and, eq, gt, sql } from "drizzle-orm";
import { accountOf, type CuttingPlan, type MetreAccount } from "@/lib/drums";
import {
  ALL_WAREHOUSES,
  DEFAULT_ROADS,
  type NettingInput,
  netPlaces,
  type PlacedNeed,
  sparesKept,
  transferRules,
  warehousesOf,
} from "@/lib/programme";
import type { Owner } from "@/lib/site";
import {
  compareLotRules,
  effectOfSlip,
  type LotFigures,
  type LotRuleCost,
  lotFigures,
  type SlipEffect,
} from "@/lib/stock";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import {
  balance,
  drum,
  item,
  job,
  kit,
  kitLine,
  lot,
  type NettingBody,
  type PlaceKind,
  place,
  planVisit,
} from "../schema";
import { loadCatalogue, loadOrdering, type StoredItem } from "./catalogue";
import { loadCutting, loadNetting, nettingDay, type PlanHead } from "./plans";
import { loadSupplies, rulesInForce } from "./programme";
import { installStarts, loadSpareDemand } from "./spares";
import { type CutMade, cutsMade, loadOrdersOnTheWay, loadPlaces, shelfKey } from "./stock";
import { proposedTransfers, type TransferView } from "./transfers";

export interface RunsOutRow {
  itemCode: string;
  /** The warehouse whose shelf runs out; '' = all of them together. */
  placeCode: string;
  name: string;
  unit: string;
  owner: Owner;
  runsOutOn: CalendarDate;
  onHand: number;
  need: number;
  /** First day on which work stops for it, of what no transfer saves if there is any; null when only the safety stock is touched. */
  firstStopOn: CalendarDate | null;
  /** The first visits that stop; the item's page names all. */
  firstStops: { visitId: string; siteCode: string; on: CalendarDate; missing: number }[];
  stopCount: number;
  /** Of the stops those that no proposed transfer saves. */
  stopsLeft: number;
  /** What the other warehouses can send, all proposed transfers together; null when nothing. */
  transfers: { quantity: number; fromPlaces: string[]; sendOn: CalendarDate } | null;
  nextReceipt: { orderCode: string; dueOn: CalendarDate; quantity: number } | null;
}

/** Sites that a row names itself. */
const STOPS_NAMED = 4;

export interface RunsOut {
  /** Those whose first named stop comes first at the head; what transfers save comes last. */
  rows: readonly RunsOutRow[];
  /** Sites where work stops for an item that transfers do not cover. */
  sitesThatStop: number;
}

/** What runs out where without new orders. */
export function loadRunsOut(db: Db, planId: number): RunsOut {
  return remembered(db, `runs out ${planId}`, ["plan", "design", "stock"], () => readRunsOut(db, planId));
}

function readRunsOut(db: Db, planId: number): RunsOut {
  const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
  const due = loadOrdersOnTheWay(db);
  const transfers = new Map<string, TransferView[]>();
  for (const t of proposedTransfers(db, planId)) {
    const shelf = shelfKey(t.itemCode, t.toPlace);
    const known = transfers.get(shelf);
    if (known) known.push(t);
    else transfers.set(shelf, [t]);
  }
  const rows: RunsOutRow[] = [];
  const sites = new Set<string>();
  for (const n of loadNetting(db, planId)) {
    const i = items.get(n.itemCode);
    if (!i || n.runsOutOn === null) continue;
    const { stops, stopsLeft, firstOn } = n.body;
    if (stopsLeft.length > 0) for (const s of stops) sites.add(s.siteCode);
    const next = due.find(
      (o) => o.itemCode === n.itemCode && (n.placeCode === ALL_WAREHOUSES || o.placeCode === n.placeCode),
    );
    rows.push({
      itemCode: n.itemCode,
      placeCode: n.placeCode,
      name: i.name,
      unit: i.unit,
      owner: i.owner,
      runsOutOn: n.runsOutOn,
      onHand: n.onHandC / 100,
      need: n.totalNeedC / 100,
      firstStopOn: firstStop(n.body),
      firstStops: stops.slice(0, STOPS_NAMED).map((s) => ({
        visitId: s.visitId,
        siteCode: s.siteCode,
        on: addDays(firstOn, s.day),
        missing: s.missing,
      })),
      stopCount: stops.length,
      stopsLeft: stopsLeft.length,
      transfers: summedTransfers(transfers.get(shelfKey(n.itemCode, n.placeCode)) ?? []),
      nextReceipt: next
        ? { orderCode: next.orderCode, dueOn: next.dueOn, quantity: (next.quantityC - next.receivedC) / 100 }
        : null,
    });
  }
  rows.sort(
    (a, b) =>
      Number(isSaved(a)) - Number(isSaved(b)) ||
      shownStop(a).localeCompare(shownStop(b)) ||
      (a.itemCode < b.itemCode ? -1 : a.itemCode > b.itemCode ? 1 : a.placeCode < b.placeCode ? -1 : 1),
  );
  return { rows, sitesThatStop: sites.size };
}

/** The first day on which work stops as the row names it, before transfers; what stops nothing comes after all days. */
const shownStop = (row: Pick<RunsOutRow, "firstStops">): string => row.firstStops[0]?.on ?? "9";

/** @param list first to leave first */
function summedTransfers(list: readonly TransferView[]): RunsOutRow["transfers"] {
  return list.length === 0
    ? null
    : {
        quantity: list.reduce((sum, t) => sum + t.quantity, 0),
        fromPlaces: [...new Set(list.map((t) => t.fromPlace))],
        sendOn: list[0]!.sendOn,
      };
}

/** The first day on which work stops for good; where transfers save all of it, the first that they save. */
function firstStop({ firstOn, stops, stopsLeft }: NettingBody): CalendarDate | null {
  const first = stopsLeft[0] ?? stops[0];
  return first ? addDays(firstOn, first.day) : null;
}

/** Whether the proposed transfers save every visit that would stop. */
export const isSaved = (row: Pick<RunsOutRow, "stopCount" | "stopsLeft">): boolean =>
  row.stopCount > 0 && row.stopsLeft === 0;

export interface ItemThatStops {
  itemCode: string;
  runsOutOn: CalendarDate;
  stops: NettingBody["stops"];
}

/** Items of a plan that stop a visit which no transfer saves, the first to run out first. */
export function itemsThatStop(db: Db, planId: number): readonly ItemThatStops[] {
  return remembered(db, `stops ${planId}`, ["plan"], () => {
    const items = new Map<string, ItemThatStops>();
    for (const { itemCode, runsOutOn, body } of loadNetting(db, planId)) {
      if (runsOutOn === null || body.stopsLeft.length === 0) continue;
      const known = items.get(itemCode);
      items.set(itemCode, {
        itemCode,
        runsOutOn: known && known.runsOutOn < runsOutOn ? known.runsOutOn : runsOutOn,
        stops: [...(known?.stops ?? []), ...body.stopsLeft].sort((a, b) => a.day - b.day),
      });
    }
    return [...items.values()].sort((a, b) => (a.runsOutOn < b.runsOutOn ? -1 : 1));
  });
}

export interface NettingStamp {
  /** The programme's day for which the stored netting was made. */
  firstOn: CalendarDate | null;
  /** When the last netting of its own ended, by the machine's clock; null = it came with the plan. */
  endedAt: number | null;
  /** A netting that is waiting or running. */
  activeJobId: string | null;
}

export function nettingStamp(db: Db, planId: number): NettingStamp {
  const ended = db
    .select({ at: sql<number | null>`MAX(${job.endedAt})` })
    .from(job)
    .where(and(eq(job.kind, "net"), eq(job.state, "done")))
    .get();
  const active = db
    .select({ id: job.id })
    .from(job)
    .where(and(eq(job.kind, "net"), sql`${job.state} IN ('queued','running')`))
    .orderBy(sql`${job.createdAt} DESC`)
    .get();
  return {
    firstOn: nettingDay(db, planId),
    endedAt: ended?.at ?? null,
    activeJobId: active?.id ?? null,
  };
}

export interface OnHandRow {
  itemCode: string;
  name: string;
  category: string;
  unit: string;
  placeCode: string;
  placeName: string;
  placeKind: PlaceKind;
  lotCode: string;
  drumSerial: string;
  owner: Owner;
  quantity: number;
  expiresOn: CalendarDate | null;
  isExpired: boolean;
  /** What may be taken: nothing of a lot that has expired, on hold or in repair. */
  available: number;
  valueMinor: number;
  currency: string;
}

const ON_HAND = {
  itemCode: balance.itemCode,
  name: item.name,
  category: item.category,
  unit: item.unit,
  placeCode: balance.placeCode,
  placeName: place.name,
  placeKind: place.kind,
  lotCode: balance.lotCode,
  drumSerial: balance.drumSerial,
  owner: balance.owner,
  quantityC: balance.quantityC,
  expiresOn: lot.expiresOn,
  priceMinor: item.priceMinor,
  currency: item.currency,
};

type OnHandStored = Omit<OnHandRow, "quantity" | "isExpired" | "available" | "valueMinor"> & {
  quantityC: number;
  priceMinor: number;
};

/** Every balance above nought, or those of one item or place, by item, place, lot and drum. */
export function loadOnHandRows(
  db: Db,
  today: CalendarDate,
  { itemCode, placeCode }: { itemCode?: string; placeCode?: string } = {},
): OnHandRow[] {
  return db
    .select(ON_HAND)
    .from(balance)
    .innerJoin(item, eq(item.code, balance.itemCode))
    .innerJoin(place, eq(place.code, balance.placeCode))
    .leftJoin(lot, eq(lot.code, balance.lotCode))
    .where(
      and(
        gt(balance.quantityC, 0),
        itemCode ? eq(balance.itemCode, itemCode) : undefined,
        placeCode ? eq(balance.placeCode, placeCode) : undefined,
      ),
    )
    .orderBy(balance.itemCode, balance.placeCode, lot.expiresOn, balance.lotCode, balance.drumSerial)
    .all()
    .map((r) => onHandRow(r, today));
}

function onHandRow({ quantityC, priceMinor, ...r }: OnHandStored, today: CalendarDate): OnHandRow {
  const isExpired = r.expiresOn !== null && r.expiresOn < today;
  return {
    ...r,
    quantity: quantityC / 100,
    isExpired,
    available: isExpired || r.placeKind === "hold" || r.placeKind === "repair" ? 0 : quantityC / 100,
    valueMinor: Math.round((priceMinor * quantityC) / 100),
  };
}

export interface OnHandFilter {
  /** Part of the item's code or name, in any case. */
  text?: string;
  placeCode?: string;
  onlyExpired?: boolean;
}

export interface OnHandPage {
  rows: OnHandRow[];
  /** Where the next page begins; null = nothing follows. */
  next: string | null;
}

/** What tells balances apart, in their order. */
type BalanceKey = [itemCode: string, placeCode: string, lotCode: string, drumSerial: string, owner: string];

/**
 * A part of what lies where, for a store that is too large for one table. Pages go by the key of the last row, so the
 * thousandth takes no longer than the first, and a row that moves meanwhile shifts nothing.
 * @param after `next` of the page before; what cannot be read is the beginning
 */
export function loadOnHandPage(
  db: Db,
  today: CalendarDate,
  { text = "", placeCode = "", onlyExpired = false }: OnHandFilter,
  limit: number,
  after?: string,
): OnHandPage {
  const last = balanceKey(after);
  const like = `%${text.replaceAll(/[\\%_]/g, "\\$&")}%`;
  const found = db.$client
    .prepare(
      // Item by item in the order of their codes: the balances of each stand together, and nothing has to be sorted.
      `SELECT b.item_code AS itemCode, i.name, i.category, i.unit, b.place_code AS placeCode, p.name AS placeName,
              p.kind AS placeKind, b.lot_code AS lotCode, b.drum_serial AS drumSerial, b.owner,
              b.quantity_c AS quantityC, l.expires_on AS expiresOn, i.price_minor AS priceMinor, i.currency
       FROM item i CROSS JOIN balance b ON b.item_code = i.code
       JOIN place p ON p.code = b.place_code LEFT JOIN lot l ON l.code = b.lot_code
       WHERE b.quantity_c > 0 AND i.code >= :item
         AND (b.item_code, b.place_code, b.lot_code, b.drum_serial, b.owner) > (:item, :place, :lot, :drum, :owner)
         AND (:text = '' OR i.code LIKE :like ESCAPE '\\' OR i.name LIKE :like ESCAPE '\\')
         AND (:at = '' OR b.place_code = :at)
         AND (:onlyExpired = 0 OR l.expires_on < :today)
       ORDER BY i.code, b.place_code, b.lot_code, b.drum_serial, b.owner LIMIT :limit`,
    )
    .all({
      item: last[0],
      place: last[1],
      lot: last[2],
      drum: last[3],
      owner: last[4],
      text,
      like,
      at: placeCode,
      onlyExpired: Number(onlyExpired),
      today,
      limit: limit + 1,
    }) as OnHandStored[];
  const rows = found.slice(0, limit).map((r) => onHandRow(r, today));
  const end = rows.at(-1);
  const key: BalanceKey | undefined = end && [
    end.itemCode,
    end.placeCode,
    end.lotCode,
    end.drumSerial,
    end.owner,
  ];
  return { rows, next: found.length > limit ? JSON.stringify(key) : null };
}

function balanceKey(after: string | undefined): BalanceKey {
  try {
    const parts: unknown = JSON.parse(after ?? "");
    if (Array.isArray(parts) && parts.length === 5 && parts.every((p) => typeof p === "string"))
      return parts as BalanceKey;
  } catch {
    // An address that somebody wrote by hand: from the beginning.
  }
  return ["", "", "", "", ""];
}

/** More rows of stock than this are not counted. */
export const ROWS_COUNTED = 5_000;

export interface OnHandCounts {
  /** Balances above nought; one more than `ROWS_COUNTED` stands for any number above it. */
  rows: number;
  /** Of lots that have expired. */
  expired: number;
}

export function countOnHand(db: Db, today: CalendarDate): OnHandCounts {
  return remembered(db, `on hand counted ${today}`, ["stock"], () => ({
    rows: db.$client
      .prepare("SELECT COUNT(*) FROM (SELECT 1 FROM balance WHERE quantity_c > 0 LIMIT ?)")
      .pluck()
      .get(ROWS_COUNTED + 1) as number,
    expired: db.$client
      .prepare(
        `SELECT COUNT(*) FROM balance b JOIN lot l ON l.code = b.lot_code
         WHERE b.lot_code <> '' AND b.quantity_c > 0 AND l.expires_on < ?`,
      )
      .pluck()
      .get(today) as number,
  }));
}

export interface ItemNeed {
  itemCode: string;
  visitId: string;
  siteCode: string;
  hopCode: string;
  crewCode: string | null;
  pickOn: CalendarDate;
  /** The warehouse it is picked from. */
  placeCode: string;
  quantity: number;
  shortC: number;
}

/** What the kits of a plan still want, run by run and line by line, in order of the pick day. */
export function loadNeeds(db: Db, planId: number, itemCode?: string): ItemNeed[] {
  const cuts = cutsMade(db);
  return db
    .select({
      itemCode: kitLine.itemCode,
      visitId: kitLine.visitId,
      siteCode: planVisit.siteCode,
      hopCode: planVisit.hopCode,
      crewCode: planVisit.crewCode,
      pickOn: kit.pickOn,
      placeCode: kit.placeCode,
      neededC: kitLine.neededC,
      shortC: kitLine.shortC,
      runId: kitLine.runId,
    })
    .from(kitLine)
    .innerJoin(kit, and(eq(kit.planId, kitLine.planId), eq(kit.visitId, kitLine.visitId)))
    .innerJoin(planVisit, and(eq(planVisit.planId, kit.planId), eq(planVisit.visitId, kit.visitId)))
    .where(
      and(
        eq(kitLine.planId, planId),
        sql`${kit.state} <> 'issued'`,
        itemCode ? eq(kitLine.itemCode, itemCode) : undefined,
      ),
    )
    .orderBy(kit.pickOn, kitLine.visitId, kitLine.lineNo)
    .all()
    .filter((r) => r.runId === null || !cuts.has(r.runId))
    .map(({ neededC, runId: _, ...r }) => ({ ...r, quantity: neededC / 100 }));
}

export interface OrderLineDue {
  /** `order/line`: what a slip moves. */
  key: string;
  orderCode: string;
  lineNo: number;
  itemCode: string;
  name: string;
  unit: string;
  quantity: number;
  dueOn: CalendarDate;
}

/** Lines on the way, for the question what happens if one comes later. */
export function loadLinesDue(db: Db): OrderLineDue[] {
  const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
  return loadOrdersOnTheWay(db).map((o) => ({
    key: `${o.orderCode}/${o.lineNo}`,
    orderCode: o.orderCode,
    lineNo: o.lineNo,
    itemCode: o.itemCode,
    name: items.get(o.itemCode)?.name ?? o.itemCode,
    unit: items.get(o.itemCode)?.unit ?? "",
    quantity: (o.quantityC - o.receivedC) / 100,
    dueOn: o.dueOn,
  }));
}

/** What stops when one line comes `days` later (negative: earlier), against the plan in force as it stands. */
export function slipOfLine(
  db: Db,
  plan: PlanHead,
  today: CalendarDate,
  key: string,
  days: number,
): SlipEffect | undefined {
  const line = loadLinesDue(db).find((l) => l.key === key);
  const catalogue = loadCatalogue(db).filter((c) => c.code === line?.itemCode);
  if (!line || catalogue.length === 0) return undefined;
  const { needs, input } = itemOfPlan(db, plan, today, catalogue);
  // A slip moves one line, not all lines of its order.
  const byLine = input.orders.map((o) => ({ ...o, orderCode: `${o.orderCode}/${o.lineNo}` }));
  const { pooled, warehouses } = warehousesOf(needs, { ...input, orders: byLine });
  return effectOfSlip([pooled, ...warehouses], transferRules(input), input.dayCount, key, days);
}

/** What the kits of a plan want of some items, and all that can cover it, as the data stand. */
function itemOfPlan(
  db: Db,
  plan: PlanHead,
  today: CalendarDate,
  catalogue: readonly StoredItem[],
): { needs: PlacedNeed[]; input: NettingInput } {
  const codes = new Set(catalogue.map((i) => i.code));
  const { stockPolicy } = rulesInForce(db);
  const { orders, transfers, stock } = loadSupplies(db, today, catalogue, stockPolicy);
  // Spares are kept of radios only; which item a radio is, and how often radios die, the whole catalogue says.
  const spareDemand = catalogue.some((i) => i.category === "ODU")
    ? loadSpareDemand(db, today, loadCatalogue(db), stockPolicy)
    : undefined;
  const spares = sparesKept({ today, spareDemand }, installStarts(db, plan.id));
  return {
    needs: catalogue.flatMap((i) =>
      loadNeeds(db, plan.id, i.code).map((n) => ({
        itemCode: n.itemCode,
        placeCode: n.placeCode,
        day: Math.max(0, daysBetween(today, n.pickOn)),
        quantity: n.quantity,
        visitId: n.visitId,
        siteCode: n.siteCode,
      })),
    ),
    input: {
      today,
      dayCount: Math.max(1, plan.dayCount - daysBetween(plan.firstDay, today)),
      catalogue,
      stock,
      orders: orders.filter((o) => codes.has(o.itemCode)),
      transfers: transfers.filter((t) => codes.has(t.itemCode)),
      spares: spares.filter((s) => codes.has(s.itemCode)),
      depots: loadPlaces(db).filter((p) => p.kind === "warehouse"),
      stockPolicy,
      roads: DEFAULT_ROADS,
    },
  };
}

export interface LotComparison {
  /** What is short per day on each shelf after stock, receipts and transfers, summed over the shelves. */
  need: number;
  /** Every rule over all shelves, each of which orders for itself. */
  rules: LotRuleCost[];
  figures: LotFigures;
}

/** What each lot rule would cost for an item's real needs in the plan; undefined when nothing has to be bought. */
export function compareLots(
  db: Db,
  plan: PlanHead,
  today: CalendarDate,
  itemCode: string,
): LotComparison | undefined {
  const catalogue = loadCatalogue(db).filter((c) => c.code === itemCode);
  const ordering = loadOrdering(db).get(itemCode);
  if (!ordering) return undefined;
  const { needs, input } = itemOfPlan(db, plan, today, catalogue);
  // Lot for lot: what is bought is what is short, day by day.
  const stock = input.stock.map((s) => ({ ...s, lotRule: { kind: "lot for lot" } as const }));
  const shelves = netPlaces(needs, { ...input, stock }).rows.map((r) => [...r.withTransfers.net]);
  const wanted = shelves.filter((net) => net.some((quantity) => quantity > 0));
  if (wanted.length === 0) return undefined;
  const figures = lotFigures(ordering, input.stockPolicy);
  const byShelf = wanted.map((net) => compareLotRules(net, figures));
  const rules = byShelf.reduce((all, one) =>
    all.map((a, i) => {
      const b = one[i]!;
      return {
        kind: a.kind,
        orders: a.orders + b.orders,
        largest: Math.max(a.largest, b.largest),
        bought: a.bought + b.bought,
        left: a.left + b.left,
        orderCost: a.orderCost + b.orderCost,
        holdingCost: a.holdingCost + b.holdingCost,
        purchaseCost: a.purchaseCost + b.purchaseCost,
        total: a.total + b.total,
      };
    }),
  );
  return { need: wanted.flat().reduce((sum, q) => sum + q, 0), rules, figures };
}

export interface CableView {
  plan: CuttingPlan;
  account: MetreAccount;
}

/** Cutting lists of a plan, cable by cable, each held to its metre account before it is shown. */
export function loadCables(db: Db, planId: number): CableView[] {
  return loadCutting(db, planId).map((plan) => ({ plan, account: accountOf(plan) }));
}

export interface DrumRow {
  serial: string;
  itemCode: string;
  placeCode: string | null;
  receivedC: number;
  remainingC: number;
  cutC: number;
  allowanceC: number;
  /** Everything else that left it: scrap, adjustments, issues. */
  otherC: number;
}

/** Every drum ever received with what the ledger says became of its metres. */
export function loadDrumAccounts(db: Db): DrumRow[] {
  const rows = db.$client
    .prepare(
      `SELECT d.serial, d.item_code AS itemCode, d.received_c AS receivedC,
        (SELECT place_code FROM balance b WHERE b.drum_serial = d.serial AND b.quantity_c > 0) AS placeCode,
        (SELECT COALESCE(SUM(quantity_c), 0) FROM balance b WHERE b.drum_serial = d.serial) AS remainingC,
        (SELECT COALESCE(SUM(m.quantity_c), 0) FROM movement m WHERE m.drum_serial = d.serial AND m.kind = 'cut'
           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)) AS cutC,
        (SELECT COALESCE(SUM(m.quantity_c), 0) FROM movement m WHERE m.drum_serial = d.serial AND m.kind = 'scrap'
           AND m.run_id IS NOT NULL
           AND NOT EXISTS (SELECT 1 FROM movement r WHERE r.corrects_id = m.id)) AS allowanceC
       FROM drum d ORDER BY d.item_code, d.serial`,
    )
    .all() as Omit<DrumRow, "otherC">[];
  return rows.map((r) => ({ ...r, otherC: r.receivedC - r.remainingC - r.cutC - r.allowanceC }));
}

export type { CutMade };

/** Where a drum stands and whose it is; undefined when nothing is left on it. */
export function standingDrum(
  db: Db,
  serial: string,
): { itemCode: string; placeCode: string; owner: Owner; remainingC: number; receivedC: number } | undefined {
  return db
    .select({
      itemCode: drum.itemCode,
      placeCode: balance.placeCode,
      owner: balance.owner,
      remainingC: balance.quantityC,
      receivedC: drum.receivedC,
    })
    .from(drum)
    .innerJoin(balance, eq(balance.drumSerial, drum.serial))
    .where(and(eq(drum.serial, serial), gt(balance.quantityC, 0)))
    .get();
}

/** The visit whose kit holds a run; undefined when no kit of the plan does. */
export function visitOfRun(db: Db, planId: number, runId: string): string | undefined {
  return db
    .select({ visitId: kitLine.visitId })
    .from(kitLine)
    .where(and(eq(kitLine.planId, planId), eq(kitLine.runId, runId)))
    .get()?.visitId;
}
