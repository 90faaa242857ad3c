"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { DateInput, Select } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { ProblemList } from "@/app/_ui/ProblemList";
import { useToast } from "@/app/_ui/Toast";
import type { Problem } from "@/lib/result";
import type { Gate } from "@/lib/site";
import { changeGate } from "./actions";
import { GateTable, gateKey } from "./GateTable";

export const GATE_STATES = [
  { value: "open", label: "Open: no date, work cannot be planned" },
  { value: "dated", label: "Expected on a date" },
  { value: "met", label: "Met: passed" },
] as const;

/** The gates with a way to change each, for who plans. */
export function EditableGates({ gates }: { gates: readonly Gate[] }) {
  const { t } = useWords();
  const [editing, setEditing] = useState<Gate>();
  return (
    <>
      <GateTable
        gates={gates}
        change={(gate) => (
          <Button size="small" onClick={() => setEditing(gate)}>
            {t("Change (verb)")}
            <span className="sr-only"> {t(gate.kind)}</span>
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
  const words = useWords();
  const { t } = words;
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
      text: t('Gate "{{kind}}" changed. The plan in force keeps its dates until the next plan.', {
        kind: t(gate.kind),
      }),
    });
    onClose();
    router.refresh();
  }

  const ofDate = problems.find((p) => p.path === "dueOn");
  return (
    <Dialog
      open
      onClose={onClose}
      title={t("Change gate: {{kind}}", { kind: t(gate.kind) })}
      actions={
        <>
          <Button onClick={onClose}>{t("Keep as it is")}</Button>
          <Button kind="primary" busy={busy} onClick={save}>
            {t("Save")}
          </Button>
        </>
      }
    >
      <div className="ui-form">
        <p>
          {t("{{hop}}, {{where}}, owner {{owner}}. The change is logged with your name.", {
            hop: gate.hopId,
            where: t(gate.side ? `${gate.side} end` : "both ends"),
            owner: t(gate.owner),
          })}
        </p>
        <Select
          label={t("State")}
          value={state}
          choices={GATE_STATES.map((s) => ({ ...s, label: t(s.label) }))}
          onChange={(e) => setState(e.target.value as Gate["state"])}
        />
        {state === "open" ? null : (
          <DateInput
            label={state === "dated" ? t("Expected on") : t("Met on (optional)")}
            value={dueOn}
            required={state === "dated"}
            error={ofDate && problemWords(ofDate, words)}
            onChange={(e) => setDueOn(e.target.value)}
          />
        )}
        <ProblemList problems={problems.filter((p) => p !== ofDate)} />
      </div>
    </Dialog>
  );
}
