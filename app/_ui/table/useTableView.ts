"use client";

import { useSearchParams } from "next/navigation";
import { useEffect, useMemo, useRef, useState } from "react";
import type { Column } from "./columns";
import { readView, type TableView, writeView } from "./view";

/** Wait so long after the last change before the address follows: typing should not rewrite it per letter. */
const SETTLE_MILLIS = 250;

/**
 * The view of a table, kept in step with the address both ways: a link or the back button changes the view,
 * a change of the view replaces the address (no history entry per keystroke).
 */
export function useTableView<Row>(
  columns: readonly Column<Row>[],
  prefix: string,
): [TableView, (change: (view: TableView) => TableView) => void] {
  const params = useSearchParams();
  const ids = useMemo(
    () => ({
      all: new Set(columns.map((column) => column.id)),
      range: new Set(columns.filter((column) => column.filter === "range").map((column) => column.id)),
    }),
    [columns],
  );
  const [view, setView] = useState(() => readView(params, ids.all, ids.range, prefix));
  const written = useRef(ownText(view, prefix));

  useEffect(() => {
    const read = readView(params, ids.all, ids.range, prefix);
    const text = ownText(read, prefix);
    if (text === written.current) return;
    written.current = text;
    setView(read);
  }, [params, ids, prefix]);

  useEffect(() => {
    const text = ownText(view, prefix);
    if (text === written.current) return;
    const timer = setTimeout(() => {
      written.current = text;
      const all = writeView(view, new URLSearchParams(window.location.search), prefix).toString();
      window.history.replaceState(null, "", all ? `?${all}` : window.location.pathname);
    }, SETTLE_MILLIS);
    return () => clearTimeout(timer);
  }, [view, prefix]);

  return [view, setView];
}

function ownText(view: TableView, prefix: string): string {
  return writeView(view, new URLSearchParams(), prefix).toString();
}
