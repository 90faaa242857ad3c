"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { withdrawRevisit } from "./actions";

/** A revisit that is not needed after all is withdrawn with a reason; of joint work at each end that is not done. */
export function WithdrawRevisit(props: {
  visitId: string;
  label: string;
  /** The plan in force has a row of it, which stays until the next plan. */
  isPlanned: boolean;
}) {
  const { visitId, label, isPlanned } = props;
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const close = () => setOpen(false);
  return (
    <>
      <Button size="small" onClick={() => setOpen(true)}>
        {t("Withdraw")}
        <span className="sr-only"> {label}</span>
      </Button>
      <Dialog open={open} onClose={close} title={t("Withdraw {{label}}", { label })}>
        <ReasonForm
          confirm={t("Withdraw")}
          leave={t("Keep it")}
          send={(why, key) => withdrawRevisit({ visitId, why }, key)}
          done={() =>
            isPlanned
              ? t("Withdrawn. The plan in force keeps it until the next plan.")
              : t("Withdrawn. The plan in force does not have it.")
          }
          onDone={close}
        >
          {isPlanned
            ? t("The next plan leaves it out. Say why it is not needed: it stays in the record and the log.")
            : t("No plan places it then. Say why it is not needed: it stays in the record and the log.")}
        </ReasonForm>
      </Dialog>
    </>
  );
}
