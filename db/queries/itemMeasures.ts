/** How much of an item the plan wants and a year took: what a quantity in a file is held against. */
import type { ItemMeasure } from "@/lib/exchange";
import { addDays, type CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { loadNeedDays } from "./needDays";
import { planInForce } from "./plans";
import { WENT_OUT_FOR_WORK } from "./suppliers";

export function itemMeasures(db: Db, today: CalendarDate): Map<string, ItemMeasure> {
  const measures = new Map<string, ItemMeasure>();
  const of = (code: string) => {
    const known = measures.get(code) ?? { planned: 0, usedInYear: 0 };
    measures.set(code, known);
    return known;
  };
  const plan = planInForce(db);
  for (const n of plan ? loadNeedDays(db, plan.id) : []) of(n.itemCode).planned += n.quantity;
  const used = db.$client
    .prepare(
      `SELECT m.item_code AS itemCode, ${WENT_OUT_FOR_WORK} AND m.effective_on > ? GROUP BY m.item_code`,
    )
    .all(addDays(today, -365)) as { itemCode: string; quantity: number }[];
  for (const u of used) of(u.itemCode).usedInYear += u.quantity;
  return measures;
}
