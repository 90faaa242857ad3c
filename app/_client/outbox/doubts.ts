import type { Problem } from "@/lib/result";

const DOUBT_RULES: readonly string[] = ["hours-doubtful", "report-doubtful"];

/** Was a report refused because a person has to say that it is right (lib/programme/reportDoubts.ts)? */
export const isDoubt = ({ rule }: Pick<Problem, "rule">): boolean => DOUBT_RULES.includes(rule);

/** A kept report as it goes out once a person has said that what it was doubted for is right. */
export function sureOfDoubts(
  report: Readonly<Record<string, unknown>>,
  problems: readonly Problem[],
): Readonly<Record<string, unknown>> {
  const before = Array.isArray(report.sureOf) ? report.sureOf : [];
  return { ...report, sureOf: [...new Set([...before, ...problems.filter(isDoubt).map((p) => p.path)])] };
}
