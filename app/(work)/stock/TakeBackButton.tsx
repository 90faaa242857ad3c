"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { TextInput } from "@/app/_ui/Field";
import { ProblemList } from "@/app/_ui/ProblemList";
import { takeRowBack } from "./actions";

/** Takes a ledger row back: a new row that mirrors it, with the reason. */
export function TakeBackButton({ id, what }: { id: number; what: string }) {
  const [open, setOpen] = useState(false);
  const [reason, setReason] = useState("");
  const { send, busy, problems, clear } = useSend(takeRowBack);
  return (
    <>
      <Button
        size="small"
        kind="plain"
        onClick={() => {
          clear();
          setOpen(true);
        }}
      >
        Take back <span className="sr-only">row {id}</span>
      </Button>
      <Dialog open={open} onClose={() => setOpen(false)} title={`Take back row ${id}?`}>
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            send({ id, reason }, (made) => {
              setOpen(false);
              return `Row ${id} taken back by row ${made.id}`;
            });
          }}
        >
          <p>
            {what}. The row stays; a new row moves the same back and points at it. A reversal cannot itself be
            taken back.
          </p>
          <TextInput
            label="Why"
            required
            minLength={3}
            maxLength={300}
            value={reason}
            onChange={(e) => setReason(e.target.value)}
          />
          <ProblemList problems={problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setOpen(false)}>Keep as it is</Button>
            <Button kind="danger" type="submit" busy={busy}>
              Take it back
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}
