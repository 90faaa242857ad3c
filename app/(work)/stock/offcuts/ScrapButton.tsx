"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { DialogForm } from "@/app/_ui/DialogForm";
import { Select, TextInput } from "@/app/_ui/Field";
import { formatCm } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { SCRAP_REASONS, type ScrapReason } from "@/lib/stock";
import { scrapRest } from "./actions";

/** Takes what is left of a drum off the rack, with the reason that the report sums up. */
export function ScrapButton({ serial, remainingC }: { serial: string; remainingC: number }) {
  const { t, locale } = useWords();
  const [isOpen, setIsOpen] = useState(false);
  const { send, busy, problems, clear } = useSend(scrapRest);
  return (
    <>
      <Button
        size="small"
        kind="plain"
        onClick={() => {
          clear();
          setIsOpen(true);
        }}
      >
        {t("Scrap")}
        <span className="sr-only"> {t("what is left of {{serial}}", { serial })}</span>
      </Button>
      <Dialog
        open={isOpen}
        onClose={() => setIsOpen(false)}
        title={t("Scrap {{remaining}} of {{serial}}?", { remaining: formatCm(remainingC, locale), serial })}
      >
        <DialogForm
          {...{ problems, busy }}
          onClose={() => setIsOpen(false)}
          words={t("Scrap it")}
          onSend={(form) =>
            send(
              {
                serial,
                remaining: remainingC / 100,
                scrapReason: form.get("scrapReason") as ScrapReason,
                note: String(form.get("note") ?? ""),
              },
              () => {
                setIsOpen(false);
                return t("{{remaining}} of {{serial}} scrapped.", {
                  remaining: formatCm(remainingC, locale),
                  serial,
                });
              },
            )
          }
        >
          <p>{t("The drum is empty then. A wrong row can be taken back in the ledger.")}</p>
          <Select
            label={t("Why")}
            name="scrapReason"
            choices={SCRAP_REASONS.map((value) => ({ value, label: t(value) }))}
          />
          <TextInput label={t("In your words")} name="note" maxLength={200} hint={t("Optional")} />
        </DialogForm>
      </Dialog>
    </>
  );
}
