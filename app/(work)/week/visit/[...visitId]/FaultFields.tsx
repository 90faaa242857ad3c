"use client";

import { useState } from "react";
import { Button } from "@/app/_ui/Button";
import { Disclosure } from "@/app/_ui/Disclosure";
import { Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { FAULT_CAUSES, type FaultCause } from "@/lib/stock";

export interface FaultChoice {
  itemCode: string;
  name: string;
  /** Radio units are followed by their serials. */
  needsSerial: boolean;
}

/** More units than this are dead on one visit hardly ever; the office records the others. */
const MOST = 6;

/** Units that the crew found dead or failing; a row without an item is left out. */
export function FaultFields({ items }: { items: readonly FaultChoice[] }) {
  const { t } = useWords();
  const [count, setCount] = useState(1);
  return (
    <Disclosure summary={t("A unit is dead or faulty")}>
      <div className="grid gap-3">
        {Array.from({ length: count }, (_, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: rows are only added at the end
          <Row key={i} i={i} items={items} />
        ))}
        {count < MOST ? (
          <Button type="button" onClick={() => setCount(count + 1)}>
            {t("Another unit")}
          </Button>
        ) : null}
      </div>
    </Disclosure>
  );
}

function Row({ i, items }: { i: number; items: readonly FaultChoice[] }) {
  const { t } = useWords();
  const [code, setCode] = useState("");
  const needsSerial = items.find((x) => x.itemCode === code)?.needsSerial ?? false;
  return (
    <fieldset className="grid gap-2 sm:grid-cols-2">
      <legend>{t("Faulty unit {{number}}", { number: i + 1 })}</legend>
      <Select
        label={t("Which unit")}
        name={`fault-item-${i}`}
        value={code}
        empty={t("None")}
        onChange={(event) => setCode(event.target.value)}
        choices={items.map((x) => ({ value: x.itemCode, label: `${x.itemCode} ${x.name}` }))}
      />
      <TextInput
        label={t("Serial on its label")}
        name={`fault-serial-${i}`}
        maxLength={60}
        required={needsSerial}
      />
      <Select
        label={t("What it is")}
        name={`fault-cause-${i}`}
        defaultValue="dead on arrival"
        choices={FAULT_CAUSES.map((c) => ({ value: c, label: causeWords(c, t) }))}
      />
      <TextInput
        label={t("What is wrong with it")}
        name={`fault-symptom-${i}`}
        minLength={3}
        maxLength={300}
        required={code !== ""}
      />
    </fieldset>
  );
}

function causeWords(cause: FaultCause, t: Words["t"]): string {
  if (cause === "dead on arrival") return t("dead on arrival");
  return cause === "failed in service" ? t("failed in service") : t("doubtful");
}

/** The rows of the form, as the server reads them (app/api/reports). */
export function faultsFrom(form: FormData) {
  const text = (name: string) => String(form.get(name) ?? "").trim();
  return Array.from({ length: MOST }, (_, i) => i).flatMap((i) => {
    const itemCode = text(`fault-item-${i}`);
    const serial = text(`fault-serial-${i}`);
    if (!itemCode) return [];
    return [
      {
        itemCode,
        ...(serial ? { serial } : {}),
        cause: text(`fault-cause-${i}`) as FaultCause,
        symptom: text(`fault-symptom-${i}`),
      },
    ];
  });
}
