"use client";

import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { openRevisit } from "./actions";

/** For a reading that still fails and has no open revisit: the next plan places the new one. */
export function OpenRevisit({
  hopCode,
  askedId,
  label,
}: {
  hopCode: string;
  askedId: string;
  label: string;
}) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(openRevisit);
  return (
    <>
      <Button
        size="small"
        busy={busy}
        onClick={() =>
          send({ hopCode, askedId }, () => t("Revisit opened. The next plan that is solved places it."))
        }
      >
        {t("Open another revisit")}
        <span className="sr-only"> {label}</span>
      </Button>
      <ProblemList problems={problems} />
    </>
  );
}
