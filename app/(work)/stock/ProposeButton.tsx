"use client";

import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { propose } from "./actions";

/** One press makes proposed orders of everything that is due; a second press makes none. */
export function ProposeButton({ count }: { count: number }) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(propose);
  return (
    <>
      <Button
        kind="primary"
        busy={busy}
        onClick={() =>
          send({}, (codes) =>
            codes.length === 0
              ? t("Everything due is on proposed orders already")
              : t("Proposed {{count}} orders: {{what}}", { count: codes.length, what: codes.join(", ") }),
          )
        }
      >
        {t("Propose orders for {{count}} lines", { count })}
      </Button>
      <ProblemList problems={problems} />
    </>
  );
}
