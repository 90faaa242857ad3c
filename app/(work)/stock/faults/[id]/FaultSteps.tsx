"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Check, DateInput, NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import { type FaultMovementKind, type FaultState, faultSteps } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { promise, takeStep } from "../actions";

export interface FaultStepsProps {
  fault: {
    id: number;
    state: FaultState;
    serial: string | null;
    drumSerial: string | null;
    /** The order on whose receipt it was put on hold. */
    orderCode: string | null;
    /** It came with an order that has no line for it. */
    isWrongItem: boolean;
    isMendable: boolean;
    since: CalendarDate;
    warehouseCode: string;
    expectedBackOn: CalendarDate | null;
    reference: string;
    supplier: string;
    quantity: number;
    unit: string;
  };
  today: CalendarDate;
  warehouses: readonly { code: string; name: string }[];
  /** Who has repaired something before. */
  repairers: readonly string[];
}

type StepKind = Exclude<FaultMovementKind, "quality hold">;

export const WORDS: Record<StepKind, { button: string; title: string; confirm: string; told: string }> = {
  "to repair": {
    button: "Send to repair",
    title: "Send it to repair",
    confirm: "It is sent",
    told: "Fault {{id}} is in repair; needs are netted again",
  },
  "from repair": {
    button: "Back from repair",
    title: "Back from repair",
    confirm: "It is back",
    told: "Fault {{id}} is back; needs are netted again",
  },
  exchange: {
    button: "Exchanged",
    title: "Another piece came for it",
    confirm: "It was exchanged",
    told: "Fault {{id}} was exchanged; needs are netted again",
  },
  release: {
    button: "Nothing wrong with it",
    title: "Release it from hold",
    confirm: "Release it",
    told: "Fault {{id}} is released; needs are netted again",
  },
  scrap: {
    button: "Scrap",
    title: "Scrap it",
    confirm: "Scrap it",
    told: "Fault {{id}} is scrapped; needs are netted again",
  },
  return: {
    button: "Back to the supplier",
    title: "Return it to the supplier",
    confirm: "It has left",
    told: "Fault {{id}} went back to the supplier; needs are netted again",
  },
};

/** The next steps of a faulty piece, each with its day and reason. */
export function FaultSteps(props: FaultStepsProps) {
  const { t } = useWords();
  const { fault } = props;
  const [open, setOpen] = useState<StepKind | "promise">();
  const steps = faultSteps(fault.state, !fault.isMendable) as readonly StepKind[];
  const close = () => setOpen(undefined);
  if (steps.length === 0) return null;
  return (
    <div className="ui-toolbar ui-no-print mt-3">
      {steps.map((kind, i) => (
        <Button key={kind} kind={i === 0 ? "primary" : undefined} onClick={() => setOpen(kind)}>
          {kind === "release" && fault.isWrongItem ? t("Keep it") : t(WORDS[kind].button)}
        </Button>
      ))}
      {fault.state === "in repair" ? (
        <Button onClick={() => setOpen("promise")}>
          {fault.expectedBackOn ? t("Another day back") : t("A day was promised")}
        </Button>
      ) : null}
      {steps.map((kind) => (
        <Dialog key={kind} open={open === kind} onClose={close} title={t(WORDS[kind].title)}>
          <StepForm {...props} kind={kind} onDone={close} />
        </Dialog>
      ))}
      <Dialog open={open === "promise"} onClose={close} title={t("When does it come back?")}>
        <PromiseForm {...props} onDone={close} />
      </Dialog>
    </div>
  );
}

function StepForm({
  fault,
  today,
  warehouses,
  repairers,
  kind,
  onDone,
}: FaultStepsProps & { kind: StepKind; onDone: () => void }) {
  const { t } = useWords();
  const [on, setOn] = useState<string>(today);
  const [reason, setReason] = useState("");
  const [repairer, setRepairer] = useState(repairers[0] ?? fault.supplier);
  const [reference, setReference] = useState(fault.reference);
  const [back, setBack] = useState("");
  const [placeCode, setPlace] = useState(fault.warehouseCode);
  const [newSerial, setNewSerial] = useState("");
  const [isAwaited, setAwaited] = useState(true);
  const [quantity, setQuantity] = useState(String(fault.quantity));
  const isDivisible =
    fault.state === "on hold" && fault.serial === null && fault.drumSerial === null && fault.quantity > 1;
  const { send, busy, problems } = useSend(takeStep);

  function stepOf() {
    if (kind === "to repair")
      return {
        kind,
        repairer,
        ...(reference.trim() ? { reference: reference.trim() } : {}),
        ...(back ? { expectedBackOn: back as CalendarDate } : {}),
      };
    if (kind === "exchange")
      return { kind, placeCode, ...(newSerial.trim() ? { newSerial: newSerial.trim() } : {}) };
    if (kind === "return") return { kind, isAwaited: fault.orderCode !== null && isAwaited };
    return kind === "scrap" ? { kind } : { kind, placeCode };
  }

  return (
    <form
      className="ui-form"
      onSubmit={(e) => {
        e.preventDefault();
        const part = isDivisible ? { quantity: Number(quantity) } : {};
        send({ id: fault.id, on: on as CalendarDate, reason, step: stepOf(), ...part }, ({ restId }) => {
          onDone();
          const told = t(WORDS[kind].told, { id: String(fault.id) });
          return restId === undefined
            ? told
            : `${told}. ${t("The rest stays on hold as fault {{id}}.", { id: String(restId) })}`;
        });
      }}
    >
      {isDivisible ? (
        <NumberInput
          label={t("Of how many")}
          unit={t(fault.unit)}
          required
          min={0.01}
          max={fault.quantity}
          value={quantity}
          hint={t("The rest stays on hold as a fault of its own.")}
          onChange={(e) => setQuantity(e.target.value)}
        />
      ) : null}
      {kind === "to repair" ? (
        <>
          <TextInput
            label={t("Repaired by")}
            required
            minLength={2}
            maxLength={120}
            value={repairer}
            hint={repairers.length > 0 ? t("So far: {{what}}.", { what: repairers.join(", ") }) : undefined}
            onChange={(e) => setRepairer(e.target.value)}
          />
          <TextInput
            label={t("Reference on its papers")}
            maxLength={60}
            value={reference}
            onChange={(e) => setReference(e.target.value)}
          />
          <DateInput
            label={t("Promised back on")}
            value={back}
            hint={t("Empty: not counted on.")}
            onChange={(e) => setBack(e.target.value)}
          />
        </>
      ) : null}
      {kind === "exchange" && fault.serial ? (
        <TextInput
          label={t("Serial of the piece that came")}
          required
          maxLength={60}
          value={newSerial}
          onChange={(e) => setNewSerial(e.target.value)}
        />
      ) : null}
      {kind === "from repair" || kind === "release" || kind === "exchange" ? (
        <Select
          label={t("Comes to")}
          value={placeCode}
          onChange={(e) => setPlace(e.target.value)}
          choices={warehouses.map((w) => ({ value: w.code, label: `${w.code} ${w.name}` }))}
        />
      ) : null}
      {kind === "return" && fault.orderCode && !fault.isWrongItem ? (
        <Check
          label={t("{{order}} waits for as much again", { order: fault.orderCode })}
          checked={isAwaited}
          onChange={(e) => setAwaited(e.target.checked)}
        />
      ) : null}
      <DateInput
        label={t("Happened on")}
        required
        min={fault.since}
        max={today}
        value={on}
        onChange={(e) => setOn(e.target.value)}
      />
      <TextInput
        label={t("Why")}
        required
        minLength={3}
        maxLength={300}
        value={reason}
        onChange={(e) => setReason(e.target.value)}
      />
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onDone}>{t("Leave as it is")}</Button>
        <Button kind="primary" type="submit" busy={busy}>
          {t(WORDS[kind].confirm)}
        </Button>
      </div>
    </form>
  );
}

function PromiseForm({ fault, onDone }: FaultStepsProps & { onDone: () => void }) {
  const { t } = useWords();
  const [day, setDay] = useState<string>(fault.expectedBackOn ?? "");
  return (
    <div className="ui-form">
      <DateInput
        label={t("Promised back on")}
        value={day}
        hint={t("Empty: no day is promised, and it is not counted on.")}
        onChange={(e) => setDay(e.target.value)}
      />
      <ReasonForm
        confirm={t("Keep the day")}
        leave={t("Leave as it is")}
        send={(reason, key) =>
          promise({ id: fault.id, expectedBackOn: (day || null) as CalendarDate | null, reason }, key)
        }
        done={() => t("Fault {{id}} has another day; needs are netted again", { id: String(fault.id) })}
        onDone={onDone}
      >
        {t("A promised day counts like a delivery.")}
      </ReasonForm>
    </div>
  );
}
