/**
 * Rows as columns, repeated texts written once: a quarter of the text of an array of objects, for lists of ten
 * thousand that cross to the browser whole.
 */
export interface PackedRows {
  count: number;
  columns: Readonly<Record<string, PackedColumn>>;
}

/** One value a row; with `texts`, each value is an index into it, or null. */
export interface PackedColumn {
  values: readonly unknown[];
  texts?: readonly string[];
}

/** @param rows plain objects that all have the keys of the first; a missing value is null, not undefined */
export function packRows(rows: readonly object[]): PackedRows {
  const columns: Record<string, PackedColumn> = {};
  for (const key of Object.keys(rows[0] ?? {})) {
    columns[key] = packColumn(rows.map((row) => (row as Record<string, unknown>)[key]));
  }
  return { count: rows.length, columns };
}

function packColumn(values: readonly unknown[]): PackedColumn {
  if (!values.every((v) => typeof v === "string" || v === null)) return { values };
  const at = new Map<string, number>();
  const indices = values.map((v) => {
    if (v === null) return null;
    const known = at.get(v as string);
    if (known !== undefined) return known;
    at.set(v as string, at.size);
    return at.size - 1;
  });
  // Codes that hardly ever repeat are shorter as they are.
  return at.size * 2 > values.length ? { values } : { values: indices, texts: [...at.keys()] };
}

export function unpackRows<Row>({ count, columns }: PackedRows): Row[] {
  const list = Object.entries(columns);
  return Array.from({ length: count }, (_, row) => {
    const out: Record<string, unknown> = {};
    for (const [key, { values, texts }] of list) {
      const value = values[row];
      out[key] = texts && value !== null ? texts[value as number] : value;
    }
    return out as Row;
  });
}
