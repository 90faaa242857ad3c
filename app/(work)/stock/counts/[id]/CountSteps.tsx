"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { formatCount } from "@/app/_ui/format";
import { ProblemList } from "@/app/_ui/ProblemList";
import { approve, cancel, handIn, recount } from "../actions";

export interface CountStepsProps {
  id: number;
  steps: { handIn: boolean; approve: boolean; recount: boolean; cancel: boolean };
  /** Whom it waits for, when this person cannot take the next step. */
  waits?: string;
  differing: number;
}

/** The next steps of a count that this person may take. */
export function CountSteps({ id, steps, waits, differing }: CountStepsProps) {
  const [dialog, setDialog] = useState<"recount" | "cancel" | null>(null);
  const toHandIn = useSend(handIn);
  const toApprove = useSend(approve);
  if (!Object.values(steps).some(Boolean) && !waits) return null;
  return (
    <div className="grid grid-cols-1 gap-2">
      <div className="ui-toolbar ui-no-print">
        {steps.handIn ? (
          <Button
            kind="primary"
            busy={toHandIn.busy}
            onClick={() => toHandIn.send({ id }, () => `Count ${id} waits for approval`)}
          >
            Hand in
          </Button>
        ) : null}
        {steps.approve ? (
          <Button
            kind="primary"
            busy={toApprove.busy}
            onClick={() =>
              toApprove.send(
                { id },
                ({ rows }) => `Count ${id} approved: ${formatCount(rows, "adjustment")} posted`,
              )
            }
          >
            Approve and post {formatCount(differing, "difference")}
          </Button>
        ) : null}
        {steps.recount ? (
          <Button onClick={() => setDialog("recount")}>Count the differences again</Button>
        ) : null}
        {steps.cancel ? <Button onClick={() => setDialog("cancel")}>Cancel the count</Button> : null}
        {waits ? <span className="text-quiet">{waits}</span> : null}
      </div>
      <ProblemList problems={[...toHandIn.problems, ...toApprove.problems]} />
      <Dialog open={dialog === "recount"} onClose={() => setDialog(null)} title={`Count ${id}: again?`}>
        <ReasonForm
          confirm="Count them again"
          leave="Leave it as it is"
          send={(reason, key) => recount({ id, reason }, key)}
          done={(lines) => `${formatCount(lines, "line")} to be counted again`}
          onDone={() => setDialog(null)}
        >
          The lines that differ are cleared and counted again, without the figures in sight.
        </ReasonForm>
      </Dialog>
      <Dialog open={dialog === "cancel"} onClose={() => setDialog(null)} title={`Cancel count ${id}?`}>
        <ReasonForm
          confirm="Cancel the count"
          leave="Leave it as it is"
          isDanger
          send={(reason, key) => cancel({ id, reason }, key)}
          done={() => `Count ${id} cancelled`}
          onDone={() => setDialog(null)}
        >
          Nothing is posted. The count stays in the history and cannot be opened again.
        </ReasonForm>
      </Dialog>
    </div>
  );
}
