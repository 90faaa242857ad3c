"use client";

import { useState } from "react";
import { useJob } from "@/app/_client/useJob";
import { Button } from "@/app/_ui/Button";
import { Notice } from "@/app/_ui/Notice";
import { ProgressBar } from "@/app/_ui/ProgressBar";
import type { Problem } from "@/lib/result";
import { checkWorker } from "./actions";

interface Count {
  step: number;
  steps: number;
}

export function WorkerCheck() {
  const [id, setId] = useState<string>();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const job = useJob<Count, Count>(id);
  const isRunning = job && ["connecting", "queued", "running"].includes(job.state);

  const start = async () => {
    const answer = await checkWorker({});
    setProblems(answer.ok ? [] : answer.problems);
    if (answer.ok) setId(answer.value);
  };

  if (isRunning)
    return (
      <ProgressBar
        label={job.state === "running" ? "Counting" : "Waiting for the worker"}
        share={job.progress ? job.progress.step / job.progress.steps : undefined}
        words={job.progress ? `step ${job.progress.step} of ${job.progress.steps}` : undefined}
        onCancel={job.cancel}
      />
    );
  const counted = job?.result?.step ?? 0;
  return (
    <div className="grid gap-3 justify-items-start">
      {problems.map((problem) => (
        <Notice key={problem.rule} kind="problem" announce title={problem.message}>
          {problem.remedy}
        </Notice>
      ))}
      {job?.state === "done" ? (
        <Notice kind="good" announce title="The worker takes work and finishes it">
          Counted to {counted}.
        </Notice>
      ) : null}
      {job?.state === "cancelled" ? (
        <Notice kind="info" announce title="Stopped">
          Counted to {counted} before it was stopped.
        </Notice>
      ) : null}
      {job?.state === "failed" ? (
        <Notice kind="problem" announce title="Failed">
          {job.error}
        </Notice>
      ) : null}
      <Button kind="primary" onClick={start}>
        Start the check
      </Button>
    </div>
  );
}
