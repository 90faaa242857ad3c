import type { ReactNode } from "react";
import { readBack } from "@/lib/phrase";
import { LINE_REASONS, NEXT_REASON } from "@/lib/takeoff";
import { English } from "./English";
import { OWN_LANGUAGE } from "./languages";
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

function oneReason(reason: string, { language, say }: Words): ReactNode {
  if (language === OWN_LANGUAGE) return reason;
  const read = readBack(reason, LINE_REASONS);
  return LINE_REASONS.includes(read.text) ? say(read) : <English>{reason}</English>;
}
