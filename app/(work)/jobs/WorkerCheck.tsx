"use client";

import { useState } from "react";
import { useJob } from "@/app/_client/useJob";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf, remedyOf } from "@/app/_ui/language/problemWords";
import { Notice } from "@/app/_ui/Notice";
import { ProgressBar } from "@/app/_ui/ProgressBar";
import type { Problem } from "@/lib/result";
import { checkWorker } from "./actions";

interface Count {
  step: number;
  steps: number;
}

export function WorkerCheck() {
  const words = useWords();
  const { t } = words;
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
        label={job.state === "running" ? t("Counting") : t("Waiting for the worker")}
        share={job.progress ? job.progress.step / job.progress.steps : undefined}
        words={job.progress ? t("step {{step}} of {{steps}}", { ...job.progress }) : undefined}
        onCancel={job.cancel}
      />
    );
  const counted = job?.result?.step ?? 0;
  return (
    <div className="grid gap-3 justify-items-start">
      {problems.map((problem) => (
        <Notice key={problem.rule} kind="problem" announce title={messageOf(problem, words)}>
          {remedyOf(problem, words)}
        </Notice>
      ))}
      {job?.state === "done" ? (
        <Notice kind="good" announce title={t("The worker takes work and finishes it")}>
          {t("Counted to {{counted}}.", { counted })}
        </Notice>
      ) : null}
      {job?.state === "cancelled" ? (
        <Notice kind="info" announce title={t("Stopped")}>
          {t("Counted to {{counted}} before it was stopped.", { counted })}
        </Notice>
      ) : null}
      {job?.state === "failed" ? (
        <Notice kind="problem" announce title={t("Failed (work)")}>
          <span lang="en">{job.error}</span>
        </Notice>
      ) : null}
      <Button kind="primary" onClick={start}>
        {t("Start the check")}
      </Button>
    </div>
  );
}
