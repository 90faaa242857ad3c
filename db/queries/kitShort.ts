/** What a line of a kit lacks: by what is in the box where somebody has picked, by the plan before that. */
import type { KitState } from "./kitRows";

/** 1 for a line of the box: something of it must be in there, or is (SQL, kit_line l). The others ride opened on the vehicle. */
export const IS_WANTED = "(l.box_c > 0 OR l.picked_c > 0)";

/** 1 for a line that is wholly picked: of a run any length, for it is one piece (SQL, kit_line l). */
export const IS_WHOLE = "(l.picked_c >= CASE WHEN l.run_id IS NOT NULL THEN 1 ELSE l.box_c END)";

/** 1 for a row whose visit was reported done last (SQL). @param row alias of what has a visit_id */
const isDone = (row: string): string =>
  `COALESCE((SELECT r.outcome FROM visit_report r WHERE r.visit_id = ${row}.visit_id AND r.lifted_at IS NULL
             ORDER BY r.id DESC LIMIT 1) = 'done', 0)`;

/** 1 for a kit k whose visit is done (SQL). */
export const IS_DONE = isDone("k");

/**
 * 1 for a kit that by the books did not leave although its visit is done (SQL): it stays so that what left can be booked,
 * and claims nothing but what lies in its box. @param kit its alias
 */
export const neverIssued = (kit: string): string => `(${kit}.state <> 'issued' AND ${isDone(kit)})`;

/**
 * 1 for a short line of kit k: issued without all of it, or not picked yet and not covered on the pick day. Of a visit that
 * is done nothing is short any more: its report says what it used (SQL).
 */
export const IS_SHORT = `(NOT ${IS_WHOLE} AND (k.state = 'issued' OR l.short_c > 0) AND NOT ${IS_DONE})`;

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

/**
 * How much is short: of an issued kit what the box lacked, else what stock does not cover on the pick day; 0 = nothing, as
 * of a visit that is done.
 */
export function lineShortC(line: LineState, { state, isDone }: { state: KitState; isDone: boolean }): number {
  if (isDone || isWhole(line)) return 0;
  if (state !== "issued") return line.shortC;
  return line.runId ? line.boxC : line.boxC - line.pickedC;
}

/** Is something short that the kit left without? What was lost or put on hold after it left has a reason of its own. */
export const isShortSinceIssue = (
  lines: readonly { lacksC: number; lostC: number; lostRun: unknown }[],
): boolean => lines.some((l) => !l.lostRun && l.lacksC > l.lostC);
