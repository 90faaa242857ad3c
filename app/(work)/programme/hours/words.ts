import { formatNumber } from "@/app/_ui/format";
import { type Errors, FARTHEST_RATIO, type Proposal, type ProposalLevel } from "@/lib/calibration";

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
): string {
  switch (level) {
    case "work":
      return key === "install" ? "Installs, all crews" : "Alignments, all crews";
    case "crew":
      return `Crew ${key}, all its work`;
    case "crew and scheme":
      return `Crew ${key.replace("|", ", ")}`;
    case "part":
      return partName(key);
    case "range":
      return "Spread of a single visit (P10 to P90)";
  }
}

/** A factor as people say it, e.g. `× 1.12`; the range as a spread. */
export function figureOf(level: ProposalLevel, value: number): string {
  if (level !== "range") return `\u00d7 ${formatNumber(value, 2, undefined, true)}`;
  return value === 0 ? "the tasks' own" : `\u00b1 ${formatNumber(value * 100, 0)} %`;
}

export const percent = (share: number | undefined): string =>
  share === undefined ? "\u2013" : `${formatNumber(share * 100, 0)} %`;

/** Bias in words: which way the estimates miss. */
export function biasWords({ bias }: Errors): string {
  const size = formatNumber(Math.abs(bias) * 100, 0);
  if (size === "0") return "neither too short nor too long";
  return `${size} % too ${bias < 0 ? "short" : "long"}`;
}

export const LEFT_OUT_WORDS = `more than ${FARTHEST_RATIO} times off the estimate: taken for an error of entry`;
