/** Spares of radio variants by warehouse: what is installed and planned where, what the rules or a person want kept. */

import { and, eq } from "drizzle-orm";
import { distanceKm } from "@/lib/geo";
import { phrase } from "@/lib/phrase";
import { ok, type Result, refused, sentences } from "@/lib/result";
import type { CatalogueItem } from "@/lib/site";
import {
  drawnRate,
  type SpareDemand,
  type SpareNumber,
  type SparePolicy,
  type SpareShelf,
  type StockPolicy,
  spareNumbers,
} from "@/lib/stock";
import { type CalendarDate, daysBetween } from "@/lib/time";
import type { Db } from "../open";
import { item, place, spareRule } from "../schema";
import { loadFaults } from "./faultViews";
import { addLogEntry } from "./log";
import { loadPlaces, type Place } from "./places";
import { planInForce } from "./plans";
import { doneVisits } from "./reports";
import { shelfKey } from "./shelves";

export interface SpareWant extends SpareNumber {
  itemCode: string;
  placeCode: string;
  /** In service today. */
  installed: number;
  /** Units still to be installed at any time. */
  planned: number;
  level: number;
  /** Somebody's own decision, if there is one. */
  rule: { fixed: number | null; level: number | null; reason: string; by: string; at: number } | null;
}

/** Rates as the records have them so far, drawn toward the rules' figures. */
export interface SpareRates {
  deadShare: number;
  failuresPerYear: number;
  dead: number;
  failed: number;
  installed: number;
  unitYears: number;
}

interface RadioAt {
  itemCode: string;
  placeCode: string;
  visitId: string;
}

interface Variant {
  bandGhz?: number;
  subBand?: string;
  duplexSpacingMhz?: number;
  half?: string;
}

const variantKey = (v: Variant) => JSON.stringify([v.bandGhz, v.subBand, v.duplexSpacingMhz, v.half]);

/** The catalogue's item of a radio of the design; of several that fit the first by code, as the take-off takes. */
export function variantItems(catalogue: readonly CatalogueItem[]): (radio: Variant) => string | undefined {
  const itemOf = new Map<string, string>();
  for (const i of [...catalogue].sort((a, b) => (a.code < b.code ? -1 : 1)))
    if (i.category === "ODU" && !itemOf.has(variantKey(i.attributes)))
      itemOf.set(variantKey(i.attributes), i.code);
  return (radio) => itemOf.get(variantKey(radio));
}

/** Every radio of the design with its catalogue item, the warehouse nearest its site, and the visit that installs it. */
function radiosByWarehouse(
  db: Db,
  catalogue: readonly CatalogueItem[],
  warehouses: readonly Place[],
): RadioAt[] {
  const itemOf = variantItems(catalogue);
  const rows = db.$client
    .prepare(
      `SELECT o.band_ghz AS bandGhz, o.sub_band AS subBand, o.duplex_spacing_mhz AS duplexSpacingMhz, o.half,
              e.hop_code AS hopCode, e.side, s.lat_deg AS latDeg, s.lon_deg AS lonDeg
       FROM odu o JOIN link_end e ON e.id = o.end_id LEFT JOIN site s ON s.code = e.site_code`,
    )
    .all() as {
    bandGhz: number;
    subBand: string;
    duplexSpacingMhz: number;
    half: string;
    hopCode: string;
    side: string;
    latDeg: number | null;
    lonDeg: number | null;
  }[];
  const nearest = new Map<string, string>();
  return rows.flatMap((r): RadioAt[] => {
    const itemCode = itemOf(r);
    if (!itemCode) return [];
    const at = `${r.latDeg},${r.lonDeg}`;
    const placeCode = nearest.get(at) ?? nearestWarehouse(r, warehouses);
    nearest.set(at, placeCode);
    return [{ itemCode, placeCode, visitId: `${r.hopCode}/${r.side}/install` }];
  });
}

/** Without coordinates nothing is nearest, and the first by code serves. */
function nearestWarehouse(
  at: { latDeg: number | null; lonDeg: number | null },
  warehouses: readonly Place[],
): string {
  if (at.latDeg === null || at.lonDeg === null) return warehouses[0]!.code;
  const here = { latDeg: at.latDeg, lonDeg: at.lonDeg };
  const km = (w: Place) =>
    w.latDeg === null || w.lonDeg === null
      ? Number.POSITIVE_INFINITY
      : distanceKm(here, { latDeg: w.latDeg, lonDeg: w.lonDeg });
  return warehouses.reduce((best, w) => (km(w) < km(best) ? w : best)).code;
}

/** The days on which a plan's installs begin, by visit. */
export function installStarts(db: Db, planId: number): Map<string, CalendarDate> {
  const rows = db.$client
    .prepare(
      `SELECT visit_id, start_on FROM plan_visit
       WHERE plan_id = ? AND kind = 'install' AND start_on IS NOT NULL`,
    )
    .raw()
    .all(planId) as [string, CalendarDate][];
  return new Map(rows);
}

function ratesOf(
  db: Db,
  radios: readonly RadioAt[],
  done: ReadonlyMap<string, CalendarDate>,
  today: CalendarDate,
  policy: SparePolicy,
): SpareRates {
  const radioItems = new Set(radios.map((r) => r.itemCode));
  const faults = loadFaults(db).filter(
    (f) => radioItems.has(f.itemCode) && f.state !== "taken back" && f.state !== "released",
  );
  const countOf = (cause: string) =>
    faults.filter((f) => f.cause === cause).reduce((sum, f) => sum + f.quantity, 0);
  const [dead, failed] = [countOf("dead on arrival"), countOf("failed in service")];
  const days = radios.flatMap((r) => {
    const on = done.get(r.visitId);
    return on ? [Math.max(0, daysBetween(on, today))] : [];
  });
  const installed = days.length;
  const unitYears = days.reduce((sum, d) => sum + d, 0) / 365.25;
  return {
    deadShare: drawnRate(dead, installed + dead, policy.deadShare),
    failuresPerYear: drawnRate(failed, unitYears, policy.failuresPerYear),
    dead,
    failed,
    installed,
    unitYears,
  };
}

/** What spares are wanted for, by variant, then place; which of the units go up soon is a plan's to say. */
export function loadSpareDemand(
  db: Db,
  today: CalendarDate,
  catalogue: readonly CatalogueItem[],
  policy: StockPolicy,
): SpareDemand & { rates: SpareRates } {
  const warehouses = loadPlaces(db)
    .filter((p) => p.kind === "warehouse")
    .sort((a, b) => (a.code < b.code ? -1 : 1));
  // Spares are kept of radios only.
  const isAsked = warehouses.length > 0 && catalogue.some((i) => i.category === "ODU");
  const radios = isAsked ? radiosByWarehouse(db, catalogue, warehouses) : [];
  const done = doneVisits(db);
  const rates = ratesOf(db, radios, done, today, policy);
  const shelves = new Map<string, SpareShelf & { toCome: string[] }>();
  const at = (itemCode: string, placeCode: string) => {
    const key = shelfKey(itemCode, placeCode);
    const known = shelves.get(key) ?? {
      itemCode,
      placeCode,
      installed: 0,
      toCome: [],
      level: policy.spareLevel,
      fixed: null,
    };
    shelves.set(key, known);
    return known;
  };
  for (const r of radios) {
    const shelf = at(r.itemCode, r.placeCode);
    if (done.has(r.visitId)) shelf.installed++;
    else shelf.toCome.push(r.visitId);
  }
  for (const r of isAsked ? spareRules(db).values() : [])
    Object.assign(at(r.itemCode, r.placeCode), {
      level: r.serviceLevel ?? policy.spareLevel,
      fixed: r.fixedQuantity,
    });
  return {
    shelves: [...shelves.values()].sort(
      (a, b) => order(a.itemCode, b.itemCode) || order(a.placeCode, b.placeCode),
    ),
    rates,
    deadShare: rates.deadShare,
    failuresPerYear: rates.failuresPerYear,
    repairDays: policy.repairDays,
  };
}

const order = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);

function spareRules(db: Db): Map<string, typeof spareRule.$inferSelect> {
  const rows = db.select().from(spareRule).all();
  return new Map(rows.map((r) => [shelfKey(r.itemCode, r.placeCode), r]));
}

/** What every warehouse should keep of each variant that its ends use while the plan in force stands, and why. */
export function sparesWanted(
  db: Db,
  today: CalendarDate,
  catalogue: readonly CatalogueItem[],
  policy: StockPolicy,
): { wants: SpareWant[]; rates: SpareRates } {
  const { rates, ...demand } = loadSpareDemand(db, today, catalogue, policy);
  const plan = planInForce(db);
  const starts = plan ? installStarts(db, plan.id) : new Map<string, CalendarDate>();
  const rules = spareRules(db);
  const wants = spareNumbers(demand, today, starts).map(({ toCome, fixed: _, ...shelf }): SpareWant => {
    const rule = rules.get(shelfKey(shelf.itemCode, shelf.placeCode));
    return {
      ...shelf,
      planned: toCome.length,
      rule: rule
        ? {
            fixed: rule.fixedQuantity,
            level: rule.serviceLevel,
            reason: rule.reason,
            by: rule.changedBy,
            at: rule.changedAt,
          }
        : null,
    };
  });
  return { wants, rates };
}

export interface SpareChange {
  itemCode: string;
  placeCode: string;
  /** A fixed number, a level of its own, or null for the rules' level again. */
  rule: { fixed: number } | { level: number } | null;
  reason: string;
}

/** Keeps somebody's decision about a variant at a warehouse, or drops it. */
export function setSpareRule(
  db: Db,
  { itemCode, placeCode, rule, reason }: SpareChange,
  by: { name: string; at: number },
): Result<{ isOwn: boolean }> {
  const i = db.select().from(item).where(eq(item.code, itemCode)).get();
  const p = db.select().from(place).where(eq(place.code, placeCode)).get();
  if (i?.category !== "ODU")
    return refused({
      path: "itemCode",
      rule: "no-variant",
      value: itemCode,
      ...sentences(
        phrase("Spares are kept of radio variants; the catalogue has no such radio."),
        phrase("Choose a radio unit. Of other items keep a safety stock."),
      ),
    });
  if (p?.kind !== "warehouse")
    return refused({
      path: "placeCode",
      rule: "place",
      value: placeCode,
      ...sentences(phrase("That is no warehouse."), phrase("Choose the warehouse that keeps them.")),
    });
  if (rule === null)
    db.delete(spareRule)
      .where(and(eq(spareRule.itemCode, itemCode), eq(spareRule.placeCode, placeCode)))
      .run();
  else {
    const row = {
      fixedQuantity: "fixed" in rule ? rule.fixed : null,
      serviceLevel: "level" in rule ? rule.level : null,
      reason,
      changedBy: by.name,
      changedAt: by.at,
    };
    db.insert(spareRule)
      .values({ itemCode, placeCode, ...row })
      .onConflictDoUpdate({ target: [spareRule.itemCode, spareRule.placeCode], set: row })
      .run();
  }
  addLogEntry(db, {
    at: by.at,
    userName: by.name,
    action: "spares decided",
    subject: `item ${itemCode}`,
    detail: { place: placeCode, rule, reason },
  });
  return ok({ isOwn: rule !== null });
}
