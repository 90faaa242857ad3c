import { formatAmount, formatCm, formatDate } from "@/app/_ui/format";
import type { KitLineView } from "@/db/queries/kits";

/** Where the run of a line comes from: its drum, the marks, and whether it must come over from another warehouse. */
export function runWords(l: KitLineView): string {
  if (l.cut)
    return `Cut from ${l.cut.drumSerial} on ${formatDate(l.cut.effectiveOn, "day")}. Run ${l.runId}.`;
  if (!l.drumSerial) return `No drum on hand gives it yet. Run ${l.runId}.`;
  const marks = l.marks ? `, marks ${formatCm(l.marks.fromCm)} to ${formatCm(l.marks.toCm)}` : "";
  const over = l.drumPlace ? ` It is cut at ${l.drumPlace}; the coil comes over.` : "";
  return `Drum ${l.drumSerial}${l.drumPlace ? ` at ${l.drumPlace}` : ""}${marks}. Run ${l.runId}.${over}`;
}

/** "Transfer by Tue 17 Mar: 4 pieces from WH-WEST, here on Wed 18 Mar (proposed)"; undefined when none comes. */
export function transferWords(l: KitLineView): string | undefined {
  const next = l.transfers[0];
  if (!next) return undefined;
  return `Transfer by ${formatDate(next.sendOn, "weekday")}: ${formatAmount(next.quantity, l.unit)} from ${next.fromPlace}, here on ${formatDate(next.arriveOn, "weekday")} (${next.state})`;
}
