/** What the Spares page shows: wanted against what lies free on the shelf, is on order, on hold or in repair. */
import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { loadCatalogue } from "./catalogue";
import { loadFaults } from "./faultViews";
import { loadNeeds } from "./itemWhatIf";
import { loadOrdersOnTheWay } from "./orderLines";
import { planInForce } from "./plans";
import { rulesInForce } from "./programme";
import { loadShelves } from "./shelves";
import { type SpareRates, type SpareWant, sparesWanted } from "./spares";

export interface SpareRow extends SpareWant {
  itemName: string;
  onHand: number;
  /** What kits of the plan still want of it from this shelf. */
  needed: number;
  /** On hand beyond what kits want: what could go up as a spare tomorrow. */
  free: number;
  onOrder: number;
  onHold: number;
  inRepair: number;
  /** Wanted and not free. */
  missing: number;
}

export interface SparesView {
  rows: SpareRow[];
  rates: SpareRates;
  /** Units that stand in no line because no warehouse or item fits them are not counted. */
  repairDays: number;
}

const keyOf = (itemCode: string, placeCode: string) => JSON.stringify([itemCode, placeCode]);

export function loadSpares(db: Db, today: CalendarDate): SparesView {
  const catalogue = loadCatalogue(db);
  const names = new Map(catalogue.map((i) => [i.code, i.name]));
  const { stockPolicy } = rulesInForce(db);
  const { wants, rates } = sparesWanted(db, today, catalogue, stockPolicy);
  const shelves = loadShelves(db, today);
  const plan = planInForce(db);
  const wanted = new Set(wants.map((w) => w.itemCode));
  const needed = new Map<string, number>();
  for (const n of plan ? loadNeeds(db, plan.id) : [])
    if (wanted.has(n.itemCode)) add(needed, keyOf(n.itemCode, n.placeCode), n.quantity);
  const onOrder = new Map<string, number>();
  for (const o of loadOrdersOnTheWay(db))
    add(onOrder, keyOf(o.itemCode, o.placeCode), (o.quantityC - o.receivedC) / 100);
  const onHold = new Map<string, number>();
  const inRepair = new Map<string, number>();
  for (const f of loadFaults(db)) {
    const into = f.state === "on hold" ? onHold : f.state === "in repair" ? inRepair : undefined;
    if (into) add(into, keyOf(f.itemCode, f.warehouseCode), f.quantity);
  }
  const rows = wants.map((w): SpareRow => {
    const key = keyOf(w.itemCode, w.placeCode);
    const onHand = shelves.get(w.itemCode)?.find((s) => s.placeCode === w.placeCode)?.onHand ?? 0;
    const need = needed.get(key) ?? 0;
    const free = Math.max(0, onHand - need);
    return {
      ...w,
      itemName: names.get(w.itemCode) ?? "",
      onHand,
      needed: need,
      free,
      onOrder: onOrder.get(key) ?? 0,
      onHold: onHold.get(key) ?? 0,
      inRepair: inRepair.get(key) ?? 0,
      missing: Math.max(0, w.wanted - free),
    };
  });
  return { rows, rates, repairDays: stockPolicy.repairDays };
}

function add(sums: Map<string, number>, key: string, quantity: number): void {
  sums.set(key, (sums.get(key) ?? 0) + quantity);
}
