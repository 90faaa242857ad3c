"use client";

import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { pick } from "@/app/(work)/kits/actions";
import type { CoilOnItsWay } from "@/db/queries/coils";

export interface CoilHereButtonProps {
  coil: Pick<CoilOnItsWay, "visitId" | "lineNo" | "quantityC" | "toPlace">;
  /** The run as people say it. */
  words: string;
}

/** The coil lies in its kit's box: ticks its line off there. */
export function CoilHereButton({ coil, words }: CoilHereButtonProps) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(pick);
  const { visitId, lineNo, quantityC, toPlace } = coil;
  return (
    <>
      <Button
        size="small"
        busy={busy}
        onClick={() =>
          send({ visitId, lineNo, quantity: quantityC / 100 }, () =>
            t("{{run}} lies in its kit at {{place}}", { run: words, place: toPlace }),
          )
        }
      >
        {t("Lies in its kit")} <span className="sr-only">{words}</span>
      </Button>
      <ProblemList problems={problems} />
    </>
  );
}
