"use client";

import { useRef, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Check } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { StateMark } from "@/app/_ui/StateMark";
import type { BlindLine } from "@/db/queries/countViews";
import { count } from "../actions";

/** What lies at the place, to be counted: without the ledger's figures. */
export function TallyList({
  id,
  lines,
  readOnly,
}: {
  id: number;
  lines: readonly BlindLine[];
  readOnly: boolean;
}) {
  const { t } = useWords();
  const [onlyOpen, setOnlyOpen] = useState(false);
  const open = lines.filter((l) => l.countedC === null);
  const shown = onlyOpen ? open : lines;
  return (
    <Panel
      title={
        lines.length === 0
          ? t("Nothing to count: the ledger knows of nothing here")
          : open.length === 0
            ? t("All {{count}} lines counted", { count: lines.length })
            : t("{{count}} lines of {{lines}} to count", { count: open.length, lines: lines.length })
      }
      actions={
        lines.length === 0 ? undefined : (
          <Check
            label={t("Only what is not counted")}
            checked={onlyOpen}
            onChange={(e) => setOnlyOpen(e.target.checked)}
          />
        )
      }
      flush
    >
      <ul>
        {shown.map((l) => (
          <TallyLine key={`${l.lineNo} ${l.countedC}`} id={id} line={l} readOnly={readOnly} />
        ))}
      </ul>
    </Panel>
  );
}

/** Whoever counts goes from shelf to shelf: Enter leads on to the next line, which saving this one leaves alone. */
function focusNextLine(form: HTMLFormElement): void {
  const fields = [...(form.closest("ul")?.querySelectorAll<HTMLInputElement>("input[type=number]") ?? [])];
  const next = fields[fields.findIndex((field) => form.contains(field)) + 1];
  next?.focus();
  next?.select();
}

function TallyLine({ id, line: l, readOnly }: { id: number; line: BlindLine; readOnly: boolean }) {
  const { t, amount, unit } = useWords();
  const [quantity, setQuantity] = useState(l.countedC === null ? "" : String(l.countedC / 100));
  const { send, busy, problems } = useSend(count);
  const saved = useRef(quantity);
  /** Also when the field is left: whoever walks on forgets the button. */
  function save(): void {
    if (quantity === "" || (quantity === saved.current && problems.length === 0)) return;
    saved.current = quantity;
    send({ id, lineNo: l.lineNo, quantity: Number(quantity) }, () => undefined);
  }
  const of = [
    l.lotCode && t("lot {{lot}}", { lot: l.lotCode }),
    l.drumSerial && t("drum {{drumSerial}}", { drumSerial: l.drumSerial }),
    l.owner === "customer" && t("the customer's"),
  ]
    .filter(Boolean)
    .join(", ");
  const name = `${l.itemCode} ${of}`.trim();
  return (
    <li className="border-t border-line px-4 py-3">
      <form
        className="flex flex-wrap items-center gap-x-4 gap-y-2"
        onSubmit={(e) => {
          e.preventDefault();
          focusNextLine(e.currentTarget);
          save();
        }}
      >
        <div className="min-w-0 flex-1 basis-64">
          <strong>{l.itemCode}</strong> {l.name}
          {of ? <p className="text-quiet">{of}</p> : null}
        </div>
        {l.countedC === null ? (
          <StateMark state="open">{t("not counted")}</StateMark>
        ) : (
          <StateMark state="done">
            {amount(l.countedC / 100, l.unit)}, {l.countedByName}
          </StateMark>
        )}
        {readOnly ? null : (
          <span className="flex items-center gap-2">
            <label className="flex items-center gap-2">
              <span className="sr-only">{t("Counted of {{name}}", { name })}</span>
              <input
                type="number"
                inputMode="decimal"
                min={0}
                step={l.unit === "m" ? 0.01 : "any"}
                required
                className="ui-input"
                style={{ width: "6.5rem" }}
                value={quantity}
                onChange={(e) => setQuantity(e.target.value)}
                onBlur={(e) => {
                  if (e.target.validity.valid) save();
                }}
              />
              {unit(Number(quantity), l.unit)}
            </label>
            <Button type="submit" size="small" busy={busy}>
              {t("Save")} <span className="sr-only">{name}</span>
            </Button>
          </span>
        )}
      </form>
      <ProblemList problems={problems} />
    </li>
  );
}
