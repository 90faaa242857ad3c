"use client";

import { AgainLine } from "@/app/_client/AgainLine";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { assessDraft } from "../../plan/actions";
import { assess } from "./actions";

export interface AssessLineProps {
  /** Left out = the plan in force, whichever that is then. */
  planId?: number;
  words: string;
  activeJobId: string | null;
  isFirst: boolean;
}

/** When the plan was run through hours and weather; watches a run of it that is under way. */
export function AssessLine({ isFirst, planId, ...props }: AssessLineProps) {
  const { t } = useWords();
  return (
    <AgainLine
      {...props}
      busyWords={t("Running the plan through hours and weather ...")}
      failedWords={t("The plan could not be run")}
      doWords={isFirst ? t("Work it out") : t("Work it out again")}
      start={planId === undefined ? assess : (_, key) => assessDraft({ planId }, key)}
    />
  );
}
