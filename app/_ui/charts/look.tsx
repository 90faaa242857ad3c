import { type CalendarDate, fromDayNumber } from "@/lib/time";
import { formatDate } from "../format";

/** Colours of series. Lines differ by dash as well, areas by pattern, points by shape. */
export const INK = {
  done: "var(--petrol)",
  planned: "var(--ink)",
  promise: "var(--ochre)",
  band: "var(--steel)",
  limit: "var(--brick)",
  good: "var(--moss)",
  quiet: "var(--quiet)",
  hold: "var(--plum)",
} as const;

const TICK = { fill: "var(--quiet)", fontSize: 12 } as const;

/** What all axes share. Spread it first, then say what differs. */
export const AXIS = {
  tick: TICK,
  tickLine: false,
  axisLine: { stroke: "var(--edge)" },
  minTickGap: 24,
} as const;

export const GRID = { stroke: "var(--line)", vertical: false } as const;

export const MARGIN = { top: 12, right: 16, bottom: 4, left: 0 } as const;

const HALO = { stroke: "var(--surface)", strokeWidth: 4, paintOrder: "stroke" } as const;

/** Label of a reference line, with a halo of the ground so that lines behind it do not cross the words. */
export function markLabel(
  value: string,
  fill: string,
  position:
    | "insideTopLeft"
    | "insideTopRight"
    | "insideBottomRight"
    | "insideBottomLeft"
    | "top" = "insideTopLeft",
) {
  return { value, position, fill, fontSize: 12, fontWeight: 600, ...HALO } as const;
}

/** Tooltip in our dress; the figures in it come formatted with their units. */
export const TIP = {
  contentStyle: {
    background: "var(--raised)",
    border: "1px solid var(--edge)",
    borderRadius: 3,
    color: "var(--ink)",
    fontSize: 13,
    padding: "0.5rem 0.75rem",
  },
  itemStyle: { color: "var(--ink)", padding: 0 },
  labelStyle: { fontWeight: 700, marginBottom: 4 },
  cursor: { stroke: "var(--edge)", strokeDasharray: "2 3" },
  isAnimationActive: false,
} as const;

/** A day number on an axis: short; in the tooltip: in full. */
export const dayTick = (day: number, locale: string): string => formatDate(fromDayNumber(day), "day", locale);
export const dayLabel = (day: unknown, locale: string): string =>
  typeof day === "number"
    ? formatDate(fromDayNumber(day) as CalendarDate, "full", locale)
    : String(day ?? "");
