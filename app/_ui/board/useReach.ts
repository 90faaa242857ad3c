import { startTransition, useEffect, useState } from "react";
import { grown, holds, joined, type Reach } from "./reach";
import { ZOOMS, type Zoom } from "./types";

/** So long nothing is drawn ahead after a scroll; then a step each time. */
const QUIET_MS = 250;
const STEP_MS = 20;

/**
 * What is drawn of a board: what is in view, and with `isAhead` while nobody scrolls step by step what lies around it,
 * so that a later scroll meets it ready. Another zoom begins anew.
 */
export function useReach(
  root: { current: HTMLElement | null },
  inView: Reach,
  dayCount: number,
  rowCount: number,
  zoom: Zoom,
  isAhead: boolean,
): Reach {
  const [ahead, setAhead] = useState<{ zoom: Zoom; reach: Reach }>();
  const known = isAhead && ahead?.zoom === zoom ? ahead.reach : undefined;
  const isReady = known !== undefined && holds(known, inView);
  const drawn = known ? joined(known, inView) : inView;
  const { fromDay, toDay, fromRow, toRow } = drawn;
  useEffect(() => {
    const element = root.current;
    const now = { fromDay, toDay, fromRow, toRow };
    const next = grown(now, dayCount, rowCount, ZOOMS[zoom].chunkDays);
    if (!element || !isAhead || next === now) return;
    const draw = (): void => startTransition(() => setAhead({ zoom, reach: next }));
    let timer = setTimeout(draw, isReady ? STEP_MS : QUIET_MS);
    const wait = (): void => {
      clearTimeout(timer);
      timer = setTimeout(draw, QUIET_MS);
    };
    element.addEventListener("scroll", wait, { passive: true });
    return () => {
      clearTimeout(timer);
      element.removeEventListener("scroll", wait);
    };
  }, [root, fromDay, toDay, fromRow, toRow, dayCount, rowCount, zoom, isAhead, isReady]);
  return drawn;
}
