"use client";

import { useCallback, useEffect, useState } from "react";
import type { ReportTaken } from "@/db/queries/visitReport";
import { forgetDraft } from "../useDraft";
import { isDoubt, sureOfDoubts } from "./doubts";
import { reportDraft, type SendState, sendWaiting } from "./send";
import { standsFor } from "./standsFor";
import { putReport, removeReport, type WaitingReport, waitingReports } from "./store";

export interface Outbox {
  /** Of this person, oldest first; undefined until they were read. */
  reports: readonly WaitingReport[] | undefined;
  state: SendState | "sending" | undefined;
  /** Answers of those that arrived since the page was opened, by key. */
  arrived: ReadonlyMap<string, ReportTaken>;
  /**
   * Keeps a report on the phone in place of those it stands for, then tries to send all that wait. Gives the key under
   * which it waits.
   * @param insteadOf the report that the same form sent before; over when it was refused
   */
  add: (report: WaitingReport, insteadOf?: string) => Promise<string>;
  sendNow: () => void;
  /** A refused report once more as it is. */
  sendAgain: (report: WaitingReport) => Promise<void>;
  /** The same without looking for others' reports: a person has looked. */
  sendAnyway: (report: WaitingReport) => Promise<void>;
  discard: (key: string) => Promise<void>;
}

/** Tells every part of the page, and every other page, that the outbox changed. */
const CHANNEL = "bothends reports";

/** Sends by itself when the page opens, when a signal comes back and when the page is looked at again. */
export function useOutbox(userId: string): Outbox {
  const [reports, setReports] = useState<readonly WaitingReport[]>();
  const [state, setState] = useState<Outbox["state"]>();
  const [arrived, setArrived] = useState<ReadonlyMap<string, ReportTaken>>(new Map());

  const read = useCallback(async () => {
    setReports((await waitingReports()).filter((r) => r.userId === userId));
  }, [userId]);

  const changed = useCallback(async () => {
    await read();
    const channel = new BroadcastChannel(CHANNEL);
    channel.postMessage("changed");
    channel.close();
  }, [read]);

  const send = useCallback(async () => {
    const own = (await waitingReports()).filter((r) => r.userId === userId && !r.problems);
    if (own.length === 0) return;
    setState("sending");
    const round = await sendWaiting(userId);
    setState(round.state);
    if (round.arrived.size > 0) setArrived((before) => new Map([...before, ...round.arrived]));
    await changed();
  }, [userId, changed]);

  useEffect(() => {
    const trySend = () => void send();
    const whenSeen = () => {
      if (document.visibilityState === "visible") trySend();
    };
    const channel = new BroadcastChannel(CHANNEL);
    channel.onmessage = () => void read();
    void read().then(trySend);
    window.addEventListener("online", trySend);
    document.addEventListener("visibilitychange", whenSeen);
    return () => {
      channel.close();
      window.removeEventListener("online", trySend);
      document.removeEventListener("visibilitychange", whenSeen);
    };
  }, [read, send]);

  const sendAgain = async ({ problems: _, ...report }: WaitingReport): Promise<void> => {
    await putReport(report);
    await send();
  };

  return {
    reports,
    state,
    arrived,
    add: async (report, insteadOf) => {
      const { key, replaced } = standsFor(report, await waitingReports(), insteadOf);
      if (key === report.key) await putReport(report);
      for (const other of replaced) await removeReport(other);
      await changed();
      await send();
      return key;
    },
    sendNow: () => void send(),
    sendAgain,
    sendAnyway: ({ problems = [], ...report }) => {
      const { lastSeenReportId: _, ...body } = report.report;
      // Each question is answered by itself: who is sure of a figure has not seen what others reported meanwhile.
      return sendAgain({
        ...report,
        report: problems.some(isDoubt) ? sureOfDoubts(report.report, problems) : body,
      });
    },
    discard: async (key) => {
      const discarded = reports?.find((r) => r.key === key);
      if (discarded) forgetDraft(reportDraft(userId, discarded.visitId));
      await removeReport(key);
      await changed();
    },
  };
}
