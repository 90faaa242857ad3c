"use client";

import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";

/** That the form holds what was typed before, and the way back to how it began. */
export function TakenUp({ onStartAnew }: { onStartAnew: () => void }) {
  const { t } = useWords();
  return (
    <Notice
      kind="info"
      title={t("What you typed here before stands in the form again")}
      action={
        <Button size="small" onClick={onStartAnew}>
          {t("Discard it")}
        </Button>
      }
    >
      {t("It was not saved. This browser keeps it until you save it or leave without saving.")}
    </Notice>
  );
}
