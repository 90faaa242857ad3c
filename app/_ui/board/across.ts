"use client";

import { startTransition, useEffect, useReducer, useRef } from "react";
import { CHUNK_DAYS } from "./geometry";

/** Rows whose weeks come and go at the same place of the scroll: so many rows share the work of a week's width. */
export const PHASES = 8;
/** What is drawn ahead of the view besides a week: a row that comes a few frames late is still in time. */
const AHEAD_PX = 120;

/** How far the board is scrolled across, for those who draw by it: the board itself is not drawn anew. */
export class AcrossView {
  left = 0;
  width = 1200;
  readonly #listeners = new Set<() => void>();

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  moveTo(left: number, width: number): void {
    if (left === this.left && width === this.width) return;
    this.left = left;
    this.width = width;
    for (const listener of this.#listeners) listener();
  }
}

/**
 * Days [from, to) to draw, whole weeks. Each phase begins a week at another place of the scroll, so that in one frame
 * only some rows have a week to mount: all of them at once took longer than a frame.
 *
 * @param phase 0 to PHASES - 1
 */
export function daysDrawn(
  { left, width }: { left: number; width: number },
  dayPx: number,
  dayCount: number,
  phase: number,
): { from: number; to: number } {
  const weekPx = CHUNK_DAYS * dayPx;
  const shiftPx = (phase / PHASES) * weekPx;
  const first = Math.floor((left - AHEAD_PX - weekPx + shiftPx) / weekPx);
  const last = Math.ceil((left + width + AHEAD_PX + shiftPx) / weekPx);
  const lastWeek = Math.floor((dayCount - 1) / CHUNK_DAYS);
  const from = Math.max(0, Math.min(first, lastWeek) * CHUNK_DAYS);
  return { from, to: Math.max(from, Math.min(dayCount, last * CHUNK_DAYS)) };
}

/** The days to draw now; another range draws the caller anew, in a short turn between frames. */
export function useDaysDrawn(
  view: AcrossView,
  dayPx: number,
  dayCount: number,
  phase: number,
): { from: number; to: number } {
  const [, redraw] = useReducer((n: number) => n + 1, 0);
  const range = daysDrawn(view, dayPx, dayCount, phase);
  const drawn = useRef(range);
  useEffect(() => {
    drawn.current = range;
  });
  useEffect(() => {
    const look = (): void => {
      const next = daysDrawn(view, dayPx, dayCount, phase);
      if (next.from !== drawn.current.from || next.to !== drawn.current.to) startTransition(redraw);
    };
    // The board may have been measured between this render and now.
    look();
    return view.subscribe(look);
  }, [view, dayPx, dayCount, phase]);
  return range;
}
