/** From gates to the first day on which work at an end may start, or the gate that stops it. */
import type { EndSide, Gate } from "@/lib/site";
import { type CalendarDate, daysBetween } from "@/lib/time";

export interface Release {
  /** Day index from `today`, 0 = today; work may start on it. */
  releaseDay: number;
  /** Set when an open gate has no date. */
  blockedBy?: string;
}

/** A dated gate that is overdue counts as expected today: the board names it, the date is not believed twice. */
export function releaseOf(gates: readonly Gate[], side: EndSide, today: CalendarDate): Release {
  let releaseDay = 0;
  for (const gate of gates) {
    if (gate.side !== undefined && gate.side !== side) continue;
    if (gate.state === "open") {
      return { releaseDay: 0, blockedBy: openGateWords(gate) };
    }
    if (gate.state === "dated" && gate.dueOn) {
      releaseDay = Math.max(releaseDay, daysBetween(today, gate.dueOn));
    }
  }
  return { releaseDay };
}

/** The gates of an end that are not met yet, those without a date first, then the latest date first. */
export const unmetGates = (gates: readonly Gate[], sides: readonly EndSide[]): Gate[] =>
  gates
    .filter((g) => g.state !== "met" && (g.side === undefined || sides.includes(g.side)))
    .sort((a, b) => (b.dueOn ?? "9999").localeCompare(a.dueOn ?? "9999") || a.kind.localeCompare(b.kind));

/** How the reason begins by which an open gate is told from one that is dated too late for the plan. */
export const OPEN_GATE = "open gate: ";

/** One of the sentences of lib/schedule/reasons.ts. */
export const openGateWords = (g: Pick<Gate, "kind" | "owner">): string =>
  `${OPEN_GATE}${g.kind} (${g.owner}), no date`;
