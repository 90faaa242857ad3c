import type { ReactNode } from "react";
import { type CalendarDate, parseCalendarDate } from "@/lib/time";
import { formatDate, formatNumber, NO_VALUE } from "../format";
import { type Column, plainValue } from "./columns";
import type { EngineRow } from "./engine";

/** What a cell shows when the column does not draw it itself. */
export function shownValue<Row>(column: Column<Row>, row: Row, locale: string): ReactNode {
  if (column.cell) return column.cell(row);
  const value = plainValue(column.value(row));
  if (value === undefined) {
    return (
      <span className="text-quiet">
        {NO_VALUE}
        <span className="sr-only">no value</span>
      </span>
    );
  }
  if (typeof value === "boolean") return value ? "Yes" : "No";
  if (typeof value === "number") return formatNumber(value, column.digits ?? 0, locale, true);
  if (column.kind === "date") {
    const date: CalendarDate | undefined = parseCalendarDate(value);
    return date ? formatDate(date, "full", locale) : value;
  }
  return value;
}

/** The rows that a group head stands for, at any depth. */
export function leavesOf<Row extends object>(row: EngineRow<Row>): readonly Row[] {
  return row.subRows.length > 0 ? row.subRows.flatMap(leavesOf) : [row.original];
}

/** Sum of a column over the rows of a group; rows without a value count as nothing. */
export function sumOf<Row extends object>(column: Column<Row>, row: EngineRow<Row>): number {
  let sum = 0;
  for (const leaf of leavesOf(row)) {
    const value = plainValue(column.value(leaf));
    if (typeof value === "number") sum += value;
  }
  return sum;
}
