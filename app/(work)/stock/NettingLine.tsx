"use client";

import { useRouter } from "next/navigation";
import { useEffect, useState } from "react";
import { useJob } from "@/app/_client/useJob";
import { Button } from "@/app/_ui/Button";
import { net } from "./actions";
import { useSend } from "./useSend";

export interface NettingLineProps {
  /** "Netted for Mon 16 Mar 2026, 4 minutes ago". */
  words: string;
  activeJobId: string | null;
}

/** When needs were netted against stock; watches a netting that runs, and shows the page anew when it has ended. */
export function NettingLine({ words, activeJobId }: NettingLineProps) {
  const [started, setStarted] = useState<string | null>(null);
  const job = useJob(started ?? activeJobId);
  const router = useRouter();
  const { send, busy, problems } = useSend(net);
  const state = job?.state;
  const isRunning = state === "connecting" || state === "queued" || state === "running";

  useEffect(() => {
    if (state === "done") router.refresh();
  }, [state, router]);

  return (
    <div
      className="ui-no-print flex min-h-11 flex-wrap items-center gap-x-3 gap-y-1 text-quiet"
      role="status"
    >
      <span>{isRunning ? "Netting needs against stock ..." : words}</span>
      {state === "failed" ? <span>The netting failed: {job?.error}</span> : null}
      {problems[0] ? <span>{problems[0].message}</span> : null}
      <Button
        size="small"
        busy={busy || isRunning}
        onClick={() =>
          send({}, (id) => {
            setStarted(id);
            return undefined;
          })
        }
      >
        Net again
      </Button>
    </div>
  );
}
