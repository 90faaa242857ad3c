"use client";

import { AgainLine } from "@/app/_client/AgainLine";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { net } from "./actions";

export interface NettingLineProps {
  /** "Netted for Mon 16 Mar 2026, 4 minutes ago". */
  words: string;
  activeJobId: string | null;
}

/** When needs were netted against stock; watches a netting that runs. */
export function NettingLine(props: NettingLineProps) {
  const { t } = useWords();
  return (
    <AgainLine
      {...props}
      busyWords={t("Netting needs against stock ...")}
      failedWords={t("The netting failed")}
      doWords={t("Net again")}
      start={net}
    />
  );
}
