"use client";

import { useRouter } from "next/navigation";
import { type ReactNode, Suspense, useCallback, useDeferredValue, useEffect, useMemo, useRef } from "react";
import { showGoing } from "../_client/going";
import { useWords } from "./language/LanguageProvider";
import { leavesOf } from "./table/cells";
import { type Column, rowHeaderOf } from "./table/columns";
import { downloadCsv, toCsv } from "./table/csv";
import { useEngine } from "./table/engine";
import { TableCards } from "./table/TableCards";
import { TableGrid } from "./table/TableGrid";
import { TableTools } from "./table/TableTools";
import { usePrinting } from "./table/usePrinting";
import { useTableView } from "./table/useTableView";
import { useIsLive, useMedia } from "./useMedia";

export type { CellValue, Column } from "./table/columns";

export interface DataTableProps<Row extends object> {
  /** Spoken name of the table: "Hops". */
  label: string;
  /** Keep it stable between renders: a new array starts every computation anew. */
  rows: readonly Row[];
  /** Keep it stable: at module scope or in a useMemo. */
  columns: readonly Column<Row>[];
  rowId: (row: Row) => string;
  /** Where a row leads: Enter, a press on the row, the arrow on its card. Put a RowLink in the first cell as well. */
  rowHref?: (row: Row) => string;
  /** Instead of an address: what opening a row does. */
  onOpen?: (row: Row) => void;
  selection?: { selected: ReadonlySet<string>; onChange: (selected: ReadonlySet<string>) => void };
  /** What one row is called, and several: English, said in the reader's language. */
  rowWord?: { one: string; many: string };
  /** Prefix of this table's keys in the address, when a page has two tables. */
  urlPrefix?: string;
  /** Offers "Export": file name without ending. */
  exportName?: string;
  /** More controls at the end of the toolbar: saved views, bulk actions. */
  tools?: ReactNode;
  /** Shown instead of the table when there is no row at all. */
  empty?: ReactNode;
  /** CSS length up to which the table grows before it scrolls. */
  height?: string;
  /** On a phone: one card per row, or the table in a part that scrolls. */
  narrow?: "cards" | "scroll";
  /** The rows that pass search and filters, in their order: for a map or a sum beside the table. */
  onRowsShown?: (rows: readonly Row[]) => void;
  locale?: string;
}

/** Above this, paper gets the first rows and says so. */
const PRINT_MOST = 2_000;
const NARROW = "(max-width: 48rem)";

/**
 * A table to work with: search, filters, sort, groups, choice of columns, export, all kept in the address.
 * Smooth at 10,000 rows: rows out of view do not exist. Arrows move between rows, Enter opens, Space selects.
 * Client components only (columns are functions); server pages pass plain rows to a small wrapper beside them.
 */
export function DataTable<Row extends object>(props: DataTableProps<Row>) {
  // The address is only known in the browser on pages that are built ahead; until then an empty frame of the same size.
  return (
    <Suspense fallback={<div className="ui-table-wait" style={{ minHeight: props.height ?? HEIGHT }} />}>
      <LiveTable {...props} />
    </Suspense>
  );
}

const HEIGHT = "min(70vh, 46rem)";
export const ROW_WORD = { one: "row", many: "rows" };

function LiveTable<Row extends object>(props: DataTableProps<Row>) {
  const { label, rows, columns, rowId, rowHref, onOpen, rowWord = ROW_WORD, urlPrefix = "" } = props;
  const { exportName, tools, empty, height = HEIGHT, narrow = "cards" } = props;
  const { t, locale: spoken } = useWords();
  const locale = props.locale ?? spoken;
  const router = useRouter();
  const isLive = useIsLive();
  const isNarrow = useMedia(NARROW);
  const printing = usePrinting();
  const [view, change] = useTableView(columns, urlPrefix);
  // The controls answer at once; ten thousand rows may follow a frame later.
  const table = useEngine(rows, columns, rowId, useDeferredValue(view));

  const header = rowHeaderOf(columns);
  const shown = useMemo(() => {
    const visible = columns.filter((c) =>
      view.columns ? view.columns.includes(c.id) || c === header : !c.startsHidden || c === header,
    );
    return header ? [header, ...visible.filter((c) => c !== header)] : visible;
  }, [columns, view.columns, header]);

  const model = table.getRowModel();
  const sorted = table.getSortedRowModel();
  const leaves = useMemo(() => sorted.rows.flatMap(leavesOf), [sorted]);
  const drawn = printing ? model.rows.slice(0, PRINT_MOST) : model.rows;

  const report = useRef(props.onRowsShown);
  useEffect(() => {
    report.current = props.onRowsShown;
  });
  useEffect(() => report.current?.(leaves), [leaves]);

  const go = useRef({ rowHref, onOpen, router });
  useEffect(() => {
    go.current = { rowHref, onOpen, router };
  });
  const open = useCallback((row: Row) => {
    if (go.current.onOpen) go.current.onOpen(row);
    else if (go.current.rowHref) {
      showGoing();
      go.current.router.push(go.current.rowHref(row));
    }
  }, []);

  const selection = useSelection(props.selection, leaves, rowId);
  if (rows.length === 0 && empty) return empty;

  const parts = {
    label,
    rows: drawn,
    columns: shown,
    view,
    change,
    onOpen: rowHref || onOpen ? open : undefined,
    selection,
    locale,
    rowWord,
  };
  const cards = narrow === "cards";
  return (
    <div className="ui-data">
      <TableTools
        {...{ label, table, columns, view, change, rowWord, locale }}
        shownCount={leaves.length}
        allCount={rows.length}
        onExport={exportName ? () => downloadCsv(exportName, toCsv(leaves, shown)) : undefined}
        extra={tools}
      />
      {leaves.length === 0 ? (
        <p className="ui-data-none">
          {t("No {{row}} passes the search and the filters. Take one away above, or press “Show all”.", {
            row: t(rowWord.one),
          })}
        </p>
      ) : (
        <>
          {/* Before the page is live the style sheet picks one of the two; after that only one exists. */}
          {!isLive || !isNarrow || !cards ? (
            <div className={cards && !isLive ? "ui-only-wide" : undefined}>
              <TableGrid {...parts} height={height} everyRow={printing} />
            </div>
          ) : null}
          {cards && (!isLive || isNarrow) ? (
            <div className={isLive ? undefined : "ui-only-narrow"}>
              <TableCards {...parts} everyRow={printing} />
            </div>
          ) : null}
          {printing && model.rows.length > PRINT_MOST ? (
            <p>
              {t("The first {{most}} of {{all}} {{rows}}. Export has all of them.", {
                most: String(PRINT_MOST),
                all: String(model.rows.length),
                rows: t(rowWord.many),
              })}
            </p>
          ) : null}
        </>
      )}
    </div>
  );
}

/** Ticks, a range with Shift, and all rows that pass the filters. */
function useSelection<Row extends object>(
  given: DataTableProps<Row>["selection"],
  leaves: readonly Row[],
  rowId: (row: Row) => string,
) {
  const anchor = useRef<string>(undefined);
  const latest = useRef({ given, leaves, rowId });
  useEffect(() => {
    latest.current = { given, leaves, rowId };
  });
  const toggle = useCallback((id: string, withRange: boolean) => {
    const now = latest.current;
    if (!now.given) return;
    const next = new Set(now.given.selected);
    const on = !next.has(id);
    const ids = now.leaves.map(now.rowId);
    const a = withRange && anchor.current !== undefined ? ids.indexOf(anchor.current) : -1;
    const b = ids.indexOf(id);
    const range = a >= 0 && b >= 0 ? ids.slice(Math.min(a, b), Math.max(a, b) + 1) : [id];
    for (const one of range) {
      if (on) next.add(one);
      else next.delete(one);
    }
    anchor.current = id;
    now.given.onChange(next);
  }, []);
  if (!given) return undefined;
  const ids = leaves.map(rowId);
  const hit = ids.filter((id) => given.selected.has(id)).length;
  const state = hit === 0 ? ("none" as const) : hit === ids.length ? ("all" as const) : ("some" as const);
  return {
    selected: given.selected,
    toggle,
    state,
    toggleAll: () => {
      const next = new Set(given.selected);
      for (const id of ids) {
        if (state === "all") next.delete(id);
        else next.add(id);
      }
      given.onChange(next);
    },
  };
}
