import { startTransition, useEffect, useState } from "react";
import { areApart, grown, type Reach } from "./reach";
import { ZOOMS, type Zoom } from "./types";

/** So long nothing is drawn ahead after a scroll; then a step each time. */
const QUIET_MS = 250;
const STEP_MS = 20;

/**
 * What of a board is drawn ahead: with `isOn`, while nobody scrolls, step by step what lies around the view, so that a
 * later scroll meets it ready. It stays while a scroll goes beyond it; after a jump, and at another zoom, it begins anew.
 */
export function useReach(
  root: { current: HTMLElement | null },
  inView: Reach,
  dayCount: number,
  rowCount: number,
  zoom: Zoom,
  isOn: boolean,
): Reach | undefined {
  const [ahead, setAhead] = useState<{ zoom: Zoom; reach: Reach }>();
  const known = isOn && ahead?.zoom === zoom ? ahead.reach : undefined;
  const isReady = known !== undefined && !areApart(known, inView);
  const { fromDay, toDay, fromRow, toRow } = isReady ? known : inView;
  useEffect(() => {
    const element = root.current;
    const now = { fromDay, toDay, fromRow, toRow };
    const next = grown(now, dayCount, rowCount, ZOOMS[zoom].chunkDays);
    if (!element || !isOn || next === now) return;
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
  }, [root, fromDay, toDay, fromRow, toRow, dayCount, rowCount, zoom, isOn, isReady]);
  return known;
}
