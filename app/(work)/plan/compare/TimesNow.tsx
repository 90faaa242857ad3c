"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { messageOf } from "@/app/_ui/language/problemWords";
import { takeTimesNow } from "../actions";

/** Data that changed since a draft was made give its visits other minutes: one press takes them over. */
export function TimesNow({ planId, revision, visits }: { planId: number; revision: number; visits: number }) {
  const words = useWords();
  const { t } = words;
  const router = useRouter();
  const [isBusy, setBusy] = useState(false);
  const [refusal, setRefusal] = useState("");

  async function take(): Promise<void> {
    setBusy(true);
    const answer = await takeTimesNow({ planId, revision });
    setBusy(false);
    setRefusal(answer.ok ? "" : messageOf(answer.problems[0]!, words));
    if (answer.ok) router.refresh();
  }

  return (
    <div className="my-2 grid justify-items-start gap-1 ui-no-print">
      <p>
        {t(
          "By the data as they are now {{count}} visits of this draft take other minutes. None leaves its crew and day.",
          {
            count: visits,
          },
        )}
      </p>
      <Button onClick={take} disabled={isBusy}>
        {t("Give the draft these times")}
      </Button>
      <p role="alert">{refusal}</p>
    </div>
  );
}
