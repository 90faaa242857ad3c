"use client";

import { type KeyboardEvent, type RefObject, useCallback, useEffect, useRef, useState } from "react";

export interface GridCursor {
  row: number;
  column: number;
  isAt: (row: number, column: number) => boolean;
  /** Sets the cursor without moving the focus: on focus or press of a cell. The same function on every render. */
  set: (row: number, column: number) => void;
  /** Moves cursor and focus. */
  go: (row: number, column: number) => void;
  /** Hears the arrow keys, Home, End, Page up and down; true when it has dealt with the key. */
  onKey: (event: KeyboardEvent) => boolean;
}

/**
 * One cell of a grid takes the focus, and the arrows move it (roving tabindex). Cells carry
 * `data-cell="row,column"`. A cell that is not drawn yet gets the focus as soon as it is.
 *
 * @param page columns that Page up and Page down skip
 */
export function useGridCursor(
  root: RefObject<HTMLElement | null>,
  rowCount: number,
  columnCount: number,
  page: number,
  start: { row: number; column: number } = { row: 0, column: 0 },
): GridCursor {
  const [at, setAt] = useState(start);
  // The target itself, not a flag: React may still run an effect of an earlier render after the key was heard.
  const wanted = useRef<{ row: number; column: number }>(undefined);
  const row = Math.min(at.row, Math.max(0, rowCount - 1));
  const column = Math.min(at.column, Math.max(0, columnCount - 1));

  useEffect(() => {
    const target = wanted.current;
    if (!target) return;
    const cell = root.current?.querySelector<HTMLElement>(`[data-cell="${target.row},${target.column}"]`);
    if (!cell) return;
    wanted.current = undefined;
    cell.focus();
  });

  const set = useCallback((r: number, c: number) => {
    setAt((now) => (now.row === r && now.column === c ? now : { row: r, column: c }));
  }, []);
  function go(toRow: number, toColumn: number): void {
    const target = {
      row: Math.max(0, Math.min(rowCount - 1, toRow)),
      column: Math.max(0, Math.min(columnCount - 1, toColumn)),
    };
    wanted.current = target;
    setAt(target);
  }
  function onKey(event: KeyboardEvent): boolean {
    if (event.altKey || event.metaKey) return false;
    const moves: Record<string, readonly [number, number]> = {
      ArrowRight: [row, column + 1],
      ArrowLeft: [row, column - 1],
      ArrowDown: [row + 1, column],
      ArrowUp: [row - 1, column],
      Home: [event.ctrlKey ? 0 : row, 0],
      End: [event.ctrlKey ? rowCount - 1 : row, columnCount - 1],
      PageDown: [row, column + page],
      PageUp: [row, column - page],
    };
    const move = moves[event.key];
    if (!move) return false;
    event.preventDefault();
    go(move[0], move[1]);
    return true;
  }
  return {
    row,
    column,
    isAt: (r, c) => r === row && c === column,
    set,
    go,
    onKey,
  };
}
