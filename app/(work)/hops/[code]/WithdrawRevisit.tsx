"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { TextInput } from "@/app/_ui/Field";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { Problem } from "@/lib/result";
import { withdrawRevisit } from "./actions";

/** A revisit that is not needed after all is withdrawn with a reason; of joint work at both ends. */
export function WithdrawRevisit({ visitId, label }: { visitId: string; label: string }) {
  const router = useRouter();
  const [open, setOpen] = useState(false);
  const [why, setWhy] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [busy, setBusy] = useState(false);

  async function withdraw(): Promise<void> {
    setBusy(true);
    const result = await withdrawRevisit({ visitId, why });
    setBusy(false);
    setProblems(result.ok ? [] : result.problems);
    if (!result.ok) return;
    setOpen(false);
    router.refresh();
  }

  return (
    <>
      <Button size="small" onClick={() => setOpen(true)}>
        Withdraw<span className="sr-only"> {label}</span>
      </Button>
      <Dialog
        open={open}
        onClose={() => setOpen(false)}
        title={`Withdraw ${label}`}
        actions={
          <>
            <Button onClick={() => setOpen(false)}>Keep it</Button>
            <Button kind="primary" busy={busy} onClick={withdraw}>
              Withdraw
            </Button>
          </>
        }
      >
        <div className="ui-form">
          <TextInput
            label="Why is it not needed?"
            value={why}
            onChange={(e) => setWhy(e.target.value)}
            minLength={3}
            maxLength={300}
            required
            hint="Kept in the record and the log"
          />
          <ProblemList problems={problems} />
        </div>
      </Dialog>
    </>
  );
}
