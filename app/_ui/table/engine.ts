"use client";

import {
  type ColumnDef,
  columnFacetingFeature,
  columnFilteringFeature,
  columnGroupingFeature,
  columnVisibilityFeature,
  createExpandedRowModel,
  createFacetedMinMaxValues,
  createFacetedRowModel,
  createFacetedUniqueValues,
  createFilteredRowModel,
  createGroupedRowModel,
  createSortedRowModel,
  type ExpandedState,
  type ReactTable,
  rowExpandingFeature,
  rowSortingFeature,
  type Row as TableRow,
  tableFeatures,
  useTable,
} from "@tanstack/react-table";
import { useDeferredValue, useMemo, useState } from "react";
import { useWords } from "../language/LanguageProvider";
import { type Column, canGroup, choiceKey, plainValue } from "./columns";
import { compareValues, passes, searchRows } from "./narrow";
import type { ColumnFilter, TableView } from "./view";

/** What our tables use of the table library, named once. */
export const features = tableFeatures({
  columnFilteringFeature,
  columnFacetingFeature,
  columnGroupingFeature,
  columnVisibilityFeature,
  rowExpandingFeature,
  rowSortingFeature,
  filteredRowModel: createFilteredRowModel(),
  facetedRowModel: createFacetedRowModel(),
  facetedUniqueValues: createFacetedUniqueValues(),
  facetedMinMaxValues: createFacetedMinMaxValues(),
  groupedRowModel: createGroupedRowModel(),
  expandedRowModel: createExpandedRowModel(),
  sortedRowModel: createSortedRowModel(),
});

export type Features = typeof features;
export type Engine<Row extends object> = ReactTable<Features, Row>;
export type EngineRow<Row extends object> = TableRow<Features, Row>;

function definitionOf<Row extends object>(column: Column<Row>): ColumnDef<Features, Row> {
  return {
    id: column.id,
    header: column.header,
    accessorFn: (row) => plainValue(column.value(row)),
    enableSorting: column.sortable !== false,
    enableColumnFilter: column.filter !== undefined,
    enableGrouping: canGroup(column),
    // No value sorts last in both directions: nobody looks for it first.
    sortUndefined: "last",
    sortFn: (a, b, id) => compareValues(a.getValue(id), b.getValue(id)),
    filterFn: (row, id, filter: ColumnFilter) => passes(row.getValue(id), filter),
    getGroupingValue: (row) => choiceKey(column.value(row)),
  };
}

/** Runs search, filters, sort, grouping and column choice of a view over the rows. */
export function useEngine<Row extends object>(
  rows: readonly Row[],
  columns: readonly Column<Row>[],
  rowId: (row: Row) => string,
  view: TableView,
): Engine<Row> {
  const definitions = useMemo(() => columns.map(definitionOf), [columns]);
  const query = useDeferredValue(view.query);
  const { t } = useWords();
  // biome-ignore lint/correctness/useExhaustiveDependencies: other rows or columns need other search texts
  const texts = useMemo(() => new WeakMap<Row, string>(), [columns, rows, t]);
  const data = useMemo(() => searchRows(rows, query, columns, texts, t), [rows, query, columns, texts, t]);
  const [expanded, setExpanded] = useState<ExpandedState>(true);
  const state = useMemo(
    () => ({
      sorting: view.sort.map(({ id, desc }) => ({ id, desc })),
      columnFilters: Object.entries(view.filters).map(([id, value]) => ({ id, value })),
      grouping: view.group ? [view.group] : [],
      columnVisibility: Object.fromEntries(
        columns.map((c) => [c.id, view.columns ? view.columns.includes(c.id) : c.startsHidden !== true]),
      ),
    }),
    [view.sort, view.filters, view.group, view.columns, columns],
  );
  return useTable({
    features,
    columns: definitions,
    data,
    getRowId: rowId,
    state: { ...state, expanded },
    onExpandedChange: setExpanded,
    groupedColumnMode: false,
    autoResetExpanded: false,
  });
}
