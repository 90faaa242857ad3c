/** Holds that a clerk sets while a delivery is taken in. */

import type { CalendarDate } from "@/lib/time";
import type { Db } from "../open";
import { type FaultNote, recordFault } from "./faultRecord";
import type { By } from "./log";
import type { OrderView } from "./orderViews";

/** What is doubted at the door: received, but in no netting, kit or cut until somebody decides. */
export function holdAtDoor(
  db: Db,
  order: Pick<OrderView, "code" | "placeCode" | "supplier">,
  { key, on, today }: { key: string; on: CalendarDate; today: CalendarDate },
  doubted: Pick<FaultNote, "itemCode" | "serial" | "drumSerial" | "lotCode" | "owner" | "symptom"> & {
    quantityC: number;
  },
  by: By,
): ReturnType<typeof recordFault> {
  const { quantityC, ...what } = doubted;
  return recordFault(
    db,
    {
      ...what,
      key,
      orderCode: order.code,
      quantity: quantityC / 100,
      cause: "doubtful",
      fromPlace: order.placeCode,
      warehouseCode: order.placeCode,
      supplier: order.supplier,
      foundOn: on,
      today,
    },
    by,
  );
}
