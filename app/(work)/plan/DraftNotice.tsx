"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Button, LinkButton } from "@/app/_ui/Button";
import { formatCount } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import type { Problem } from "@/lib/result";
import { takeBack } from "./actions";
import { DraftActions } from "./DraftActions";

export interface DraftNoticeProps {
  planId: number;
  revision: number;
  inForceId: number | null;
  moves: readonly { visitId: string; by: string; broken: readonly string[]; shifts: number }[];
  mayEdit: boolean;
}

/** What a draft is, the moves made by hand in it, and what can be done with it. */
export function DraftNotice({ planId, revision, inForceId, moves, mayEdit }: DraftNoticeProps) {
  const router = useRouter();
  const [problem, setProblem] = useState<Problem>();
  const [isBusy, setIsBusy] = useState(false);
  const last = moves.at(-1);

  async function back(): Promise<void> {
    setIsBusy(true);
    const answer = await takeBack({ planId, revision });
    setIsBusy(false);
    setProblem(answer.ok ? undefined : answer.problems[0]);
    router.refresh();
  }

  return (
    <div className="grid gap-2 ui-no-print">
      <Notice
        kind="info"
        title={`Draft ${planId}: nobody works by it yet`}
        action={<LinkButton href={`/plan/compare?plan=${planId}`}>Compare with the plan in force</LinkButton>}
      >
        {moves.length > 0 ? (
          <details>
            <summary>{formatCount(moves.length, "move")} by hand</summary>
            <ol>
              {moves.map((m, i) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: the order is the name of a move
                <li key={i}>
                  {m.visitId} by {m.by}
                  {m.shifts > 1 ? `, ${formatCount(m.shifts - 1, "other visit")} with it` : ""}
                  {m.broken.length > 0 ? `; broke ${formatCount(m.broken.length, "hard rule")}` : ""}
                </li>
              ))}
            </ol>
          </details>
        ) : (
          "Compare it, then put it in force or discard it."
        )}
      </Notice>
      {problem ? (
        <Notice kind="problem" announce title={problem.message}>
          {problem.remedy}
        </Notice>
      ) : null}
      {mayEdit ? (
        <div className="flex flex-wrap gap-2">
          {last ? (
            <Button onClick={back} busy={isBusy}>
              Take back the move of {last.visitId}
            </Button>
          ) : null}
          <DraftActions planId={planId} revision={revision} inForceId={inForceId} />
        </div>
      ) : null}
    </div>
  );
}
