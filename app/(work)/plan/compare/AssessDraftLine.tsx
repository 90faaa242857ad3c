"use client";

import { AgainLine } from "@/app/_client/AgainLine";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { assessDraft } from "../actions";

export interface AssessDraftLineProps {
  planId: number;
  words: string;
  activeJobId: string | null;
  isFirst: boolean;
}

/** When a plan was run through hours and weather; watches a run of it that is under way. */
export function AssessDraftLine({ planId, isFirst, ...props }: AssessDraftLineProps) {
  const { t } = useWords();
  return (
    <AgainLine
      {...props}
      busyWords={t("Running the plan through hours and weather ...")}
      failedWords={t("The plan could not be run")}
      doWords={isFirst ? t("Work it out") : t("Work it out again")}
      start={(_, key) => assessDraft({ planId }, key)}
    />
  );
}
