import type { ReportTaken } from "@/db/queries/visitReport";
import type { Problem, Result } from "@/lib/result";
import { forgetDraft } from "../useDraft";
import { putReport, removeReport, type WaitingReport, waitingReports } from "./store";

/** What is typed into a visit's report is kept under this name until the report has arrived. */
export const reportDraft = (userId: string, visitId: string): string => `report ${userId} ${visitId}`;

/** How sending went: what it left behind says the rest. */
export type SendState = "sent" | "no signal" | "signed out" | "server busy";

export interface SendRound {
  state: SendState;
  /** Answers of those that arrived, by key. */
  arrived: Map<string, ReportTaken>;
}

/**
 * Sends what waits of this person, oldest first, and stops at the first that does not get through: the rest keeps its
 * order. What arrived is taken off the phone after the server's answer, never before.
 */
export async function sendWaiting(userId: string): Promise<SendRound> {
  // Two open pages take turns; without locks both may send, which counts once all the same.
  return navigator.locks
    ? navigator.locks.request("bothends reports", () => sendInTurn(userId))
    : sendInTurn(userId);
}

async function sendInTurn(userId: string): Promise<SendRound> {
  const arrived = new Map<string, ReportTaken>();
  const ownWaiting = async () => (await waitingReports()).filter((r) => r.userId === userId && !r.problems);
  // Read anew each time: what arrives changes what is known of the rest.
  for (let own = await ownWaiting(); own[0]; own = await ownWaiting()) {
    const [waiting, ...rest] = own;
    const answer = await sendOne(waiting);
    if (typeof answer === "string") return { state: answer, arrived };
    if (answer.ok) {
      await removeReport(waiting.key);
      forgetDraft(reportDraft(userId, waiting.visitId));
      arrived.set(waiting.key, answer.value);
      for (const later of rest) await putReport(knowing(later, waiting.visitId, answer.value.reportId));
    } else {
      await putReport({ ...waiting, problems: answer.problems });
    }
  }
  return { state: "sent", arrived };
}

/** Who wrote two reports of one visit on this phone knew of the first when writing the second. */
function knowing(later: WaitingReport, visitId: string, reportId: number): WaitingReport {
  const seen = later.report.lastSeenReportId;
  return later.visitId === visitId && typeof seen === "number" && seen < reportId
    ? { ...later, report: { ...later.report, lastSeenReportId: reportId } }
    : later;
}

async function sendOne(waiting: WaitingReport): Promise<Result<ReportTaken> | Exclude<SendState, "sent">> {
  let response: Response;
  try {
    response = await fetch("/api/reports", {
      method: "POST",
      headers: { "content-type": "application/json", "idempotency-key": waiting.key },
      body: JSON.stringify({ ...waiting.report, writtenAtMillis: waiting.writtenAtMillis }),
    });
  } catch {
    return "no signal";
  }
  if (response.status === 401) return "signed out";
  if (response.status === 429 || response.status >= 500) return "server busy";
  try {
    const body = (await response.json()) as { ok: boolean; value?: ReportTaken; problems?: Problem[] };
    return body.ok && body.value
      ? { ok: true, value: body.value }
      : { ok: false, problems: body.problems ?? [] };
  } catch {
    return "server busy"; // the answer broke off: it is not known whether it arrived
  }
}
