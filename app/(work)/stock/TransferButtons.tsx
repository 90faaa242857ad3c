"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput, TextInput } from "@/app/_ui/Field";
import { formatAmount, formatCount } from "@/app/_ui/format";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { CalendarDate } from "@/lib/time";
import { cancel, move, plan } from "./transferActions";

/** Decides on proposed transfers in one press; what is not proposed any more is refused. */
export function PlanTransfersButton({ ids, words, of }: { ids: number[]; words: string; of?: string }) {
  const { send, busy, problems } = useSend(plan);
  return (
    <>
      <Button
        size={of ? "small" : undefined}
        kind={of ? "quiet" : "primary"}
        busy={busy}
        onClick={() => send({ ids }, (made) => `Planned ${formatCount(made.length, "transfer")}`)}
      >
        {words}
        {of ? <span className="sr-only"> the transfer of {of}</span> : null}
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
  const [open, setOpen] = useState(false);
  const [amount, setAmount] = useState(String(quantity));
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
        Moved <span className="sr-only">{what}</span>
      </Button>
      <Dialog open={open} onClose={() => setOpen(false)} title={`Transfer ${id}: what was moved?`}>
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            send({ id, quantity: Number(amount), on: on as CalendarDate }, (made) => {
              setOpen(false);
              return `Transfer ${id} moved: ${formatCount(made.rows, "ledger row")}`;
            });
          }}
        >
          <p>{what}. The transfer ends with this, also when less was moved.</p>
          <NumberInput
            label="Moved"
            unit={unit}
            step={unit === "m" ? 0.01 : 1}
            min={0}
            max={quantity}
            required
            value={amount}
            hint={`Planned: ${formatAmount(quantity, unit)}.`}
            onChange={(e) => setAmount(e.target.value)}
          />
          <TextInput
            label="On"
            type="date"
            required
            max={today}
            value={on}
            onChange={(e) => setOn(e.target.value)}
          />
          <ProblemList problems={problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setOpen(false)}>Not yet</Button>
            <Button kind="primary" type="submit" busy={busy}>
              Write it into the ledger
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}

/** Ends a planned transfer that will not be made; the netting may propose it again. */
export function CancelTransferButton({ id, what }: { id: number; what: string }) {
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button size="small" kind="plain" onClick={() => setOpen(true)}>
        Cancel <span className="sr-only">{what}</span>
      </Button>
      <Dialog open={open} onClose={() => setOpen(false)} title={`Cancel transfer ${id}?`}>
        <ReasonForm
          confirm="Cancel the transfer"
          leave="Keep it"
          isDanger
          send={(reason, key) => cancel({ id, reason }, key)}
          done={() => `Transfer ${id} cancelled`}
          onDone={() => setOpen(false)}
        >
          {what}. Nothing has moved; needs are netted again without it.
        </ReasonForm>
      </Dialog>
    </>
  );
}
