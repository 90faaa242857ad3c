import { formatNumber, formatShare } from "@/app/_ui/format";
import type { Words } from "@/app/_ui/language/words";
import type { Errors, Proposal, ProposalLevel } from "@/lib/calibration";

export const LEVEL_WORDS: Readonly<Record<ProposalLevel, string>> = {
  work: "All crews",
  crew: "Crew",
  "crew and scheme": "Crew with scheme",
  part: "Task",
  range: "Range",
};

/** What a proposal speaks of; `partName` turns a part's key into its name. */
export function subjectOf(
  { level, key }: Pick<Proposal, "level" | "key">,
  partName: (part: string) => string,
  { t, task }: Words,
): string {
  switch (level) {
    case "work":
      return key === "install" ? t("Installs, all crews") : t("Alignments, all crews");
    case "crew":
      return t("Crew {{crew}}, all its work", { crew: key });
    case "crew and scheme": {
      const [crew = "", scheme = ""] = key.split("|");
      return t("Crew {{crew}}, {{scheme}}", { crew, scheme: t(scheme) });
    }
    case "part":
      return task(partName(key));
    case "range":
      return t("Spread of a single visit (P10 to P90)");
  }
}

/** A factor as people say it, e.g. `× 1.12`; the range as a spread. */
export function figureOf(level: ProposalLevel, value: number, { t, locale }: Words): string {
  if (level !== "range") return `\u00d7 ${formatNumber(value, 2, locale, true)}`;
  return value === 0 ? t("the tasks' own") : `\u00b1 ${formatShare(value, 0, locale)}`;
}

export const percent = (share: number | undefined, locale: string): string => formatShare(share, 0, locale);

/** Bias in words: which way the estimates miss. */
export function biasWords({ bias }: Errors, { t, locale }: Words): string {
  const size = formatShare(Math.abs(bias), 0, locale);
  if (Math.abs(bias) < 0.005) return t("neither too short nor too long");
  return bias < 0 ? t("{{size}} too short", { size }) : t("{{size}} too long", { size });
}
