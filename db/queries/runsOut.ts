/** What runs out by a plan's netting, what stops for it, and how fresh the netting is. */
import { and, eq, sql } from "drizzle-orm";
import { ALL_WAREHOUSES } from "@/lib/programme";
import type { Owner } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { job, type NettingBody } from "../schema";
import { loadCatalogue } from "./catalogue";
import { loadOrdersOnTheWay } from "./orderLines";
import { loadNetting, nettingDay } from "./plans";
import { shelfKey } from "./shelves";
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
  /** Of the stops those that proposed transfers save. */
  saved: number;
  /** What stops with the proposed transfers: of the stops the rest, and what a transfer to an earlier visit takes from. */
  stopsLeft: number;
  /** What the other warehouses can send by the proposed transfers, the day that it must leave on first. */
  transfers: readonly SentOn[];
  nextReceipt: { orderCode: string; dueOn: CalendarDate; quantity: number } | null;
  /** Other warehouses that hold some today, whether their own work needs it or not. */
  elsewhere: { placeCode: string; onHand: number }[];
}

export interface SentOn {
  sendOn: CalendarDate;
  quantity: number;
  fromPlaces: string[];
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
  const netted = loadNetting(db, planId);
  const held = new Map<string, RunsOutRow["elsewhere"]>();
  for (const n of netted)
    if (n.placeCode !== ALL_WAREHOUSES && n.onHandC > 0)
      held.set(n.itemCode, [
        ...(held.get(n.itemCode) ?? []),
        { placeCode: n.placeCode, onHand: n.onHandC / 100 },
      ]);
  for (const n of netted) {
    const i = items.get(n.itemCode);
    if (!i || n.runsOutOn === null) continue;
    const { stops, stopsLeft, firstOn } = n.body;
    for (const s of stopsLeft) sites.add(s.siteCode);
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
      saved: stops.filter((s) => !stopsLeft.some((left) => left.visitId === s.visitId)).length,
      stopsLeft: stopsLeft.length,
      transfers: sentByDay(transfers.get(shelfKey(n.itemCode, n.placeCode)) ?? []),
      nextReceipt: next
        ? { orderCode: next.orderCode, dueOn: next.dueOn, quantity: (next.quantityC - next.receivedC) / 100 }
        : null,
      elsewhere:
        n.placeCode === ALL_WAREHOUSES
          ? []
          : (held.get(n.itemCode) ?? []).filter((h) => h.placeCode !== n.placeCode),
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
function sentByDay(list: readonly TransferView[]): SentOn[] {
  const days = new Map<CalendarDate, SentOn>();
  for (const { sendOn, quantity, fromPlace } of list) {
    const day = days.get(sendOn) ?? { sendOn, quantity: 0, fromPlaces: [] };
    day.quantity += quantity;
    if (!day.fromPlaces.includes(fromPlace)) day.fromPlaces.push(fromPlace);
    days.set(sendOn, day);
  }
  return [...days.values()];
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
