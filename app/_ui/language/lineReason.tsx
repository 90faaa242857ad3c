import type { ReactNode } from "react";
import { LINE_REASONS, NEXT_REASON } from "@/lib/takeoff";
import { keptText } from "./keptText";
import type { Words } from "./words";

/**
 * Why a line of the take-off or a kit has its quantity, in the reader's language; what cannot be read back stays
 * English. Several rules that ask for one item have each its own line.
 */
export function lineReason(reason: string, words: Words): ReactNode {
  const parts = reason.split(NEXT_REASON);
  if (parts.length === 1) return oneReason(reason, words);
  return parts.map((part, i) => (
    // biome-ignore lint/suspicious/noArrayIndexKey: two rules may give the very same reason
    <span key={i} className="block">
      {oneReason(part, words)}
    </span>
  ));
}

const oneReason = (reason: string, words: Words): ReactNode => keptText(reason, LINE_REASONS, words);
