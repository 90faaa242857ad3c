import { visitsBetween } from "./geometry";
import type { BoardVisit, PickHow } from "./types";

export interface PickScene {
  visits: readonly BoardVisit[];
  /** In the order of the board's rows. */
  crewIds: readonly string[];
  picked: ReadonlySet<string>;
  /** The visit that one looks at. */
  shownId?: string;
  /** The one picked last: a range begins there. */
  anchorId?: string;
}

/**
 * The visits that are picked after one more. With a key held down the visit that one looks at is the first of those
 * one goes on to pick; where a press alone picks, only what was pressed counts: nothing is to move along unasked.
 */
export function pickedWith(scene: PickScene, id: string, how: PickHow): ReadonlySet<string> {
  const { visits, crewIds, picked, shownId, anchorId } = scene;
  const next = new Set(picked.size === 0 && shownId && how !== "press" ? [shownId] : picked);
  const find = (wanted: string): BoardVisit | undefined => visits.find((visit) => visit.id === wanted);
  const first = find(anchorId ?? shownId ?? id);
  const last = find(id);
  if (how === "range" && first && last) {
    for (const one of visitsBetween(visits, crewIds, first, last)) next.add(one);
  } else if (next.has(id)) next.delete(id);
  else next.add(id);
  return next;
}
