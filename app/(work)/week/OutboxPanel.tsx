"use client";

import Link from "next/link";
import { useState } from "react";
import { isDoubt } from "@/app/_client/outbox/doubts";
import type { WaitingReport } from "@/app/_client/outbox/store";
import type { Outbox } from "@/app/_client/outbox/useOutbox";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { ProblemTable } from "@/app/_ui/ProblemTable";
import { reportFieldName } from "./reportFields";

const WORDS = {
  sending: "Sending now.",
  sent: "",
  "no signal":
    "There is no signal. What waits is kept on this phone and goes out by itself when this page is open with a signal.",
  "signed out": "Your session has ended. Sign in again: nothing is lost.",
  "server busy": "The server took nothing just now. It is tried again, or press Send now.",
} as const;

/** What waits on this phone; nothing when nothing does. */
export function OutboxPanel({ outbox }: { outbox: Outbox }) {
  const { t } = useWords();
  const { reports, state } = outbox;
  if (!reports || reports.length === 0) return null;
  const refused = reports.filter((r) => r.problems);
  const waiting = reports.filter((r) => !r.problems);
  return (
    <div className="mb-4 grid max-w-3xl gap-3">
      {waiting.length > 0 ? (
        <Notice
          kind={state === "signed out" ? "hold" : "info"}
          title={t("{{count}} reports wait on this phone", { count: waiting.length })}
          announce
          action={
            state === "signed out" ? (
              <Link href="/sign-in?next=%2Fweek">{t("Sign in")}</Link>
            ) : (
              <Button size="small" busy={state === "sending"} onClick={outbox.sendNow}>
                {t("Send now")}
              </Button>
            )
          }
        >
          {state && WORDS[state] ? t(WORDS[state]) : ""} {waiting.map((r) => r.label).join("; ")}.
        </Notice>
      ) : null}
      {refused.map((r) => (
        <Refused key={r.key} report={r} outbox={outbox} />
      ))}
    </div>
  );
}

function Refused({ report, outbox }: { report: WaitingReport; outbox: Outbox }) {
  const words = useWords();
  const { t } = words;
  const [asking, setAsking] = useState(false);
  const meanwhile = report.problems?.find((p) => p.rule === "reported-meanwhile");
  const isDoubtful = report.problems?.some(isDoubt) ?? false;
  const mayForce = meanwhile !== undefined || isDoubtful;
  return (
    <Notice
      kind="problem"
      title={
        meanwhile
          ? t("{{visit}} was reported by somebody else meanwhile", { visit: report.label })
          : isDoubtful
            ? t("Is the report of {{visit}} right?", { visit: report.label })
            : t("The server did not take the report of {{visit}}", { visit: report.label })
      }
    >
      {meanwhile ? (
        <>
          <p>{messageOf(meanwhile, words)}</p>
          <p>
            {t("Yours says: {{outcome}}, {{hours}} h. Send it anyway if it adds something, or discard it.", {
              outcome: t(String(report.report.outcome)),
              hours: formatNumber(Number(report.report.workedMin) / 60, 2, words.locale),
            })}
          </p>
        </>
      ) : (
        <>
          {isDoubtful ? (
            <ul className="grid gap-1">
              {report.problems?.map((p) => (
                <li key={`${p.path} ${p.message}`}>
                  {reportFieldName(p.path, report.report, t)}: {messageOf(p, words)}
                </li>
              ))}
            </ul>
          ) : (
            <ProblemTable
              problems={report.problems ?? []}
              nameOf={(path) => reportFieldName(path, report.report, t)}
            />
          )}
          <p>{t("Corrected in the visit's form and sent, the new report takes its place.")}</p>
        </>
      )}
      <p>
        <Link href={`/week/visit/${report.visitId}`}>{t("Open the visit")}</Link>
      </p>
      <div className="mt-2 flex flex-wrap gap-2">
        {mayForce ? (
          <Button size="small" onClick={() => void outbox.sendAnyway(report)}>
            {t("Send anyway")}
          </Button>
        ) : (
          <Button size="small" onClick={() => void outbox.sendAgain(report)}>
            {t("Send the same again")}
          </Button>
        )}
        <Button size="small" onClick={() => setAsking(true)}>
          {t("Discard")}
        </Button>
      </div>
      <Dialog
        open={asking}
        onClose={() => setAsking(false)}
        title={t("Discard this report?")}
        actions={
          <>
            <Button onClick={() => setAsking(false)}>{t("Keep it")}</Button>
            <Button kind="primary" onClick={() => void outbox.discard(report.key)}>
              {t("Discard")}
            </Button>
          </>
        }
      >
        <p>
          {report.label}: {t("it stands on this phone only and cannot be brought back.")}
        </p>
      </Dialog>
    </Notice>
  );
}
