import type { WaitingReport } from "./store";

/** What becomes of the reports that wait when the same phone writes another one. */
export interface Kept {
  /** The key under which the new report waits: that of the one that waits already when it says the same. */
  key: string;
  /** Keys of those that the new one stands for: they leave the phone. */
  replaced: string[];
}

const said = ({ report: { lastSeenReportId: _, ...body } }: WaitingReport) => JSON.stringify(body);

/**
 * A second press on "Send report" without a signal says the same once more: the first keeps waiting. A visit is done
 * once, so a later "done" stands for the one that waits, unless it comes on top. A refused report is over when its day is reported again, or
 * when the form that wrote it (`insteadOf`) sends it corrected. All else is another piece of work and waits besides.
 */
export function standsFor(
  next: WaitingReport,
  waiting: readonly WaitingReport[],
  insteadOf: string | undefined,
): Kept {
  const own = waiting.filter((r) => r.userId === next.userId && r.visitId === next.visitId);
  const same = own.find((r) => !r.problems && said(r) === said(next));
  const replaced = own.filter((r) =>
    r.problems
      ? r.key === insteadOf || r.report.workedOn === next.report.workedOn
      : r !== same &&
        r.report.outcome === "done" &&
        next.report.outcome === "done" &&
        next.report.isOnTop !== true,
  );
  return { key: same?.key ?? next.key, replaced: replaced.map((r) => r.key) };
}
