"use client";

import { useRouter } from "next/navigation";
import { useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { DateInput, NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { visitTyped } from "@/app/_ui/language/visitTyped";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { VisitInput } from "@/app/_ui/VisitInput";
import { FAULT_CAUSES, type FaultCause } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { ItemSelect } from "../ItemSelect";
import { find } from "./actions";

export interface FoundFormProps {
  today: CalendarDate;
  initialItem?: string;
  items: readonly { code: string; name: string; needsSerial: boolean; isCable: boolean }[];
  /** With cable left, not on hold. */
  drums: readonly { serial: string; itemCode: string; placeCode: string; leftM: number }[];
  places: readonly { code: string; name: string; kind: string }[];
  /** Visits whose kit is issued: offered for where it was found. */
  visitIds: readonly string[];
}

/** It had left the places already: it was installed. */
const INSTALLED = "installed";

/** Records a piece that was found faulty; it goes on hold at once. */
export function FoundForm({ today, initialItem, items, drums, places, visitIds }: FoundFormProps) {
  const words = useWords();
  const { t, amount } = words;
  const router = useRouter();
  const [key, setKey] = useState(newKey);
  const warehouses = places.filter((p) => p.kind === "warehouse");

  const [itemCode, setItem] = useState(items.some((i) => i.code === initialItem) ? initialItem! : "");
  const [serial, setSerial] = useState("");
  const [quantity, setQuantity] = useState("1");
  const [cause, setCause] = useState<FaultCause>("dead on arrival");
  const [symptom, setSymptom] = useState("");
  const [from, setFrom] = useState(warehouses[0]?.code ?? INSTALLED);
  const [hold, setHold] = useState(warehouses[0]?.code ?? "");
  const [supplier, setSupplier] = useState("");
  const [visit, setVisit] = useState("");
  const [on, setOn] = useState<string>(today);
  const { send, busy, problems } = useSend(find);
  const needsSerial = items.find((i) => i.code === itemCode)?.needsSerial ?? false;
  const isCable = items.find((i) => i.code === itemCode)?.isCable ?? false;
  const own = drums.filter((d) => d.itemCode === itemCode);
  const [drumSerial, setDrum] = useState("");
  const drum = isCable ? (own.find((d) => d.serial === drumSerial) ?? own[0]) : undefined;
  const errorOf = (path: string) => {
    const p = problems.find((x) => x.path === path);
    return p && problemWords(p, words);
  };
  const choices = (list: typeof places) => list.map((p) => ({ value: p.code, label: `${p.code} ${p.name}` }));

  function submit(): void {
    send(
      {
        key,
        itemCode,
        ...(drum ? { drumSerial: drum.serial } : serial.trim() ? { serial: serial.trim() } : {}),
        quantity: drum ? drum.leftM : needsSerial ? 1 : Number(quantity),
        cause,
        symptom,
        ...(drum ? { fromPlace: drum.placeCode } : from === INSTALLED ? {} : { fromPlace: from }),
        warehouseCode: hold,
        ...(supplier.trim() ? { supplier: supplier.trim() } : {}),
        ...(visit.trim() ? { visitId: visitTyped(visit, t) } : {}),
        foundOn: on as CalendarDate,
      },
      ({ id }) => {
        setKey(newKey());
        router.push(`/stock/faults/${id}`);
        return t("Fault {{id}} is on hold; needs are netted again", { id: String(id) });
      },
    );
  }

  return (
    <Panel title={t("Record a faulty piece")}>
      <form
        className="ui-form"
        onSubmit={(e) => {
          e.preventDefault();
          submit();
        }}
      >
        <div className="ui-form-row">
          <ItemSelect
            label={t("Item")}
            items={items}
            value={itemCode}
            error={errorOf("item")}
            onItem={setItem}
          />
          {isCable ? (
            <Select
              label={t("Drum")}
              value={drum?.serial ?? ""}
              error={errorOf("drum")}
              hint={t("The whole drum goes on hold: no cut is planned from it.")}
              onChange={(e) => setDrum(e.target.value)}
              choices={own.map((d) => ({
                value: d.serial,
                label: t("{{drum}}: {{left}} at {{place}}", {
                  drum: d.serial,
                  left: amount(d.leftM, "m"),
                  place: d.placeCode,
                }),
              }))}
            />
          ) : (
            <TextInput
              label={t("Serial")}
              required={needsSerial}
              maxLength={60}
              value={serial}
              error={errorOf("serial")}
              hint={needsSerial ? t("On the unit's label.") : t("Empty when the piece has none.")}
              onChange={(e) => {
                setSerial(e.target.value);
                if (e.target.value.trim()) setQuantity("1");
              }}
            />
          )}
          {serial.trim() || needsSerial || isCable ? null : (
            <NumberInput
              label={t("Quantity")}
              min={1}
              required
              value={quantity}
              error={errorOf("quantity")}
              onChange={(e) => setQuantity(e.target.value)}
            />
          )}
        </div>
        <div className="ui-form-row">
          <Select
            label={t("What it is")}
            value={cause}
            onChange={(e) => setCause(e.target.value as FaultCause)}
            choices={FAULT_CAUSES.map((c) => ({ value: c, label: t(c) }))}
          />
          <TextInput
            label={t("What is wrong with it")}
            required
            minLength={3}
            maxLength={300}
            value={symptom}
            error={errorOf("symptom")}
            onChange={(e) => setSymptom(e.target.value)}
          />
        </div>
        <div className="ui-form-row">
          {isCable ? null : (
            <Select
              label={t("Where it was")}
              value={from}
              error={errorOf("from")}
              onChange={(e) => setFrom(e.target.value)}
              choices={[
                ...choices(places),
                { value: INSTALLED, label: t("installed already: outside every place") },
              ]}
            />
          )}
          <Select
            label={t("Goes on hold at")}
            value={hold}
            error={errorOf("warehouse")}
            onChange={(e) => setHold(e.target.value)}
            choices={choices(warehouses)}
          />
          <DateInput
            label={t("Found on")}
            required
            max={today}
            value={on}
            error={errorOf("on")}
            onChange={(e) => setOn(e.target.value)}
          />
        </div>
        <div className="ui-form-row">
          <TextInput
            label={t("Delivered by")}
            maxLength={120}
            value={supplier}
            hint={t("Empty: whom the item was ordered from last.")}
            onChange={(e) => setSupplier(e.target.value)}
          />
          <VisitInput
            label={t("On the visit")}
            value={visit}
            visitIds={visitIds}
            error={errorOf("visit")}
            hint={t("Such as H-012 near; empty when it was not on a site.")}
            onVisit={setVisit}
          />
        </div>
        <ProblemList problems={problems} />
        <div className="ui-form-actions">
          <Button kind="primary" type="submit" busy={busy}>
            {t("Put on hold")}
          </Button>
        </div>
      </form>
    </Panel>
  );
}
