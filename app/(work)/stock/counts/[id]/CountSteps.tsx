"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { ProblemList } from "@/app/_ui/ProblemList";
import { approve, cancel, handIn, recount } from "../actions";

export interface CountStepsProps {
  id: number;
  steps: { handIn: boolean; approve: boolean; recount: boolean; cancel: boolean };
  /** Whom it waits for, when this person cannot take the next step. */
  waits?: string;
  differing: number;
  /** Lines not counted yet. */
  open: number;
  /** Lines used since they were counted, so that their difference cannot be posted. */
  used: number;
}

/** The next steps of a count that this person may take. */
export function CountSteps({ id, steps, waits, differing, open, used }: CountStepsProps) {
  const words = useWords();
  const { t } = words;
  const [dialog, setDialog] = useState<"recount" | "cancel" | null>(null);
  const toHandIn = useSend(handIn);
  const toApprove = useSend(approve);
  const toRecount = useSend(recount);
  // Handed in too early is no mistake in a field: nothing is lost, there is only more to count, until some of it is.
  const tooEarly = toHandIn.problems.find((p) => p.rule === "not-counted" && p.value === open);
  const handInProblems = toHandIn.problems.filter((p) => p.rule !== "not-counted");
  const isUsed = used > 0 || toApprove.problems.some((p) => p.rule === "used-since");
  if (!Object.values(steps).some(Boolean) && !waits) return null;
  return (
    <div className="grid grid-cols-1 gap-2">
      <div className="ui-toolbar ui-no-print">
        {steps.handIn ? (
          <Button
            kind="primary"
            busy={toHandIn.busy}
            onClick={() =>
              toHandIn.send({ id }, () => t("Count {{id}} waits for approval", { id: String(id) }))
            }
          >
            {t("Hand in")}
          </Button>
        ) : null}
        {steps.approve ? (
          <Button
            kind="primary"
            busy={toApprove.busy}
            onClick={() =>
              toApprove.send({ id }, ({ rows }) =>
                t("Count {{id}} approved: {{count}} adjustments posted", { id: String(id), count: rows }),
              )
            }
          >
            {t("Approve and post {{count}} differences", { count: differing })}
          </Button>
        ) : null}
        {steps.recount ? (
          <Button onClick={() => setDialog("recount")}>{t("Count the differences again")}</Button>
        ) : null}
        {steps.cancel ? <Button onClick={() => setDialog("cancel")}>{t("Cancel the count")}</Button> : null}
        {waits ? <span className="text-quiet">{waits}</span> : null}
      </div>
      {isUsed && steps.recount ? (
        <Notice
          kind="warn"
          title={t("Used since the count")}
          action={
            <Button
              busy={toRecount.busy}
              onClick={() =>
                toRecount.send({ id, reason: "used since the count", only: "used since" }, (lines) => {
                  toApprove.clear();
                  return t("{{count}} lines to be counted again", { count: lines });
                })
              }
            >
              {t("Count these lines again")}
            </Button>
          }
        >
          {t(
            "A crew used some of it after it was counted and before the count was approved. The other lines stay as they were counted.",
          )}
        </Notice>
      ) : null}
      {tooEarly ? (
        <Notice kind="warn" announce title={messageOf(tooEarly, words)}>
          {remedyOf(tooEarly, words)}
        </Notice>
      ) : null}
      <ProblemList problems={[...handInProblems, ...toApprove.problems, ...toRecount.problems]} />
      <Dialog
        open={dialog === "recount"}
        onClose={() => setDialog(null)}
        title={t("Count {{id}}: again?", { id: String(id) })}
      >
        <ReasonForm
          confirm={t("Count them again")}
          leave={t("Leave it as it is")}
          send={(reason, key) => recount({ id, reason }, key)}
          done={(lines) => t("{{count}} lines to be counted again", { count: lines })}
          onDone={() => setDialog(null)}
        >
          {t("The lines that differ are cleared and counted again, without the figures in sight.")}
        </ReasonForm>
      </Dialog>
      <Dialog
        open={dialog === "cancel"}
        onClose={() => setDialog(null)}
        title={t("Cancel count {{id}}?", { id: String(id) })}
      >
        <ReasonForm
          confirm={t("Cancel the count")}
          leave={t("Leave it as it is")}
          isDanger
          send={(reason, key) => cancel({ id, reason }, key)}
          done={() => t("Count {{id}} cancelled", { id: String(id) })}
          onDone={() => setDialog(null)}
        >
          {t("Nothing is posted. The count stays in the history and cannot be opened again.")}
        </ReasonForm>
      </Dialog>
    </div>
  );
}
