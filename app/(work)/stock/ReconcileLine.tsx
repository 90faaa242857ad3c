"use client";

import { AgainLine } from "@/app/_client/AgainLine";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { checkBalances } from "./actions";

export interface ReconcileLineProps {
  words: string;
  activeJobId: string | null;
}

/** When balances were held against the ledger, and what came of it. */
export function ReconcileLine(props: ReconcileLineProps) {
  const { t } = useWords();
  return (
    <AgainLine
      {...props}
      busyWords={t("Holding balances against the ledger ...")}
      failedWords={t("Holding them against the ledger failed")}
      doWords={t("Check again")}
      start={checkBalances}
    />
  );
}
