"use client";

import { useRouter } from "next/navigation";
import { useEffect } from "react";
import { useJob } from "@/app/_client/useJob";
import type { ImportProgress } from "@/app/_server/importJobs";
import { formatNumber } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProgressBar } from "@/app/_ui/ProgressBar";

export const STAGE = {
  read: "Reading files",
  parse: "Reading rows",
  preview: "Comparing rows",
  store: "Storing",
};

/** Shows the import's work under way and brings the page up to date when it ends. */
export function JobWatch({ jobId }: { jobId: string }) {
  const { t, locale } = useWords();
  const router = useRouter();
  const job = useJob<ImportProgress>(jobId);
  const isOver = job !== null && ["done", "failed", "cancelled"].includes(job.state);
  useEffect(() => {
    if (isOver) router.refresh();
  }, [isOver, router]);
  const progress = job?.progress;
  return (
    <ProgressBar
      label={progress ? t(STAGE[progress.stage]) : isOver ? t("Done") : t("Waiting for the worker")}
      share={isOver ? 1 : progress && progress.total > 0 ? progress.done / progress.total : undefined}
      words={
        progress && progress.stage !== "store"
          ? t("{{done}} of {{all}}", {
              done: formatNumber(progress.done, 0, locale),
              all: formatNumber(progress.total, 0, locale),
            })
          : undefined
      }
      onCancel={isOver || progress?.stage === "store" ? undefined : job?.cancel}
    />
  );
}
