/** Short forms for writing columns, and the questions that are asked of one. */

import type { Column, ColumnType, ListForm } from "./types";
import type { UnitId } from "./units";

type Rest<Key extends string> = Partial<
  Omit<Column<Key>, "key" | "label" | "type" | "example" | "description">
>;

/** Columns of one row type: `const c = columnsOf<HopRow>()`, then `c.text("code", "Hop", "MW-101", "...")`. */
export function columnsOf<Row, Virtual extends string = never>() {
  type Key = (keyof Row & string) | Virtual;
  const make =
    (type: ColumnType) =>
    (key: Key, label: string, example: string, description: string, rest: Rest<Key> = {}): Column<Key> => ({
      aliases: [],
      required: false,
      ...rest,
      key,
      label,
      type,
      example,
      description,
    });
  const withUnit =
    (type: ColumnType) =>
    (key: Key, label: string, unit: UnitId, example: string, description: string, rest: Rest<Key> = {}) =>
      make(type)(key, label, example, description, { ...rest, unit });
  return {
    text: make("text"),
    number: make("number"),
    integer: make("integer"),
    measure: withUnit("number"),
    count: withUnit("integer"),
    money: make("money"),
    date: make("date"),
    time: make("time"),
    instant: make("instant"),
    yesNo: make("boolean"),
    choice: make("enum"),
    list: (
      key: Key,
      label: string,
      listForm: ListForm,
      example: string,
      description: string,
      rest: Rest<Key> = {},
    ) => make("list")(key, label, example, description, { ...rest, listForm }),
  };
}

/** The header that exports write: label and unit. */
export function headerOf(column: Column): string {
  return column.unit ? `${column.label} (${column.unit})` : column.label;
}

/** Is the column's value held as text, so that a formula guard applies? */
export function isTextual(column: Column): boolean {
  return column.type === "text" || column.type === "list" || column.type === "enum";
}
