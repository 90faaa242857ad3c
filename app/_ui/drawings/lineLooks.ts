/** How the line of a hop is drawn in each state, on every map. */
import type { StateName } from "../states";

export interface LineLook {
  colour: string;
  dash?: string;
  width: number;
}

/** Every state has a line of its own: dash and weight tell it without colour. */
export const LINES: Readonly<Partial<Record<StateName, LineLook>>> = {
  done: { colour: "var(--moss)", width: 2.5 },
  pass: { colour: "var(--moss)", width: 2.5 },
  met: { colour: "var(--moss)", width: 2.5 },
  planned: { colour: "var(--petrol)", dash: "9 5", width: 2.5 },
  "under way": { colour: "var(--petrol)", dash: "16 3", width: 4 },
  dated: { colour: "var(--steel)", dash: "9 3 2 3", width: 2.5 },
  open: { colour: "var(--ochre)", dash: "3 3", width: 2.5 },
  warn: { colour: "var(--ochre)", dash: "5 2", width: 3 },
  unplaced: { colour: "var(--ochre)", dash: "2 6", width: 3 },
  late: { colour: "var(--brick)", width: 4.5 },
  fail: { colour: "var(--brick)", dash: "3 2", width: 4.5 },
  short: { colour: "var(--brick)", dash: "10 3 3 3", width: 3.5 },
  hold: { colour: "var(--plum)", dash: "1 5", width: 3 },
};
export const PLAIN_LINE: LineLook = { colour: "var(--edge)", width: 1.5 };
