/** Catalogue items and the versioned rule data. */
import { desc, eq } from "drizzle-orm";
import type { CatalogueItem } from "@/lib/site";
import type { LotRule, OrderingData } from "@/lib/stock";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { item, type PolicyKind, policy } from "../schema";

export type StoredItem = CatalogueItem & { lotRule: LotRule["kind"] };

/** Items as everybody reads them; what their orders cost stands apart (`loadOrdering`). Remembered: nobody changes them. */
export function loadCatalogue(db: Db): readonly StoredItem[] {
  return remembered(db, "catalogue", ["design"], () => readCatalogue(db));
}

function readCatalogue(db: Db): StoredItem[] {
  return db
    .select()
    .from(item)
    .orderBy(item.code)
    .all()
    .map(({ orderCostMinor: _o, holdingSharePerYear: _h, priceBreaks: _p, shelfLifeDays, ...row }) => ({
      ...row,
      shelfLifeDays: shelfLifeDays ?? undefined,
    }));
}

export type StoredOrdering = OrderingData & { lotRule: LotRule["kind"]; safetyStock: number };

/** How each item is ordered, by code. Remembered as the catalogue is. */
export function loadOrdering(db: Db): ReadonlyMap<string, StoredOrdering> {
  return remembered(db, "ordering", ["design"], () => readOrdering(db));
}

function readOrdering(db: Db): Map<string, StoredOrdering> {
  const rows = db
    .select({
      code: item.code,
      lotRule: item.lotRule,
      priceMinor: item.priceMinor,
      orderMultiple: item.orderMultiple,
      minimumOrder: item.minimumOrder,
      safetyStock: item.safetyStock,
      shelfLifeDays: item.shelfLifeDays,
      orderCostMinor: item.orderCostMinor,
      holdingSharePerYear: item.holdingSharePerYear,
      priceBreaks: item.priceBreaks,
    })
    .from(item)
    .all();
  return new Map(
    rows.map(({ code, shelfLifeDays, ...r }) => [code, { ...r, shelfLifeDays: shelfLifeDays ?? undefined }]),
  );
}

export type OrderingChange = Omit<StoredOrdering, "priceMinor" | "shelfLifeDays">;

/** Changes how an item is ordered; false when there is no such item. */
export function saveOrdering(db: Db, code: string, change: OrderingChange): boolean {
  const values = { ...change, priceBreaks: [...change.priceBreaks] };
  return db.update(item).set(values).where(eq(item.code, code)).run().changes > 0;
}

/** How many items there are, without reading them. */
export function countItems(db: Db): number {
  return db.$client.prepare("SELECT COUNT(*) FROM item").pluck().get() as number;
}

export function saveItem(db: Db, i: CatalogueItem & { lotRule?: LotRule["kind"] }): void {
  const row = { ...i, lotRule: i.lotRule ?? ("minimum" as const), shelfLifeDays: i.shelfLifeDays ?? null };
  const { code: _, ...rest } = row;
  db.insert(item).values(row).onConflictDoUpdate({ target: item.code, set: rest }).run();
}

export interface PolicyVersion<T> {
  version: number;
  body: T;
  changedBy: string;
  changedAt: number;
  reason: string;
}

/** The version in force, or undefined when none was ever stored. */
export function currentPolicy<T>(db: Db, kind: PolicyKind): PolicyVersion<T> | undefined {
  const row = db
    .select()
    .from(policy)
    .where(eq(policy.kind, kind))
    .orderBy(desc(policy.version))
    .limit(1)
    .get();
  return row as PolicyVersion<T> | undefined;
}

export function policyHistory(db: Db, kind: PolicyKind): PolicyVersion<unknown>[] {
  return db.select().from(policy).where(eq(policy.kind, kind)).orderBy(desc(policy.version)).all();
}

/** Stores the next version; returns its number. Earlier versions stay. */
export function addPolicyVersion(
  db: Db,
  kind: PolicyKind,
  body: unknown,
  change: { by: string; at: number; reason: string },
): number {
  const version = (currentPolicy(db, kind)?.version ?? 0) + 1;
  db.insert(policy)
    .values({ kind, version, body, changedBy: change.by, changedAt: change.at, reason: change.reason })
    .run();
  return version;
}
