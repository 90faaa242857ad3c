"use client";

import { useState } from "react";
import { ScanField } from "@/app/_client/scan/ScanField";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput } from "@/app/_ui/Field";
import { formatCm } from "@/app/_ui/format";
import { ProblemList } from "@/app/_ui/ProblemList";
import { StateMark } from "@/app/_ui/StateMark";
import { isDrum, readLabel } from "@/lib/labels";
import { cutRun } from "./actions";

export interface CutButtonProps {
  drumSerial: string;
  runId: string;
  label: string;
  lengthCm: number;
  fromMarkCm: number;
  sawCm: number;
  /** Label of the drum that was scanned to come here; without it the dialog asks for it. */
  scanned?: string;
}

const wrongDrum = (label: string, wanted: string, found: string): string =>
  `This is ${found}. ${label} is cut from ${wanted}: do not cut here, nothing is booked.`;

/** Confirms a cut that was made, with the length as measured. */
export function CutButton(props: CutButtonProps) {
  const { drumSerial, runId, label, lengthCm, fromMarkCm, sawCm } = props;
  const [open, setOpen] = useState(false);
  const [length, setLength] = useState(String(lengthCm / 100));
  const [scanned, setScanned] = useState(props.scanned);
  const { send, busy, problems, clear } = useSend(cutRun);
  const isWrong = scanned !== undefined && !isDrum(scanned, drumSerial);
  return (
    <>
      <Button
        size="small"
        onClick={() => {
          clear();
          setScanned(props.scanned);
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
            send({ drumSerial, runId, length: Number(length), scanned }, ({ leftC }) => {
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
          {props.scanned ? null : (
            <ScanField
              label="Scan the drum"
              hint={
                scanned === undefined || isWrong
                  ? "Optional: shows at once when it is another one."
                  : undefined
              }
              error={isWrong ? wrongDrum(label, drumSerial, readLabel(scanned).code) : undefined}
              onScan={setScanned}
            />
          )}
          {scanned !== undefined && !isWrong ? (
            <StateMark state="met">Drum {drumSerial}: the right one for this run</StateMark>
          ) : null}
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
            <Button kind="primary" type="submit" busy={busy} disabled={isWrong}>
              Post the cut
            </Button>
          </div>
        </form>
      </Dialog>
    </>
  );
}
