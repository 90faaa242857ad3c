import type { Model } from "../model";

/** "Shift": out and back within the shift and the overtime allowed. */
export const SHIFT = {
  name: "shift",
  full: () => "the crews' days are full of other work",
  text: () => "travel, set-up and work do not fit in the shift and its overtime",
};

/**
 * When a crew sets out from `place` on a day off that has work all the same (leave recorded after the plan was made,
 * a visit held there by hand): so that its first visit starts at `startMin`, set up. Minute of the day. There is no
 * shift on such a day: all of it, from here on, is overtime.
 */
export const outsetMin = (m: Model, firstVisit: number, startMin: number, place: number): number =>
  startMin - m.setupMin[firstVisit]! - m.travelMin[place * m.placeCount + m.place[firstVisit]!]!;
