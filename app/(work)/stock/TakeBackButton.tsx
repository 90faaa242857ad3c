"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { takeRowBack } from "./actions";

/** Takes a ledger row back: a new row that mirrors it, with the reason. */
export function TakeBackButton({ id, what }: { id: number; what: string }) {
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button size="small" kind="plain" onClick={() => setOpen(true)}>
        Take back <span className="sr-only">row {id}</span>
      </Button>
      <Dialog open={open} onClose={() => setOpen(false)} title={`Take back row ${id}?`}>
        <ReasonForm
          confirm="Take it back"
          leave="Keep as it is"
          isDanger
          send={(reason, key) => takeRowBack({ id, reason }, key)}
          done={(made) => `Row ${id} taken back by row ${made.id}`}
          onDone={() => setOpen(false)}
        >
          {what}. The row stays; a new row moves the same back and points at it. A reversal cannot itself be
          taken back.
        </ReasonForm>
      </Dialog>
    </>
  );
}
