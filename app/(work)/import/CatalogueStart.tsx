"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { Problem } from "@/lib/result";
import { startCatalogue } from "./actions";

/** Offered while there is no item at all: without a catalogue the take-off finds nothing. */
export function CatalogueStart() {
  const { t } = useWords();
  const router = useRouter();
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [busy, setBusy] = useState(false);
  return (
    <Panel
      title={t("No catalogue yet")}
      note={t("The take-off looks for cables, connectors, radios and small items in the catalogue of items.")}
    >
      <p>
        {t(
          "Bring in your own items with the workbook below, or start with the delivered ones: generic items with invented codes and prices. Their figures are defaults from memory: confirm them with the makers' instructions.",
        )}
      </p>
      <ProblemList problems={problems} />
      <Button
        busy={busy}
        onClick={async () => {
          setBusy(true);
          const answer = await startCatalogue({}, newKey());
          setProblems(answer.ok ? [] : answer.problems);
          setBusy(false);
          router.refresh();
        }}
      >
        {t("Start with the delivered catalogue")}
      </Button>
    </Panel>
  );
}
