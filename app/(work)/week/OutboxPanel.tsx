"use client";

import Link from "next/link";
import { useState } from "react";
import type { WaitingReport } from "@/app/_client/outbox/store";
import type { Outbox } from "@/app/_client/outbox/useOutbox";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { formatCount } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import { ProblemList } from "@/app/_ui/ProblemList";

const WORDS = {
  sending: "Sending now.",
  sent: "",
  "no signal":
    "There is no signal. They are kept on this phone and go out by themselves when this page is open with a signal.",
  "signed out": "Your session has ended. Sign in again: nothing is lost.",
  "server busy": "The server did not take them just now. They are tried again, or press Send now.",
} as const;

/** What waits on this phone; nothing when nothing does. */
export function OutboxPanel({ outbox }: { outbox: Outbox }) {
  const { reports, state } = outbox;
  if (!reports || reports.length === 0) return null;
  const refused = reports.filter((r) => r.problems);
  const waiting = reports.filter((r) => !r.problems);
  return (
    <div className="mb-4 grid max-w-3xl gap-3">
      {waiting.length > 0 ? (
        <Notice
          kind={state === "signed out" ? "hold" : "info"}
          title={`${formatCount(waiting.length, "report")} ${waiting.length === 1 ? "waits" : "wait"} on this phone`}
          announce
          action={
            state === "signed out" ? (
              <Link href="/sign-in?next=%2Fweek">Sign in</Link>
            ) : (
              <Button size="small" busy={state === "sending"} onClick={outbox.sendNow}>
                Send now
              </Button>
            )
          }
        >
          {state ? WORDS[state] : ""} {waiting.map((r) => r.label).join("; ")}.
        </Notice>
      ) : null}
      {refused.map((r) => (
        <Refused key={r.key} report={r} outbox={outbox} />
      ))}
    </div>
  );
}

function Refused({ report, outbox }: { report: WaitingReport; outbox: Outbox }) {
  const [asking, setAsking] = useState(false);
  const mayForce = report.problems?.some((p) => p.rule === "reported-meanwhile") ?? false;
  return (
    <Notice kind="problem" title={`The server did not take the report of ${report.label}`}>
      <ProblemList problems={report.problems ?? []} />
      <div className="mt-2 flex flex-wrap gap-2">
        {mayForce ? (
          <Button size="small" onClick={() => void outbox.sendAnyway(report)}>
            Send anyway
          </Button>
        ) : (
          <Button size="small" onClick={() => void outbox.sendAgain(report)}>
            Try again
          </Button>
        )}
        <Button size="small" onClick={() => setAsking(true)}>
          Discard
        </Button>
      </div>
      <Dialog
        open={asking}
        onClose={() => setAsking(false)}
        title="Discard this report?"
        actions={
          <>
            <Button onClick={() => setAsking(false)}>Keep it</Button>
            <Button kind="primary" onClick={() => void outbox.discard(report.key)}>
              Discard
            </Button>
          </>
        }
      >
        <p>{report.label}: it stands on this phone only and cannot be brought back.</p>
      </Dialog>
    </Notice>
  );
}
