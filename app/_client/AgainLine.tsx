"use client";

import { useRouter } from "next/navigation";
import { useEffect, useState } from "react";
import { useJob } from "@/app/_client/useJob";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf } from "@/app/_ui/language/problemWords";
import type { Result } from "@/lib/result";

export interface AgainLineProps {
  /** How fresh the figures are: "Netted for Mon 16 Mar 2026, 4 minutes ago". */
  words: string;
  /** While it runs, and what failed. */
  busyWords: string;
  failedWords: string;
  /** On the button. */
  doWords: string;
  activeJobId: string | null;
  /** Starts the job and gives its id. */
  start: (input: Record<string, never>, key?: string) => Promise<Result<string>>;
}

/** When something was worked out, and a button to have it done again; shows the page anew when the job has ended. */
export function AgainLine({ words, busyWords, failedWords, doWords, activeJobId, start }: AgainLineProps) {
  const [started, setStarted] = useState<string | null>(null);
  const job = useJob(started ?? activeJobId);
  const router = useRouter();
  const spoken = useWords();
  const { send, busy, problems } = useSend(start);
  const state = job?.state;
  const isRunning = state === "connecting" || state === "queued" || state === "running";

  useEffect(() => {
    if (state === "done") router.refresh();
  }, [state, router]);

  return (
    <div
      className="ui-no-print mb-3 flex min-h-11 flex-wrap items-center gap-x-3 gap-y-1 text-quiet"
      role="status"
    >
      <span>{isRunning ? busyWords : words}</span>
      {state === "failed" ? (
        <span>
          {failedWords}: {job?.error}
        </span>
      ) : null}
      {problems[0] ? <span>{messageOf(problems[0], spoken)}</span> : null}
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
        {doWords}
      </Button>
    </div>
  );
}
