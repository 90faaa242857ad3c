"use client";

import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { endOtherSessions, endOwnSession } from "./actions";
import { SessionTable } from "./SessionTable";
import type { SessionRow } from "./sessionWords";

/** One's own sessions: a lost phone is signed out from here. */
export function SessionsPanel({ rows }: { rows: readonly SessionRow[] }) {
  const one = useSend(endOwnSession);
  const others = useSend(endOtherSessions);
  const { t } = useWords();
  return (
    <Panel
      title={t("Where you are signed in")}
      note={t("A session lasts 30 days from its last use and is renewed once a day.")}
      actions={
        rows.length > 1 ? (
          <ConfirmButton
            question={t("End all other sessions?")}
            consequence={t("Every other device has to sign in again. What it had not sent yet stays on it.")}
            confirmWords={t("End them")}
            onConfirm={() => others.send({}, (n) => t("{{count}} sessions ended.", { count: n }))}
          >
            {t("End all others")}
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
              onClick={() => one.send({ id: row.id }, () => t("Session ended."))}
            >
              {t("End (verb)")}
              <span className="sr-only"> {t("the session of {{when}}", { when: row.startedAt })}</span>
            </Button>
          )
        }
      />
      <ProblemList problems={[...one.problems, ...others.problems]} />
    </Panel>
  );
}
