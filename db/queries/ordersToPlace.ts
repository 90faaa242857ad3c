/** What has to be ordered by a plan's netting: line by line, and put together per item. */
import { eq, inArray } from "drizzle-orm";
import type { CuttingPlan } from "@/lib/drums";
import { ALL_WAREHOUSES, nettedAt } from "@/lib/programme";
import type { Owner } from "@/lib/site";
import { lotFigures, priceOf } from "@/lib/stock";
import { addDays, type CalendarDate, daysBetween } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { item, kit, type NettingBody, orderLine, place, purchaseOrder } from "../schema";
import { loadCatalogue, loadOrdering } from "./catalogue";
import { loadCutting, loadNetting, type PlanHead } from "./plans";
import { rulesInForce } from "./programme";
import { shelfKey } from "./shelves";

export interface OrderToPlace {
  itemCode: string;
  name: string;
  unit: string;
  owner: Owner;
  /** purchase = our own money; call-off = the customer's material. */
  kind: "purchase" | "call-off";
  quantity: number;
  releaseOn: CalendarDate;
  /** Day from which the shelf lacks it: below what it keeps back, which no visit need feel. */
  neededOn: CalendarDate;
  /** Day on which the first kit that waits for it is picked; undefined = only the shelf waits. */
  firstKitOn: CalendarDate | undefined;
  /** Day on which it is there when sent on the release day, or today if that has passed. */
  arrivesOn: CalendarDate;
  /** Days by which the first kit that waits gets it too late, if it is sent today; 0 = in time, or none waits. */
  pastDueDays: number;
  isDue: boolean;
  costMinor: number;
  currency: string;
  supplier: string;
  placeCode: string;
  /** Spares that the place keeps back: part of what is ordered. */
  spares: number;
  /** On orders for the same shelf that nobody has sent yet: this comes on top. */
  unsent: number;
}

/** Written on an order when nobody has ordered the item before. */
export const SUPPLIER_OPEN = "Supplier to be chosen";

/**
 * What the netting of the plan wants ordered, earliest release first, without what stands on orders that are
 * proposed or approved already. `isDue`: its release day is today or has passed.
 */
export function ordersToPlace(db: Db, plan: PlanHead, today: CalendarDate): readonly OrderToPlace[] {
  return remembered(
    db,
    `orders to place ${plan.id} ${today}`,
    ["design", "plan", "kits", "stock", "crews", "rules"],
    () => readOrdersToPlace(db, plan, today),
  );
}

function readOrdersToPlace(db: Db, plan: PlanHead, today: CalendarDate): OrderToPlace[] {
  const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
  const ordering = loadOrdering(db);
  const { stockPolicy } = rulesInForce(db);
  const unsentRows = unsentLines(db);
  const unsent = unsentQuantities(unsentRows);
  const supplierOf = lastSuppliers(db);
  const kitPlaces = new Map(
    db
      .select({ visitId: kit.visitId, placeCode: kit.placeCode })
      .from(kit)
      .where(eq(kit.planId, plan.id))
      .all()
      .map((k) => [k.visitId, k.placeCode]),
  );
  const fallback = db.select().from(place).where(eq(place.kind, "warehouse")).orderBy(place.code).get()?.code;
  const rows: OrderToPlace[] = [];
  for (const shelfOrder of shelfOrders(db, plan.id)) {
    const { itemCode, placeCode, spares, pooledStops, drums } = shelfOrder;
    const i = items.get(itemCode);
    if (!i) continue;
    const shelf = shelfKey(itemCode, placeCode);
    const ofItem = drums.length > 0 ? unsentRows.filter((l) => l.itemCode === itemCode) : [];
    for (const o of [...drumsLeft(drums, ofItem), ...metresLeft(shelfOrder, unsent.get(shelf) ?? 0)]) {
      const { quantity, releaseOn, neededOn, firstKitOn } = o;
      const sentOn = releaseOn < today ? today : releaseOn;
      const arrivesOn = addDays(sentOn, i.leadTimeDays);
      rows.push({
        itemCode,
        name: i.name,
        unit: i.unit,
        owner: i.owner,
        kind: i.owner === "customer" ? "call-off" : "purchase",
        quantity,
        releaseOn,
        neededOn,
        firstKitOn,
        arrivesOn,
        pastDueDays: firstKitOn === undefined ? 0 : Math.max(0, daysBetween(firstKitOn, arrivesOn)),
        isDue: releaseOn <= today,
        costMinor: Math.round(quantity * priceOf(quantity, lotFigures(ordering.get(itemCode)!, stockPolicy))),
        currency: i.currency,
        supplier: supplierOf.get(itemCode) ?? SUPPLIER_OPEN,
        placeCode:
          placeCode === ALL_WAREHOUSES
            ? (o.placeCode ?? drums[0]?.placeCode ?? busiestPlace(pooledStops, kitPlaces) ?? fallback ?? "")
            : placeCode,
        spares,
        unsent: unsent.get(shelf) ?? 0,
      });
    }
  }
  return rows.sort(
    (a, b) =>
      (a.releaseOn < b.releaseOn ? -1 : a.releaseOn > b.releaseOn ? 1 : 0) ||
      b.pastDueDays - a.pastDueDays ||
      (a.itemCode < b.itemCode ? -1 : 1),
  );
}

/** A visit that stops: on which day its kit is picked, and how much is missing of it and of all before it. */
interface Waiting {
  day: number;
  missing: number;
}

interface ShelfOrders {
  itemCode: string;
  placeCode: string;
  firstOn: CalendarDate;
  /** First to be sent first. */
  orders: NettingBody["orders"];
  spares: number;
  /** Visits that stop unless it is ordered. */
  waiting: readonly Waiting[];
  /** Visits that stop, of what is netted for all warehouses together: they say where it is wanted most. */
  pooledStops: NettingBody["stops"];
  /** Of cable: the drums that the cutting list buys, the first to be sent first. They say better than metres what to order. */
  drums: readonly WantedOrder[];
}

/** What is wanted, before what is on orders that nobody has sent is taken off. */
interface WantedOrder extends Pick<OrderToPlace, "quantity" | "releaseOn" | "neededOn" | "firstKitOn"> {
  /** Absent: where the shelf is, or where it is wanted most. */
  placeCode?: string;
}

/** What the netting wants ordered, without its days: they are most of what is stored and change only with the netting. */
function shelfOrders(db: Db, planId: number): readonly ShelfOrders[] {
  return remembered(db, `shelf orders ${planId}`, ["plan"], () => {
    const drums = new Map(loadCutting(db, planId).map((c) => [c.cableCode, drumsWanted(c)]));
    return loadNetting(db, planId)
      .filter(({ itemCode, body }) => body.orders.length > 0 || (drums.get(itemCode)?.length ?? 0) > 0)
      .map(({ itemCode, placeCode, body }) => ({
        itemCode,
        placeCode,
        firstOn: body.firstOn,
        orders: [...body.orders].sort((a, b) => a.releaseDay - b.releaseDay || a.receiptDay - b.receiptDay),
        spares: body.spares ?? 0,
        waiting: addedUp(body.stopsLeft),
        pooledStops: placeCode === ALL_WAREHOUSES ? body.stops : [],
        drums: placeCode === ALL_WAREHOUSES ? (drums.get(itemCode) ?? []) : [],
      }));
  });
}

/** The drums that a cutting list buys, alike ones together: a drum is wanted when its first run is cut. */
function drumsWanted({ drums, late }: CuttingPlan): WantedOrder[] {
  const lateNeed = new Map(late.map((l) => [l.run.id, l.run.neededOn]));
  const alike = new Map<string, WantedOrder>();
  for (const { drum, buy, cuts } of drums) {
    if (!buy || cuts.length === 0) continue;
    const neededOn = earliest(cuts.map((c) => c.cutOn))!;
    const releaseOn = addDays(neededOn, -buy.leadTimeDays);
    const firstKitOn = earliest(cuts.map((c) => lateNeed.get(c.runId) ?? c.arriveOn ?? c.cutOn));
    const key = JSON.stringify([drum.comesTo, releaseOn]);
    const known = alike.get(key);
    alike.set(key, {
      quantity: (known?.quantity ?? 0) + buy.lengthCm / 100,
      releaseOn,
      neededOn,
      firstKitOn: earliest([firstKitOn, known?.firstKitOn].flatMap((day) => day ?? [])),
      placeCode: drum.comesTo,
    });
  }
  return [...alike.values()].sort((a, b) =>
    a.releaseOn < b.releaseOn ? -1 : a.releaseOn > b.releaseOn ? 1 : 0,
  );
}

/** Drums still to be ordered: what is on unsent orders for their warehouse is taken off first, then what goes elsewhere. */
function drumsLeft(drums: readonly WantedOrder[], unsent: UnsentLines): WantedOrder[] {
  const left = new Map<string, number>();
  for (const l of unsent) left.set(l.placeCode, (left.get(l.placeCode) ?? 0) + l.quantityC / 100);
  const take = (o: WantedOrder, placeCode: string): WantedOrder => {
    const already = Math.min(left.get(placeCode) ?? 0, o.quantity);
    left.set(placeCode, (left.get(placeCode) ?? 0) - already);
    return { ...o, quantity: rounded(o.quantity - already) };
  };
  const ownFirst = drums.map((o) => take(o, o.placeCode ?? ""));
  return ownFirst.map((o) => [...left.keys()].reduce(take, o)).filter((o) => o.quantity > 0);
}

/** What the netting wants ordered beyond the drums of the cutting list, less what stands on unsent orders beyond them. */
function metresLeft({ firstOn, orders, waiting, drums }: ShelfOrders, unsent: number): WantedOrder[] {
  let covered = Math.max(
    unsent,
    drums.reduce((sum, d) => sum + d.quantity, 0),
  );
  let before = 0;
  return orders.flatMap((o) => {
    const already = Math.min(covered, o.quantity);
    covered -= already;
    const first = firstWaiting(waiting, before + already, o.receiptDay);
    before += o.quantity;
    const quantity = rounded(o.quantity - already);
    if (quantity <= 0) return [];
    return [
      {
        quantity,
        releaseOn: addDays(firstOn, o.releaseDay),
        neededOn: addDays(firstOn, o.receiptDay),
        firstKitOn: first && addDays(firstOn, first.day),
      },
    ];
  });
}

/** Quantities have two decimals. */
const rounded = (quantity: number): number => Math.round(quantity * 100) / 100;

function addedUp(stops: NettingBody["stopsLeft"]): Waiting[] {
  let missing = 0;
  return [...stops]
    .sort((a, b) => a.day - b.day)
    .map((s) => {
      missing += s.missing;
      return { day: s.day, missing };
    });
}

/**
 * The first visit that waits for an order: visits come before what the shelf keeps back, the earlier first, and what
 * `before` covers is not waited for. One that stops before an order could be wanted (`receiptDay`) is not helped by it.
 */
const firstWaiting = (waiting: readonly Waiting[], before: number, receiptDay: number): Waiting | undefined =>
  waiting.find((w) => w.day >= receiptDay && w.missing > before + TOLERANCE);

/** Quantities have two decimals. */
const TOLERANCE = 0.005;

/** Lines of orders that nobody has sent yet, in order of their codes; neither netting nor cutting counts on them. */
export function unsentLines(db: Db) {
  return db
    .select({
      orderCode: orderLine.orderCode,
      itemCode: orderLine.itemCode,
      category: item.category,
      placeCode: purchaseOrder.placeCode,
      quantityC: orderLine.quantityC,
    })
    .from(orderLine)
    .innerJoin(purchaseOrder, eq(purchaseOrder.code, orderLine.orderCode))
    .innerJoin(item, eq(item.code, orderLine.itemCode))
    .where(inArray(purchaseOrder.state, ["proposed", "approved"]))
    .orderBy(orderLine.orderCode, orderLine.lineNo)
    .all();
}

export type UnsentLines = ReturnType<typeof unsentLines>;

/** Units on orders that nobody has sent yet, by the shelf they are for. */
function unsentQuantities(rows: UnsentLines): Map<string, number> {
  const sums = new Map<string, number>();
  for (const r of rows) {
    const key = shelfKey(r.itemCode, nettedAt(r.category, r.placeCode));
    sums.set(key, (sums.get(key) ?? 0) + r.quantityC / 100);
  }
  return sums;
}

/** Who the item was ordered from last. */
export function lastSuppliers(db: Db): Map<string, string> {
  const rows = db
    .select({ itemCode: orderLine.itemCode, supplier: purchaseOrder.supplier })
    .from(orderLine)
    .innerJoin(purchaseOrder, eq(purchaseOrder.code, orderLine.orderCode))
    .orderBy(purchaseOrder.createdAt, purchaseOrder.code)
    .all();
  return new Map(rows.map((r) => [r.itemCode, r.supplier]));
}

/** The warehouse that picks most of what stops. */
function busiestPlace(
  stops: readonly { visitId: string }[],
  kitPlaces: ReadonlyMap<string, string>,
): string | undefined {
  const counts = new Map<string, number>();
  for (const s of stops) {
    const code = kitPlaces.get(s.visitId);
    if (code) counts.set(code, (counts.get(code) ?? 0) + 1);
  }
  return [...counts].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))[0]?.[0];
}

/** Several planned orders of one item for one warehouse, as a person orders them: at once. */
export interface GatheredOrder extends OrderToPlace {
  /** For which days how much of it is. */
  parts: readonly Pick<OrderToPlace, "neededOn" | "firstKitOn" | "quantity">[];
}

/** One row an item and warehouse, of what is due and of what comes later apart; in the order of their first rows. */
export function gathered(rows: readonly OrderToPlace[]): GatheredOrder[] {
  const lines = new Map<string, OrderToPlace[]>();
  for (const r of rows) {
    const key = JSON.stringify([r.isDue, r.itemCode, r.placeCode]);
    lines.set(key, [...(lines.get(key) ?? []), r]);
  }
  return [...lines.values()].map((list) => ({
    ...list[0]!,
    neededOn: earliest(list.map((r) => r.neededOn))!,
    firstKitOn: earliest(list.flatMap((r) => r.firstKitOn ?? [])),
    quantity: Math.round(list.reduce((sum, r) => sum + r.quantity, 0) * 100) / 100,
    pastDueDays: Math.max(...list.map((r) => r.pastDueDays)),
    costMinor: list.reduce((sum, r) => sum + r.costMinor, 0),
    parts: list.map(({ neededOn, firstKitOn, quantity }) => ({ neededOn, firstKitOn, quantity })),
  }));
}

const earliest = (days: readonly CalendarDate[]): CalendarDate | undefined =>
  days.reduce<CalendarDate | undefined>((a, b) => (a === undefined || b < a ? b : a), undefined);

/** What is ordered before it must be comes as much earlier. */
export const sentToday = (o: OrderToPlace, today: CalendarDate): OrderToPlace => ({
  ...o,
  arrivesOn: addDays(today, daysBetween(o.releaseOn, o.arrivesOn)),
});
