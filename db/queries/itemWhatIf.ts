/** What an item's needs would be met by if a delivery slipped, or under another lot rule. */
import { and, eq, sql } from "drizzle-orm";
import {
  DEFAULT_ROADS,
  type NettingInput,
  netPlaces,
  type PlacedNeed,
  sparesKept,
  transferRules,
  warehousesOf,
} from "@/lib/programme";
import {
  compareLotRules,
  effectOfSlip,
  type LotFigures,
  type LotRuleCost,
  lotFigures,
  type SlipEffect,
} from "@/lib/stock";
import { type CalendarDate, daysBetween } from "@/lib/time";
import type { Db } from "../open";
import { kit, kitLine, planVisit } from "../schema";
import { loadCatalogue, loadOrdering, type StoredItem } from "./catalogue";
import { runsCutTooLate } from "./drumViews";
import { lostOfKits, runsToFollow } from "./kitLosses";
import { neverIssued } from "./kitShort";
import { cutsMade } from "./ledger";
import { loadOrdersOnTheWay } from "./orderLines";
import { loadPlaces } from "./places";
import type { PlanHead } from "./plans";
import { loadSupplies, rulesInForce } from "./programme";
import { loadBalances } from "./shelves";
import { installStarts, loadSpareDemand } from "./spares";

export interface ItemNeed {
  itemCode: string;
  visitId: string;
  siteCode: string;
  hopCode: string;
  crewCode: string | null;
  pickOn: CalendarDate;
  /** The warehouse it is picked from. */
  placeCode: string;
  startOn: CalendarDate | null;
  startMin: number | null;
  quantity: number;
  shortC: number;
}

/**
 * What the kits of a plan still want, run by run and line by line, in the order in which they are filled; of an issued
 * kit what a fault put on hold and nobody has replaced, and the runs that go after it. Of a visit that is done nothing.
 */
export function loadNeeds(db: Db, planId: number, itemCode?: string): ItemNeed[] {
  const cuts = cutsMade(db);
  const lost = lostOfKits(db);
  const following = runsToFollow(db);
  const shortRuns = following.size > 0 ? runsCutTooLate(db, planId) : new Set();
  // What the plan says of the line was of the kit as it was picked: its shelf says whether another can follow now.
  const onShelfC = (of: { itemCode: string; placeCode: string }): number =>
    loadBalances(db, of.itemCode)
      .filter((b) => b.placeCode === of.placeCode)
      .reduce((sum, b) => sum + b.quantityC, 0);
  return db
    .select({
      itemCode: kitLine.itemCode,
      visitId: kitLine.visitId,
      siteCode: planVisit.siteCode,
      hopCode: planVisit.hopCode,
      crewCode: planVisit.crewCode,
      pickOn: kit.pickOn,
      startOn: planVisit.startOn,
      startMin: planVisit.startMin,
      placeCode: kit.placeCode,
      boxC: kitLine.boxC,
      shortC: kitLine.shortC,
      runId: kitLine.runId,
      lacksC: sql<number>`${kitLine.boxC} - ${kitLine.pickedC}`,
      isIssued: sql<number>`${kit.state} = 'issued'`,
    })
    .from(kitLine)
    .innerJoin(kit, and(eq(kit.planId, kitLine.planId), eq(kit.visitId, kitLine.visitId)))
    .innerJoin(planVisit, and(eq(planVisit.planId, kit.planId), eq(planVisit.visitId, kit.visitId)))
    .where(
      and(
        eq(kitLine.planId, planId),
        sql`NOT ${sql.raw(neverIssued("kit"))}`,
        lost.size + following.size === 0 ? sql`${kit.state} <> 'issued'` : undefined,
        itemCode ? eq(kitLine.itemCode, itemCode) : undefined,
      ),
    )
    .orderBy(kit.pickOn, planVisit.startOn, planVisit.startMin, kitLine.visitId, kitLine.lineNo)
    .all()
    .filter((r) => r.boxC > 0 && (r.runId === null || !cuts.has(r.runId)))
    .flatMap(({ boxC, runId, lacksC, isIssued, ...r }) => {
      if (!isIssued) return [{ ...r, quantity: boxC / 100 }];
      if (runId !== null)
        return following.has(runId)
          ? [{ ...r, quantity: boxC / 100, shortC: shortRuns.has(runId) ? boxC : 0 }]
          : [];
      const lostC = Math.min(lost.get(r.visitId)?.get(r.itemCode) ?? 0, lacksC);
      if (lostC <= 0) return [];
      lost.get(r.visitId)!.set(r.itemCode, lost.get(r.visitId)!.get(r.itemCode)! - lostC);
      return [{ ...r, quantity: lostC / 100, shortC: Math.max(0, lostC - onShelfC(r)) }];
    });
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
        // As where the whole plan is netted: what should have begun is needed today.
        startsAtMin: n.startOn
          ? Math.max(0, daysBetween(today, n.startOn)) * 1440 + (n.startMin ?? 0)
          : undefined,
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
