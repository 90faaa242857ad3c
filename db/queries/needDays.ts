/** What a plan's kits want of each item, warehouse by warehouse and day by day. */
import type { Owner } from "@/lib/site";
import { addDays, type CalendarDate } from "@/lib/time";
import { remembered } from "../dataState";
import type { Db } from "../open";
import { loadCatalogue } from "./catalogue";
import { loadNetting } from "./plans";

export interface NeedDay {
  itemCode: string;
  name: string;
  unit: string;
  owner: Owner;
  /** Null: all warehouses together, as cable is netted. */
  warehouseCode: string | null;
  /** Day on which kits are picked. */
  on: CalendarDate;
  quantity: number;
  /** Balance at the end of the day as long as nothing new is ordered; below zero = short. */
  balance: number;
}

/** Days without a need are left out. By day, then item, then warehouse. */
export function loadNeedDays(db: Db, planId: number): readonly NeedDay[] {
  return remembered(db, `need days ${planId}`, ["plan", "design"], () => {
    const items = new Map(loadCatalogue(db).map((i) => [i.code, i]));
    return loadNetting(db, planId)
      .flatMap(({ itemCode, placeCode, body }) => {
        const i = items.get(itemCode);
        if (!i) return [];
        const { name, unit, owner } = i;
        return body.gross.flatMap((quantity, day): NeedDay[] =>
          quantity > 0
            ? [
                {
                  itemCode,
                  name,
                  unit,
                  owner,
                  warehouseCode: placeCode || null,
                  on: addDays(body.firstOn, day),
                  quantity: hundredth(quantity),
                  balance: hundredth(body.projectedWithoutOrders[day] ?? 0),
                },
              ]
            : [],
        );
      })
      .sort((a, b) => compare(a.on, b.on) || compare(a.itemCode, b.itemCode) || compare(shelf(a), shelf(b)));
  });
}

const hundredth = (n: number) => Math.round(n * 100) / 100;
const shelf = (n: NeedDay) => n.warehouseCode ?? "";
const compare = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
