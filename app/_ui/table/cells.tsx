import type { ReactNode } from "react";
import { type CalendarDate, parseCalendarDate } from "@/lib/time";
import { formatDate, formatInColumn, NO_VALUE } from "../format";
import type { Words } from "../language/words";
import { type Column, namedValue, plainValue } from "./columns";
import type { EngineRow } from "./engine";

/** What a cell shows when the column does not draw it itself. */
export function shownValue<Row>(column: Column<Row>, row: Row, { t }: Words, locale: string): ReactNode {
  if (column.cell) return column.cell(row);
  const value = plainValue(column.value(row));
  if (value === undefined) {
    return (
      <span className="text-quiet">
        {NO_VALUE}
        <span className="sr-only">{t("no value")}</span>
      </span>
    );
  }
  if (typeof value === "boolean") return value ? t("Yes") : t("No");
  if (typeof value === "number") return formatInColumn(value, column.unit, column.digits ?? 0, locale);
  if (column.kind === "date") {
    const date: CalendarDate | undefined = parseCalendarDate(value);
    return date ? formatDate(date, "full", locale) : value;
  }
  return column.isSaid ? namedValue(column, value, t) : value;
}

/** The rows that a group head stands for, at any depth. */
export function leavesOf<Row extends object>(row: EngineRow<Row>): readonly Row[] {
  return row.subRows.length > 0 ? row.subRows.flatMap(leavesOf) : [row.original];
}

/** What a group of rows has in common, as its head says it. */
export function groupName<Row extends object>(
  row: EngineRow<Row>,
  columns: readonly Column<Row>[],
  t: Words["t"],
): string {
  const value = String(row.groupingValue || "");
  const column = columns.find((c) => c.id === row.groupingColumnId);
  if (value === "") return t("No value");
  return column ? namedValue(column, value, t) : value;
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
