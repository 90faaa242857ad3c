"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { takeRowBack } from "./actions";

/** Takes a ledger row back: a new row that mirrors it, with the reason. */
export function TakeBackButton(props: {
  id: number;
  what: string;
  /** A cut or its saw allowance. */
  isOfCut: boolean;
}) {
  const { id, what, isOfCut } = props;
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button size="small" kind="plain" onClick={() => setOpen(true)}>
        {t("Take back")} <span className="sr-only">{t("row {{id}}", { id: String(id) })}</span>
      </Button>
      <Dialog
        open={open}
        onClose={() => setOpen(false)}
        title={t("Take back row {{id}}?", { id: String(id) })}
      >
        <ReasonForm
          confirm={t("Take it back")}
          leave={t("Keep as it is")}
          isDanger
          send={(reason, key) => takeRowBack({ id, reason }, key)}
          done={(made) => t("Row {{id}} taken back by row {{by}}", { id: String(id), by: String(made.id) })}
          onDone={() => setOpen(false)}
        >
          {t(
            "{{what}}. The row stays; a new row moves the same back and points at it. A reversal cannot itself be taken back.",
            { what },
          )}
          {isOfCut ? ` ${t("The cut and its saw allowance go back together.")}` : null}
        </ReasonForm>
      </Dialog>
    </>
  );
}
