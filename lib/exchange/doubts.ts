/** What rows of orders say that may well be a slip: named in the preview, never refused. */
import { type Phrase, phrase } from "@/lib/phrase";
import { type CalendarDate, daysBetween } from "@/lib/time";
import type { PreviewRow } from "./types";

/** What an item is needed for, in its unit. */
export interface ItemMeasure {
  /** What the plan in force wants of it in all. */
  planned: number;
  /** What left the warehouses for work in the last year. */
  usedInYear: number;
}

/** A day that passed longer ago is hardly one of an order on its way. */
const LONG_PAST_DAYS = 30;
/** So many times what an item is needed for is hardly meant. */
const FAR_BEYOND = 100;
/** An item that nobody needs yet is measured as if this much of it were. */
const LEAST = 10;

/** By row that is new or changed, in the order of the file; `row` is its number there. */
export function orderDoubts(
  rows: readonly PreviewRow<"orders">[],
  today: CalendarDate,
  measureOf: (itemCode: string) => ItemMeasure | undefined,
): Phrase[] {
  return rows.flatMap(({ fate, value, rowNumber, changes }): Phrase[] => {
    if (!value || (fate !== "new" && fate !== "changed")) return [];
    const isSaid = (key: string) => fate === "new" || changes.some((c) => c.key === key);
    const at = { row: String(rowNumber), order: value.orderCode };
    const doubts: Phrase[] = [];
    if (isSaid("dueOn") && daysBetween(value.dueOn, today) > LONG_PAST_DAYS)
      doubts.push(
        phrase("Row {{row}}, order {{order}}: due {{dueOn}}, which is {{days}} days ago.", {
          ...at,
          dueOn: value.dueOn,
          days: String(daysBetween(value.dueOn, today)),
        }),
      );
    const { planned = 0, usedInYear = 0 } = measureOf(value.itemCode) ?? {};
    if (isSaid("quantity") && value.quantity > FAR_BEYOND * Math.max(planned, usedInYear, LEAST))
      doubts.push(
        phrase(
          "Row {{row}}, order {{order}}: {{quantity}} of {{item}}; the plan wants {{planned}}, and {{used}} went out in the last year.",
          {
            ...at,
            quantity: String(value.quantity),
            item: value.itemCode,
            planned: String(Math.round(planned)),
            used: String(Math.round(usedInYear)),
          },
        ),
      );
    if (fate === "new" && !value.supplier)
      doubts.push(phrase("Row {{row}}, order {{order}}: no supplier is named.", at));
    return doubts;
  });
}
