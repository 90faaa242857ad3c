import { folded } from "@/lib/find";
import { type CellValue, type Column, choiceKey, namedValue, plainValue } from "./columns";
import { type ColumnFilter, isIdle } from "./view";

/** Numbers inside text compare as numbers: S-2 before S-10. One collator for the whole app: making one is slow. */
const collator = new Intl.Collator("en", { numeric: true, sensitivity: "base" });

/** Order of two values that are both there. Numbers by size, dates and codes as text with numbers in it. */
export function compareValues(a: CellValue, b: CellValue): number {
  if (typeof a === "number" && typeof b === "number") return a - b;
  return collator.compare(choiceKey(a), choiceKey(b));
}

/** Does a value pass a column's filter? A row without a value passes no range. */
export function passes(value: CellValue, filter: ColumnFilter): boolean {
  if (isIdle(filter)) return true;
  if (filter.oneOf) return filter.oneOf.includes(choiceKey(value));
  const plain = plainValue(value);
  if (plain === undefined) return false;
  if (typeof plain === "number") {
    const from = filter.from ? Number(filter.from) : Number.NEGATIVE_INFINITY;
    const to = filter.to ? Number(filter.to) : Number.POSITIVE_INFINITY;
    return plain >= from && plain <= to;
  }
  const text = String(plain);
  return (!filter.from || text >= filter.from) && (!filter.to || text <= filter.to);
}

/** Text of a row that the search looks through, all columns together. */
export function searchText<Row>(
  row: Row,
  columns: readonly Column<Row>[],
  t: (text: string) => string = (text) => text,
): string {
  return folded(
    columns
      .map((column) => column.said?.(row) ?? namedValue(column, choiceKey(column.value(row)), t))
      .join("\u0001"),
  );
}

/** Rows in which every word of the query occurs, in any column and any order. */
export function searchRows<Row extends object>(
  rows: readonly Row[],
  query: string,
  columns: readonly Column<Row>[],
  known: WeakMap<Row, string>,
  t?: (text: string) => string,
): readonly Row[] {
  const words = folded(query).split(/\s+/).filter(Boolean);
  if (words.length === 0) return rows;
  const say = t && saidOnce(t);
  return rows.filter((row) => {
    let text = known.get(row);
    if (text === undefined) {
      text = searchText(row, columns, say);
      known.set(row, text);
    }
    return words.every((word) => text.includes(word));
  });
}

/** The same words, each asked for once: a lookup in the catalogue for every row made the first letter wait. */
function saidOnce(t: (text: string) => string): (text: string) => string {
  const said = new Map<string, string>();
  return (text) => {
    const known = said.get(text) ?? t(text);
    said.set(text, known);
    return known;
  };
}
