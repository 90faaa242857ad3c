"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { liftHold } from "../../actions";

/** Ends a hold that was a slip, or whose reason is gone. */
export function LiftHold({ visitId, reportId }: { visitId: string; reportId: number }) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  const close = () => setOpen(false);
  return (
    <p className="ui-no-print mt-2">
      <Button size="small" onClick={() => setOpen(true)}>
        {t("Lift the hold")}
      </Button>
      <Dialog open={open} onClose={close} title={t("Lift the hold")}>
        <ReasonForm
          confirm={t("Lift the hold")}
          leave={t("Keep it")}
          send={(why, key) => liftHold({ visitId, reportId, why }, key)}
          done={() => t("Lifted: the visit stands as planned.")}
          onDone={close}
        >
          {t(
            "The visit goes on as planned, with its crew, day and kit. The report and its hours stay in the record, with who lifted the hold and why.",
          )}
        </ReasonForm>
      </Dialog>
    </p>
  );
}
