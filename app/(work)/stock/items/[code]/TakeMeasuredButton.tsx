"use client";

import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { StoredOrdering } from "@/db/queries/catalogue";
import { setOrdering } from "./orderingActions";

export interface TakeMeasuredProps {
  code: string;
  safetyStock: number;
  words: string;
  ordering: StoredOrdering;
}

/** Keeps the measured safety stock from now on; everything else about the item's orders stays. */
export function TakeMeasuredButton({ code, safetyStock, words, ordering }: TakeMeasuredProps) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(setOrdering);
  const { priceMinor: _price, shelfLifeDays: _shelf, ...rest } = ordering;
  return (
    <>
      <Button
        busy={busy}
        onClick={() =>
          send({ code, ...rest, safetyStock, priceBreaks: [...rest.priceBreaks] }, () =>
            t("{{code}}: {{words}} are kept; needs are netted again", { code, words }),
          )
        }
      >
        {t("Keep {{words}}", { words })}
      </Button>
      <ProblemList problems={problems} />
    </>
  );
}
