import type { Words } from "@/app/_ui/language/words";
import type { ReportLine } from "./ReportForm";

/** What counts as used when the list of a finished visit stays folded: what the plan says, or what a report said before. */
export function materialWords(lines: readonly Pick<ReportLine, "reported">[], t: Words["t"]): string {
  return lines.some((l) => l.reported)
    ? t("Material: as it was reported, {{lines}} lines. Open to change", { lines: lines.length })
    : t("Material: counted as used as planned, {{lines}} lines. Open to change", { lines: lines.length });
}
