import type { Words } from "@/app/_ui/language/words";
import type { ReportLine } from "./ReportForm";

/** Why nothing of a line is proposed as used. */
export const MISSING_WORDS = {
  "left behind": "The kit was issued without it",
  "lost since": "Lost after the kit was issued",
  "not on the vehicle": "The vehicle has none opened by the books",
} as const;

/** "28 lines, 1 more opened on the vehicle": as the kit's own page counts. */
export function linesWords(lines: readonly Pick<ReportLine, "isOpened">[], t: Words["t"]): string {
  const opened = lines.filter((l) => l.isOpened).length;
  const inBox = t("{{count}} lines", { count: lines.length - opened });
  return opened > 0 ? `${inBox}${t(", {{opened}} more opened on the vehicle", { opened })}` : inBox;
}

/** What counts as used when the list of a finished visit stays folded: what the plan says, or what a report said before. */
export function materialWords(
  lines: readonly Pick<ReportLine, "reported" | "isOpened">[],
  t: Words["t"],
): string {
  const said = { lines: linesWords(lines, t) };
  return lines.some((l) => l.reported)
    ? t("Material: as it was reported, {{lines}}. Open to change", said)
    : t("Material: counted as used as planned, {{lines}}. Open to change", said);
}
