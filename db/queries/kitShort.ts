/** What a line of a kit lacks: by what is in the box where somebody has picked, by the plan before that. */
import type { KitState } from "./kitRows";

/** 1 for a line of the box: something of it must be in there, or is (SQL, kit_line l). The others ride opened on the vehicle. */
export const IS_WANTED = "(l.box_c > 0 OR l.picked_c > 0)";

/** 1 for a line that is wholly picked: of a run any length, for it is one piece (SQL, kit_line l). */
export const IS_WHOLE = "(l.picked_c >= CASE WHEN l.run_id IS NOT NULL THEN 1 ELSE l.box_c END)";

/** 1 for a short line of kit k: issued without all of it, or not picked yet and not covered on the pick day (SQL). */
export const IS_SHORT = `(NOT ${IS_WHOLE} AND (k.state = 'issued' OR l.short_c > 0))`;

export interface LineState {
  boxC: number;
  pickedC: number;
  shortC: number;
  runId: string | null;
}

/** Nothing of it goes into the box: the vehicle has enough of it opened. Counted apart from the lines of the box everywhere. */
export const ridesOpened = ({ boxC, pickedC }: Pick<LineState, "boxC" | "pickedC">): boolean =>
  boxC === 0 && pickedC === 0;

export function isWhole(line: LineState): boolean {
  return line.runId ? line.pickedC > 0 : line.pickedC >= line.boxC;
}

/** How much is short: of an issued kit what the box lacked, else what stock does not cover on the pick day; 0 = nothing. */
export function lineShortC(line: LineState, state: KitState): number {
  if (isWhole(line)) return 0;
  if (state !== "issued") return line.shortC;
  return line.runId ? line.boxC : line.boxC - line.pickedC;
}
