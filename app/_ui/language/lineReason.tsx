import type { ReactNode } from "react";
import { readBack } from "@/lib/phrase";
import { LINE_REASONS } from "@/lib/takeoff";
import { English } from "./English";
import { OWN_LANGUAGE } from "./languages";
import type { Words } from "./words";

/** Why a line of the take-off has its quantity, in the reader's language; what cannot be read back stays English. */
export function lineReason(reason: string, { language, say }: Words): ReactNode {
  if (language === OWN_LANGUAGE) return reason;
  const read = readBack(reason, LINE_REASONS);
  return LINE_REASONS.includes(read.text) ? say(read) : <English>{reason}</English>;
}
