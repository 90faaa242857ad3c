"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { DateInput, Select } from "@/app/_ui/Field";
import { ProblemList } from "@/app/_ui/ProblemList";
import { useToast } from "@/app/_ui/Toast";
import type { Problem } from "@/lib/result";
import type { Gate } from "@/lib/site";
import { changeGate } from "./actions";
import { GateTable, gateKey } from "./GateTable";

const STATES = [
  { value: "open", label: "Open: no date, work cannot be planned" },
  { value: "dated", label: "Expected on a date" },
  { value: "met", label: "Met: passed" },
] as const;

/** The gates with a way to change each, for who plans. */
export function EditableGates({ gates }: { gates: readonly Gate[] }) {
  const [editing, setEditing] = useState<Gate>();
  return (
    <>
      <GateTable
        gates={gates}
        change={(gate) => (
          <Button size="small" onClick={() => setEditing(gate)}>
            Change<span className="sr-only"> {gate.kind}</span>
          </Button>
        )}
      />
      {editing ? (
        <GateDialog key={gateKey(editing)} gate={editing} onClose={() => setEditing(undefined)} />
      ) : null}
    </>
  );
}

function GateDialog({ gate, onClose }: { gate: Gate; onClose: () => void }) {
  const router = useRouter();
  const show = useToast();
  const [state, setState] = useState<Gate["state"]>(gate.state);
  const [dueOn, setDueOn] = useState<string>(gate.dueOn ?? "");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [busy, setBusy] = useState(false);

  async function save(): Promise<void> {
    setBusy(true);
    const result = await changeGate({
      hopCode: gate.hopId,
      side: gate.side ?? "both",
      kind: gate.kind,
      state,
      dueOn,
      seen: { state: gate.state, dueOn: gate.dueOn ?? "" },
    });
    setBusy(false);
    if (!result.ok) {
      setProblems(result.problems);
      return;
    }
    show({
      kind: "good",
      text: `Gate "${gate.kind}" changed. The plan in force keeps its dates until the next plan.`,
    });
    onClose();
    router.refresh();
  }

  const ofDate = problems.find((p) => p.path === "dueOn");
  return (
    <Dialog
      open
      onClose={onClose}
      title={`Change gate: ${gate.kind}`}
      actions={
        <>
          <Button onClick={onClose}>Keep as it is</Button>
          <Button kind="primary" busy={busy} onClick={save}>
            Save
          </Button>
        </>
      }
    >
      <div className="ui-form">
        <p>
          {gate.hopId}, {gate.side ? `${gate.side} end` : "both ends"}, owner {gate.owner}. The change is
          logged with your name.
        </p>
        <Select
          label="State"
          value={state}
          choices={STATES}
          onChange={(e) => setState(e.target.value as Gate["state"])}
        />
        {state === "open" ? null : (
          <DateInput
            label={state === "dated" ? "Expected on" : "Met on (optional)"}
            value={dueOn}
            required={state === "dated"}
            error={ofDate ? `${ofDate.message} ${ofDate.remedy}` : undefined}
            onChange={(e) => setDueOn(e.target.value)}
          />
        )}
        <ProblemList problems={problems.filter((p) => p !== ofDate)} />
      </div>
    </Dialog>
  );
}
