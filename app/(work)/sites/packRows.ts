/** Rows with their keys written once: less than half the text of an array of objects, for lists of ten thousand. */
export interface PackedRows {
  keys: readonly string[];
  values: readonly (readonly unknown[])[];
}

/** @param rows plain objects that all have the keys of the first */
export function packRows(rows: readonly object[]): PackedRows {
  const keys = Object.keys(rows[0] ?? {});
  return { keys, values: rows.map((row) => keys.map((key) => (row as Record<string, unknown>)[key])) };
}

export function unpackRows<Row>({ keys, values }: PackedRows): Row[] {
  return values.map((row) => Object.fromEntries(keys.map((key, i) => [key, row[i]])) as Row);
}
