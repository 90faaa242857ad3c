"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { TransferView } from "@/db/queries/transfers";
import type { CalendarDate } from "@/lib/time";
import { cancel, move, plan } from "./transferActions";

/** Decides on proposed transfers in one press; what is not proposed as it was shown is refused. */
export function PlanTransfersButton({
  moves,
  words,
  of,
}: {
  moves: readonly Pick<TransferView, "itemCode" | "fromPlace" | "toPlace" | "quantity" | "sendOn">[];
  words: string;
  of?: string;
}) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(plan);
  return (
    <>
      <Button
        size={of ? "small" : undefined}
        kind={of ? "quiet" : "primary"}
        busy={busy}
        onClick={() =>
          send(
            {
              shown: [...moves],
            },
            (made) => t("Planned {{count}} transfers", { count: made.length }),
          )
        }
      >
        {words}
        {of ? <span className="sr-only"> {t("the transfer of {{of}}", { of })}</span> : null}
      </Button>
      <ProblemList problems={problems} />
    </>
  );
}

export interface MoveTransferProps {
  id: number;
  quantity: number;
  unit: string;
  today: CalendarDate;
  what: string;
}

/** Writes a planned transfer into the ledger, with what was really moved and when. */
export function MoveTransferButton({ id, quantity, unit, today, what }: MoveTransferProps) {
  const { t, amount } = useWords();
  const [open, setOpen] = useState(false);
  const [moved, setMoved] = useState(String(quantity));
  const [on, setOn] = useState<string>(today);
  const { send, busy, problems, clear } = useSend(move);
  return (
    <>
      <Button
        size="small"
        kind="primary"
        onClick={() => {
          clear();
          setOpen(true);
        }}
      >
        {t("Moved (stock)")} <span className="sr-only">{what}</span>
      </Button>
      <Dialog
        open={open}
        onClose={() => setOpen(false)}
        title={t("Transfer {{id}}: what was moved?", { id: String(id) })}
      >
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            send({ id, quantity: Number(moved), on: on as CalendarDate }, (made) => {
              setOpen(false);
              return t("Transfer {{id}} moved: {{count}} ledger rows", { id: String(id), count: made.rows });
            });
          }}
        >
          <p>{t("{{what}}. The transfer ends with this, also when less was moved.", { what })}</p>
          <NumberInput
            label={t("Moved (stock)")}
            unit={unit}
            step={unit === "m" ? 0.01 : 1}
            min={unit === "m" ? 0.01 : 1}
            max={quantity}
            required
            value={moved}
            hint={t("Planned: {{quantity}}. Was nothing moved, cancel the transfer.", {
              quantity: amount(quantity, unit),
            })}
            onChange={(e) => setMoved(e.target.value)}
          />
          <TextInput
            label={t("On (day)")}
            type="date"
            required
            max={today}
            value={on}
            onChange={(e) => setOn(e.target.value)}
          />
          <ProblemList problems={problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setOpen(false)}>{t("Not yet")}</Button>
            <Button kind="primary" type="submit" busy={busy}>
              {t("Write it into the ledger")}
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}

/** Ends a planned transfer that will not be made; the netting may propose it again. */
export function CancelTransferButton({ id, what }: { id: number; what: string }) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button size="small" kind="plain" onClick={() => setOpen(true)}>
        {t("Cancel")} <span className="sr-only">{what}</span>
      </Button>
      <Dialog
        open={open}
        onClose={() => setOpen(false)}
        title={t("Cancel transfer {{id}}?", { id: String(id) })}
      >
        <ReasonForm
          confirm={t("Cancel the transfer")}
          leave={t("Keep it")}
          isDanger
          send={(reason, key) => cancel({ id, reason }, key)}
          done={() => t("Transfer {{id}} cancelled", { id: String(id) })}
          onDone={() => setOpen(false)}
        >
          {t("{{what}}. Nothing has moved; needs are netted again without it.", { what })}
        </ReasonForm>
      </Dialog>
    </>
  );
}
