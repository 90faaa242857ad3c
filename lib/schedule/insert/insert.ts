/** Puts a visit, or both ends of joint work, at the cheapest place. */
import type { PlanEdit } from "../edit";
import { hopGuide } from "../hopTerms";
import type { Blink } from "./blink";
import { findJointSpot } from "./joint";
import { findSpot } from "./single";
import { Spot } from "./spot";

const spot = new Spot();

/** The visit that stands for a pair: the lower index; a visit without a partner stands for itself. */
export function leadOf(partner: Int32Array, v: number): number {
  const other = partner[v]!;
  return other >= 0 && other < v ? other : v;
}

/** @returns whether it was placed */
export function insertCheapest(edit: PlanEdit, v: number, blink: Blink): boolean {
  const { model: m, state: s } = edit;
  const b = m.partner[v]!;
  if (b < 0) {
    findSpot(edit, v, blink, spot);
    return placeAt(edit, v, spot);
  }
  if (s.crewOf[v]! >= 0 || s.crewOf[b]! >= 0) return false; // its other end is kept apart from it
  findJointSpot(edit, v, blink, spot);
  return placeAt(edit, v, spot);
}

/** Places `v`, and its partner, at a spot found for it. */
export function placeAt(edit: PlanEdit, v: number, at: Spot): boolean {
  const { model: m, state: s } = edit;
  if (at.crew < 0) return false;
  const b = m.partner[v]!;
  const now = hopGuide(m, s, m.hop[v]!, -1, 0, 0);
  const joint = b >= 0;
  if (
    edit.trial(v, at.crew, at.day, at.after, joint ? at.atMin : -1, joint ? at.untilMin : -1, now) ===
    Number.POSITIVE_INFINITY
  )
    return false;
  edit.place();
  if (!joint) return true;
  // The first end may have pushed work on a site that the second crew passes: try it on the plan as it is now.
  if (
    edit.trial(b, at.otherCrew, at.day, at.otherAfter, at.atMin, at.untilMin, now) ===
    Number.POSITIVE_INFINITY
  ) {
    edit.remove(v);
    return false;
  }
  edit.place();
  return true;
}
