"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput } from "@/app/_ui/Field";
import { formatCm } from "@/app/_ui/format";
import { ProblemList } from "@/app/_ui/ProblemList";
import { cutRun } from "./actions";

export interface CutButtonProps {
  drumSerial: string;
  runId: string;
  label: string;
  lengthCm: number;
  fromMarkCm: number;
  sawCm: number;
}

/** Confirms a cut that was made, with the length as measured. */
export function CutButton({ drumSerial, runId, label, lengthCm, fromMarkCm, sawCm }: CutButtonProps) {
  const [open, setOpen] = useState(false);
  const [length, setLength] = useState(String(lengthCm / 100));
  const { send, busy, problems, clear } = useSend(cutRun);
  return (
    <>
      <Button
        size="small"
        onClick={() => {
          clear();
          setOpen(true);
        }}
      >
        Confirm cut <span className="sr-only">of {label}</span>
      </Button>
      <Dialog open={open} onClose={() => setOpen(false)} title={`Cut ${label} from ${drumSerial}`}>
        <form
          className="ui-form"
          onSubmit={(e) => {
            e.preventDefault();
            send({ drumSerial, runId, length: Number(length) }, ({ leftC }) => {
              setOpen(false);
              return `${label} cut; ${formatCm(leftC)} left on ${drumSerial}`;
            });
          }}
        >
          <p>
            Listed: {formatCm(lengthCm)} from mark {formatCm(fromMarkCm)} to {formatCm(fromMarkCm + lengthCm)}
            , then {formatCm(sawCm)} saw allowance. The ledger gets one row for the run and one for the
            allowance.
          </p>
          <NumberInput
            label="Length as cut"
            unit="m"
            min={0.01}
            step={0.01}
            required
            value={length}
            onChange={(e) => setLength(e.target.value)}
          />
          <ProblemList problems={problems} />
          <div className="ui-form-actions justify-end">
            <Button onClick={() => setOpen(false)}>Not yet</Button>
            <Button kind="primary" type="submit" busy={busy}>
              Post the cut
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}
