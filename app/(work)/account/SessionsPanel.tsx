"use client";

import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { formatCount } from "@/app/_ui/format";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { endOtherSessions, endOwnSession } from "./actions";
import { SessionTable } from "./SessionTable";
import type { SessionRow } from "./sessionWords";

/** One's own sessions: a lost phone is signed out from here. */
export function SessionsPanel({ rows }: { rows: readonly SessionRow[] }) {
  const one = useSend(endOwnSession);
  const others = useSend(endOtherSessions);
  return (
    <Panel
      title="Where you are signed in"
      note="A session lasts 30 days from its last use and is renewed once a day."
      actions={
        rows.length > 1 ? (
          <ConfirmButton
            question="End all other sessions?"
            consequence="Every other device has to sign in again. What it had not sent yet stays on it."
            confirmWords="End them"
            onConfirm={() => others.send({}, (n) => `${formatCount(n, "session")} ended.`)}
          >
            End all others
          </ConfirmButton>
        ) : undefined
      }
      flush
    >
      <SessionTable
        rows={rows}
        actionOf={(row) =>
          row.isThis ? null : (
            <Button
              size="small"
              kind="plain"
              onClick={() => one.send({ id: row.id }, () => "Session ended.")}
            >
              End<span className="sr-only"> the session of {row.startedAt}</span>
            </Button>
          )
        }
      />
      <ProblemList problems={[...one.problems, ...others.problems]} />
    </Panel>
  );
}
