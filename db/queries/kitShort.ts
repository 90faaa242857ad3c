/** What a line of a kit lacks: by what is in the box where somebody has picked, by the plan before that. */
import type { KitState } from "./kitRows";

/** What must be picked for a line to be whole: the box quantity; of a run any length, for it is one piece (SQL, kit_line l, item i). */
const WHOLE_C = `CASE WHEN l.run_id IS NOT NULL THEN 1 WHEN i.unit = 'm' THEN l.needed_c
  ELSE (l.needed_c + 99) / 100 * 100 END`;

/** 1 for a line that is wholly picked (SQL). */
export const IS_WHOLE = `(l.picked_c >= ${WHOLE_C})`;

/** 1 for a short line of kit k: issued without all of it, or not picked yet and not covered on the pick day (SQL). */
export const IS_SHORT = `(NOT ${IS_WHOLE} AND (k.state = 'issued' OR l.short_c > 0))`;

/** What goes into the box for an exact need: nobody picks 0.4 of a roll; metres are cut to length. */
export function boxQuantityC(neededC: number, unit: string): number {
  return unit === "m" ? neededC : Math.ceil(neededC / 100) * 100;
}

export interface LineState {
  neededC: number;
  pickedC: number;
  shortC: number;
  runId: string | null;
}

export function isWhole(line: LineState, unit: string): boolean {
  return line.runId ? line.pickedC > 0 : line.pickedC >= boxQuantityC(line.neededC, unit);
}

/** How much is short: of an issued kit what the box lacked, else what stock does not cover on the pick day; 0 = nothing. */
export function lineShortC(line: LineState, unit: string, state: KitState): number {
  if (isWhole(line, unit)) return 0;
  if (state !== "issued") return line.shortC;
  return line.runId ? line.neededC : boxQuantityC(line.neededC, unit) - line.pickedC;
}
