/** Needs of a plan's kits against stock and orders on the way, warehouse by warehouse, transfers before purchases. */
import type { PlacedVisit, Plan } from "@/lib/schedule";
import type { ItemCategory } from "@/lib/site";
import {
  type ItemPosition,
  type NeedLine,
  netByDate,
  netWarehouses,
  type ReceiptDue,
  shareSafetyStock,
  spareNumbers,
  type TransferProposal,
  type TransferRules,
  type Warehouse,
  type WarehouseItem,
} from "@/lib/stock";
import { addDays, type CalendarDate, daysBetween, FIVE_DAYS, weekdayOf } from "@/lib/time";
import { boxesOfPlan, type PlannedKit, transferDaysOf } from "./kits";
import type { KitNeedLine, ProgrammeInput, ProgrammeVisit } from "./types";

/**
 * The place of what is netted for all warehouses together: cable. A drum moves whole and a run is cut where its drum
 * stands, so the cutting list, which knows every drum, says where each run comes from.
 */
export const ALL_WAREHOUSES = "";

/** Where an item is netted that lies, or is wanted, at a place. */
export const nettedAt = (category: ItemCategory, placeCode: string): string =>
  category === "IF cable" ? ALL_WAREHOUSES : placeCode;

/** One item at one warehouse, or at all of them. */
export interface PlaceNetting extends WarehouseItem {
  itemCode: string;
  placeCode: string;
  onHand: number;
  /** Spares that the place keeps back; no visit stops for them. */
  spares: number;
}

export interface ProgrammeNetting {
  /** By item, then place. */
  rows: PlaceNetting[];
  transfers: TransferProposal[];
}

export type NettingInput = Pick<
  ProgrammeInput,
  "today" | "dayCount" | "catalogue" | "stock" | "orders" | "transfers" | "depots" | "stockPolicy" | "roads"
> & {
  /** Spares that places keep back; absent = none. */
  spares?: readonly SparesKept[];
};

export interface SparesKept {
  itemCode: string;
  placeCode: string;
  quantity: number;
}

/** What the shelves keep back when visits begin on the days of `starts`; a shelf that keeps none is left out. */
export function sparesKept(
  { today, spareDemand }: Pick<ProgrammeInput, "today" | "spareDemand">,
  starts: ReadonlyMap<string, CalendarDate>,
): SparesKept[] {
  if (!spareDemand) return [];
  return spareNumbers(spareDemand, today, starts)
    .filter((s) => s.wanted > 0)
    .map(({ itemCode, placeCode, wanted }) => ({ itemCode, placeCode, quantity: wanted }));
}

/** A need with the warehouse whose shelf it is picked from. */
export type PlacedNeed = NeedLine & { placeCode: string };

/** Needs by pick date against stock and orders on the way, for every item that anything needs or orders. */
export function netProgramme(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  plan: Pick<Plan, "placed">,
): ProgrammeNetting {
  const starts = new Map(plan.placed.map((p) => [visits[p.visit]!.id, addDays(input.today, p.startDay)]));
  const needs = placedNeeds(input, visits, plan.placed, boxesOfPlan(input, visits, plan.placed, []));
  return netPlaces(needs, { ...input, spares: sparesKept(input, starts) });
}

/** What a plan's kits take from the shelves of their warehouses, on the days on which they are picked. */
export function placedNeeds(
  input: ProgrammeInput,
  visits: readonly ProgrammeVisit[],
  placed: readonly Pick<PlacedVisit, "visit" | "startDay" | "startMin">[],
  kits: readonly PlannedKit[],
): PlacedNeed[] {
  const startsAtMin = new Map(placed.map((p) => [visits[p.visit]!.id, p.startDay * 1440 + p.startMin]));
  const siteOf = new Map(visits.map((v) => [v.id, v.siteCode]));
  return kits.flatMap((k) =>
    k.lines
      .filter((l) => l.box > 0 && !isCut(input, l))
      .map(
        (l): PlacedNeed => ({
          itemCode: l.itemCode,
          placeCode: k.placeCode,
          day: daysBetween(input.today, k.pickOn),
          quantity: l.box,
          visitId: k.visitId,
          startsAtMin: startsAtMin.get(k.visitId),
          siteCode: siteOf.get(k.visitId)!,
        }),
      ),
  );
}

/** Nets placed needs; an item that the catalogue lacks is a failed check of the design already. */
export function netPlaces(needs: readonly PlacedNeed[], input: NettingInput): ProgrammeNetting {
  const { pooled, warehouses } = warehousesOf(needs, input);
  const { transfers, nettings } = netWarehouses(warehouses, transferRules(input), input.dayCount);
  const onHand = new Map(
    [pooled, ...warehouses].map((w) => [w.placeId, new Map(w.positions.map((p) => [p.itemCode, p.onHand]))]),
  );
  const spareAt = sparesByPlace(input);
  const row = (placeCode: string, { alone, withTransfers }: WarehouseItem): PlaceNetting => {
    const { itemCode } = alone;
    const spares = spareAt.get(spareKey(itemCode, placeCode)) ?? 0;
    return {
      itemCode,
      placeCode,
      onHand: onHand.get(placeCode)!.get(itemCode)!,
      spares,
      alone,
      withTransfers,
    };
  };
  const rows = [
    ...netByDate(pooled.needs, pooled.receipts, pooled.positions, input.dayCount).map((item) =>
      row(ALL_WAREHOUSES, { alone: item, withTransfers: item }),
    ),
    ...[...nettings].flatMap(([placeCode, items]) => items.map((item) => row(placeCode, item))),
  ];
  rows.sort((a, b) => order(a.itemCode, b.itemCode) || order(a.placeCode, b.placeCode));
  return { rows, transfers };
}

const spareKey = (itemCode: string, placeCode: string) => JSON.stringify([itemCode, placeCode]);

const sparesByPlace = ({ spares = [] }: Pick<NettingInput, "spares">): Map<string, number> =>
  new Map(spares.map((s) => [spareKey(s.itemCode, s.placeCode), s.quantity]));

const order = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

export function transferRules(
  input: Pick<ProgrammeInput, "today" | "depots" | "stockPolicy" | "roads">,
): TransferRules {
  return {
    transferDays: transferDaysOf(input),
    coverDays: input.stockPolicy.transferCoverDays,
    week: { firstWeekday: weekdayOf(input.today), workdays: FIVE_DAYS },
  };
}

/** What is netted: cable for all warehouses together, everything else by warehouse. */
export function warehousesOf(
  needs: readonly PlacedNeed[],
  input: NettingInput,
): { pooled: Warehouse; warehouses: Warehouse[] } {
  const catalogue = new Map(input.catalogue.map((i) => [i.code, i]));
  const placeOf = (itemCode: string, placeCode: string) =>
    nettedAt(catalogue.get(itemCode)!.category, placeCode);
  const own = new Map<string, { needs: NeedLine[]; receipts: ReceiptDue[]; positions: ItemPosition[] }>();
  const at = (placeCode: string) => {
    const known = own.get(placeCode) ?? { needs: [], receipts: [], positions: [] };
    own.set(placeCode, known);
    return known;
  };
  const demand = new Map<string, Map<string, number>>();
  const ask = (itemCode: string, placeCode: string, quantity: number) => {
    const places = demand.get(itemCode) ?? new Map<string, number>();
    places.set(placeCode, (places.get(placeCode) ?? 0) + quantity);
    demand.set(itemCode, places);
  };
  at(ALL_WAREHOUSES);
  for (const need of needs) {
    if (!catalogue.has(need.itemCode)) continue;
    const place = placeOf(need.itemCode, need.placeCode);
    at(place).needs.push(need);
    ask(need.itemCode, place, need.quantity);
  }
  for (const o of input.orders) {
    if (!catalogue.has(o.itemCode)) continue;
    const place = placeOf(o.itemCode, o.placeCode);
    at(place).receipts.push(receiptOf(input.today, o));
    ask(o.itemCode, place, 0);
  }
  for (const t of input.transfers) {
    if (!catalogue.has(t.itemCode) || placeOf(t.itemCode, t.fromPlace) === ALL_WAREHOUSES) continue;
    const { itemCode, quantity } = t;
    const day = (on: CalendarDate) => daysBetween(input.today, on);
    at(t.fromPlace).needs.push({
      itemCode,
      quantity,
      day: day(t.sendOn),
      visitId: t.code,
      siteCode: t.toPlace,
      isTransfer: true,
    });
    // What should have come and has not is believed for tomorrow at the earliest, as an order is.
    at(t.toPlace).receipts.push({
      itemCode,
      quantity,
      day: day(t.arriveOn) < 0 ? 1 : day(t.arriveOn),
      orderCode: t.code,
    });
    ask(itemCode, t.fromPlace, 0);
    ask(itemCode, t.toPlace, 0);
  }
  // Spares are a need of the place that no visit has: kept back like a safety stock, on top of it and not shared out.
  for (const s of input.spares ?? [])
    if (s.quantity > 0 && catalogue.has(s.itemCode)) ask(s.itemCode, placeOf(s.itemCode, s.placeCode), 0);
  const spareAt = sparesByPlace(input);
  const stock = new Map(input.stock.map((s) => [s.itemCode, s]));
  for (const position of positionsOf(input, new Set(demand.keys()))) {
    const needed = demand.get(position.itemCode)!;
    if (needed.has(ALL_WAREHOUSES)) {
      at(ALL_WAREHOUSES).positions.push(position);
      continue;
    }
    const shelves = stock.get(position.itemCode)?.shelves ?? [];
    const places = [...new Set([...needed.keys(), ...shelves.map((s) => s.placeCode)])].sort(order);
    const transferStep = catalogue.get(position.itemCode)!.unit === "m" ? undefined : 1;
    const lying = places.map((placeCode) => ({
      placeCode,
      need: needed.get(placeCode) ?? 0,
      onHand: shelves.find((s) => s.placeCode === placeCode)?.onHand ?? 0,
      lots: shelves.find((s) => s.placeCode === placeCode)?.lots,
    }));
    const safety = shareSafetyStock(position.safetyStock, lying, transferStep);
    lying.forEach(({ placeCode, onHand, lots }, i) => {
      const safetyStock = safety[i]! + (spareAt.get(spareKey(position.itemCode, placeCode)) ?? 0);
      at(placeCode).positions.push({ ...position, onHand, lots, safetyStock, transferStep });
    });
  }
  const all = [...own].map(([placeId, w]) => ({ placeId, ...w }));
  return {
    pooled: all.find((w) => w.placeId === ALL_WAREHOUSES)!,
    warehouses: all.filter((w) => w.placeId !== ALL_WAREHOUSES),
  };
}

export function isCut(input: Pick<ProgrammeInput, "cutRuns">, line: KitNeedLine): boolean {
  return line.runId !== undefined && (input.cutRuns?.has(line.runId) ?? false);
}

/** Each item with what all warehouses hold of it. */
export function positionsOf(
  input: Pick<ProgrammeInput, "catalogue" | "stock">,
  codes: ReadonlySet<string>,
): ItemPosition[] {
  const stock = new Map(input.stock.map((s) => [s.itemCode, s]));
  return input.catalogue
    .filter((i) => codes.has(i.code))
    .map((i) => {
      const shelves = stock.get(i.code)?.shelves ?? [];
      return {
        itemCode: i.code,
        onHand: shelves.reduce((sum, s) => sum + s.onHand, 0),
        safetyStock: i.safetyStock,
        leadTimeDays: i.leadTimeDays,
        lotRule: stock.get(i.code)?.lotRule ?? { kind: "lot for lot" },
        lots: shelves.flatMap((s) => s.lots ?? []),
        shelfLifeDays: i.shelfLifeDays,
      };
    });
}

const receiptOf = (today: CalendarDate, o: ProgrammeInput["orders"][number]): ReceiptDue => ({
  itemCode: o.itemCode,
  day: daysBetween(today, o.dueOn),
  quantity: o.quantity,
  orderCode: o.orderCode,
});

export function receiptsOf(input: Pick<ProgrammeInput, "today" | "orders">): ReceiptDue[] {
  return input.orders.map((o) => receiptOf(input.today, o));
}
