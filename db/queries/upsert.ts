/** Many rows in one prepared statement: an import brings ten thousand, and building a query for each is slow. */
import { getTableColumns } from "drizzle-orm";
import { getTableConfig, type SQLiteColumn, type SQLiteTable } from "drizzle-orm/sqlite-core";
import type { Db } from "../open";

/**
 * Inserts the rows, or brings those that stand (by primary key) to this state. All rows must fill the same fields;
 * a field that the first row does not have keeps its stored value.
 */
export function upsertRows<T extends SQLiteTable>(
  db: Db,
  table: T,
  rows: readonly T["$inferInsert"][],
): void {
  const keys = keyColumns(table);
  write(db, table, rows, (columns) => {
    const set = columns
      .filter((c) => !keys.includes(c.name))
      .map((c) => `"${c.name}" = excluded."${c.name}"`);
    const target = keys.map((k) => `"${k}"`).join(", ");
    return `ON CONFLICT (${target}) DO ${set.length > 0 ? `UPDATE SET ${set.join(", ")}` : "NOTHING"}`;
  });
}

/** Inserts rows that are known to be new. */
export function insertRows<T extends SQLiteTable>(
  db: Db,
  table: T,
  rows: readonly T["$inferInsert"][],
): void {
  write(db, table, rows, () => "");
}

function write<T extends SQLiteTable>(
  db: Db,
  table: T,
  rows: readonly T["$inferInsert"][],
  conflict: (columns: readonly SQLiteColumn[]) => string,
): void {
  const first = rows[0] as Record<string, unknown> | undefined;
  if (!first) return;
  const named = Object.entries(getTableColumns(table)).filter(([field]) => field in first) as [
    string,
    SQLiteColumn,
  ][];
  const columns = named.map(([, c]) => c);
  const statement = db.$client.prepare(
    `INSERT INTO "${getTableConfig(table).name}" (${columns.map((c) => `"${c.name}"`).join(", ")})
     VALUES (${columns.map(() => "?").join(", ")}) ${conflict(columns)}`,
  );
  for (const row of rows as readonly Record<string, unknown>[]) {
    statement.run(
      named.map(([field, c]) => {
        const value = row[field];
        return value === undefined || value === null ? null : c.mapToDriverValue(value);
      }),
    );
  }
}

function keyColumns(table: SQLiteTable): string[] {
  const { columns, primaryKeys } = getTableConfig(table);
  const composite = primaryKeys[0]?.columns.map((c) => c.name);
  return composite ?? columns.filter((c) => c.primary).map((c) => c.name);
}
