import type { Problem, Result } from "@/lib/result";
import { putReport, removeReport, type WaitingReport, waitingReports } from "./store";

/** How sending went: what it left behind says the rest. */
export type SendState = "sent" | "no signal" | "signed out" | "server busy";

export interface SendRound {
  state: SendState;
  /** Answers of those that arrived, by key. */
  arrived: Map<string, unknown>;
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
  const arrived = new Map<string, unknown>();
  const own = (await waitingReports()).filter((r) => r.userId === userId && !r.problems);
  for (const waiting of own) {
    const answer = await sendOne(waiting);
    if (typeof answer === "string") return { state: answer, arrived };
    if (answer.ok) {
      await removeReport(waiting.key);
      arrived.set(waiting.key, answer.value);
    } else {
      await putReport({ ...waiting, problems: answer.problems });
    }
  }
  return { state: "sent", arrived };
}

async function sendOne(waiting: WaitingReport): Promise<Result<unknown> | Exclude<SendState, "sent">> {
  let response: Response;
  try {
    response = await fetch("/api/reports", {
      method: "POST",
      headers: { "content-type": "application/json", "idempotency-key": waiting.key },
      body: JSON.stringify(waiting.report),
    });
  } catch {
    return "no signal";
  }
  if (response.status === 401) return "signed out";
  if (response.status === 429 || response.status >= 500) return "server busy";
  try {
    const body = (await response.json()) as { ok: boolean; value?: unknown; problems?: Problem[] };
    return body.ok ? { ok: true, value: body.value } : { ok: false, problems: body.problems ?? [] };
  } catch {
    return "server busy"; // the answer broke off: it is not known whether it arrived
  }
}
