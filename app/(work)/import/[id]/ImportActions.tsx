"use client";

import { useRouter } from "next/navigation";
import { useState, useTransition } from "react";
import { Button } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { formatCount } from "@/app/_ui/format";
import { Notice } from "@/app/_ui/Notice";
import type { Problem } from "@/lib/result";
import { applyImport, discard, previewImport } from "../actions";

interface ImportActionsProps {
  importId: string;
  /** Of the preview on show; undefined while there is none. */
  digest?: string;
  /** Rows that would be stored. */
  rows: number;
  /** Weather hours that would be stored. */
  hours: number;
  refused: number;
}

/** Brings all accepted rows in, or throws the import away. */
export function ImportActions({ importId, digest, rows, hours, refused }: ImportActionsProps) {
  const router = useRouter();
  const [busy, start] = useTransition();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const run = (work: () => Promise<{ ok: boolean; problems?: readonly Problem[] }>) =>
    start(async () => {
      const answer = await work();
      setProblems(answer.ok ? [] : (answer.problems ?? []));
      router.refresh();
    });
  const what = [
    ...(rows > 0 || hours === 0 ? [formatCount(rows, "row")] : []),
    ...(hours > 0 ? [formatCount(hours, "hour")] : []),
  ].join(" and ");
  return (
    <div className="grid gap-2">
      {problems.map((p) => (
        <Notice key={p.rule} kind="problem" announce title={p.message}>
          {p.remedy}
        </Notice>
      ))}
      <div className="ui-form-actions">
        {digest === undefined ? (
          <Button kind="primary" busy={busy} onClick={() => run(() => previewImport({ importId }))}>
            Read the files
          </Button>
        ) : (
          <Button
            kind="primary"
            glyph="import"
            busy={busy}
            disabled={rows + hours === 0}
            onClick={() => run(() => applyImport({ importId, digest }))}
          >
            Bring {what} in
          </Button>
        )}
        <ConfirmButton
          kind="danger"
          question="Discard this import?"
          consequence="The files are forgotten. What stands in the programme stays as it is."
          confirmWords="Discard"
          onConfirm={async () => run(() => discard({ importId }))}
        >
          Discard
        </ConfirmButton>
        <span className="text-quiet">
          {rows + hours === 0
            ? "There is nothing to bring in: no row is new or changed."
            : refused > 0
              ? `All of them or nothing. ${formatCount(refused, "refused row is", "refused rows are")} left out.`
              : "All of them or nothing."}
        </span>
      </div>
    </div>
  );
}
