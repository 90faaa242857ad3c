"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { DateInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { ProblemList } from "@/app/_ui/ProblemList";
import { useToast } from "@/app/_ui/Toast";
import type { Problem } from "@/lib/result";
import { GATE_KINDS, type Gate, type GateKind } from "@/lib/site";
import { addGate, changeGate } from "./actions";
import { GateTable, gateKey } from "./GateTable";

export const GATE_STATES = [
  { value: "open", label: "Open: no date, work cannot be planned" },
  { value: "dated", label: "Expected on a date" },
  { value: "met", label: "Met: passed" },
] as const;

export const GATE_SIDES = [
  { value: "both", label: "both ends" },
  { value: "near", label: "near end" },
  { value: "far", label: "far end" },
] as const;

/** Who usually has to act (common practice); it can be written otherwise. */
export const USUAL_OWNERS: Readonly<Record<GateKind, string>> = {
  survey: "contractor",
  "structure approval": "tower owner",
  "site ready": "civil works",
  supply: "grid company",
  "spectrum licence": "regulator",
  "access permit": "site owner",
};

/** The gates with a way to change each and to add one, for who plans. */
export function EditableGates({ hopCode, gates }: { hopCode: string; gates: readonly Gate[] }) {
  const { t } = useWords();
  const [editing, setEditing] = useState<Gate>();
  const [adding, setAdding] = useState(false);
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
      <p className="px-4 py-3">
        <Button glyph="plus" onClick={() => setAdding(true)}>
          {t("Add a gate")}
        </Button>
      </p>
      {adding ? <AddDialog hopCode={hopCode} onClose={() => setAdding(false)} /> : null}
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
        <StateFields {...{ state, setState, dueOn, setDueOn }} problem={ofDate} />
        <ProblemList problems={problems.filter((p) => p !== ofDate)} />
      </div>
    </Dialog>
  );
}

/** A gate's state and, of one that is not open, its date. */
function StateFields(props: {
  state: Gate["state"];
  setState: (state: Gate["state"]) => void;
  dueOn: string;
  setDueOn: (day: string) => void;
  /** Of the date. */
  problem: Problem | undefined;
}) {
  const words = useWords();
  const { t } = words;
  const { state, setState, dueOn, setDueOn, problem } = props;
  return (
    <>
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
          error={problem && problemWords(problem, words)}
          onChange={(e) => setDueOn(e.target.value)}
        />
      )}
    </>
  );
}

function AddDialog({ hopCode, onClose }: { hopCode: string; onClose: () => void }) {
  const words = useWords();
  const { t } = words;
  const router = useRouter();
  const show = useToast();
  const [kind, setKind] = useState<GateKind>("access permit");
  const [side, setSide] = useState<"both" | "near" | "far">("both");
  /** undefined = whom the kind suggests. */
  const [owner, setOwner] = useState<string>();
  const [state, setState] = useState<Gate["state"]>("open");
  const [dueOn, setDueOn] = useState("");
  const [problems, setProblems] = useState<readonly Problem[]>([]);
  const [busy, setBusy] = useState(false);
  const said = owner ?? t(USUAL_OWNERS[kind]);

  async function save(): Promise<void> {
    setBusy(true);
    const result = await addGate({
      hopCode,
      side,
      kind,
      // What is kept is English, as in the files that are brought in; what a person wrote stays as written.
      owner: owner ?? USUAL_OWNERS[kind],
      state,
      dueOn: state === "open" ? "" : dueOn,
    });
    setBusy(false);
    if (!result.ok) {
      setProblems(result.problems);
      return;
    }
    show({
      kind: "good",
      text: t('Gate "{{kind}}" added. The plan in force keeps its dates until the next plan.', {
        kind: t(kind),
      }),
    });
    onClose();
    router.refresh();
  }

  const of = (path: string) => problems.find((p) => p.path === path);
  const errorOf = (path: string) => {
    const problem = of(path);
    return problem && problemWords(problem, words);
  };
  const beside = new Set(["kind", "owner", "dueOn"]);
  return (
    <Dialog
      open
      onClose={onClose}
      title={t("Add a gate to {{hop}}", { hop: hopCode })}
      actions={
        <>
          <Button onClick={onClose}>{t("Close")}</Button>
          <Button kind="primary" busy={busy} onClick={save}>
            {t("Add the gate")}
          </Button>
        </>
      }
    >
      <div className="ui-form">
        <p>{t("What must be met before work starts. The gate is logged with your name.")}</p>
        <Select
          label={t("Gate")}
          value={kind}
          error={errorOf("kind")}
          choices={GATE_KINDS.map((value) => ({ value, label: t(value) }))}
          onChange={(e) => setKind(e.target.value as GateKind)}
        />
        <Select
          label={t("Holds")}
          value={side}
          choices={GATE_SIDES.map((s) => ({ ...s, label: t(s.label) }))}
          onChange={(e) => setSide(e.target.value as typeof side)}
        />
        <TextInput
          label={t("Owner")}
          hint={t("Who must act.")}
          value={said}
          maxLength={80}
          required
          error={errorOf("owner")}
          onChange={(e) => setOwner(e.target.value)}
        />
        <StateFields {...{ state, setState, dueOn, setDueOn }} problem={of("dueOn")} />
        <ProblemList problems={problems.filter((p) => !beside.has(p.path))} />
      </div>
    </Dialog>
  );
}
