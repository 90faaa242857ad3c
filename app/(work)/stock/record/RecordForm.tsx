"use client";

import { useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Check, DateInput, FieldGroup, NumberInput, Select, TextArea, TextInput } from "@/app/_ui/Field";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { visitTyped } from "@/app/_ui/language/visitTyped";
import { ProblemList } from "@/app/_ui/ProblemList";
import { VisitInput } from "@/app/_ui/VisitInput";
import { SCRAP_REASONS, type ScrapReason, serialsTyped } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { record } from "../actions";
import { ItemSelect } from "../ItemSelect";
import { LotFields } from "../LotFields";
import { stockFieldWords } from "../stockFieldWords";

export const KINDS = [
  ["receipt", "Receipt without an order"],
  ["transfer", "Transfer between places"],
  ["count adjustment", "Count of a place"],
  ["scrap", "Scrap"],
  ["return", "Return to a warehouse"],
] as const;
type Kind = (typeof KINDS)[number][0];

export interface RecordFormProps {
  today: CalendarDate;
  initialKind?: string;
  initialItem?: string;
  items: readonly {
    code: string;
    name: string;
    unit: string;
    isCable: boolean;
    expires: boolean;
    takesSerials: boolean;
  }[];
  places: readonly { code: string; name: string; kind: string }[];
  lots: readonly { code: string; itemCode: string; expiresOn: CalendarDate | null }[];
  drums: readonly { serial: string; itemCode: string; placeCode: string; leftM: number }[];
  /** Visits whose kit is issued: offered for what came of it. */
  visitIds: readonly string[];
  balances: readonly { itemCode: string; placeCode: string; lotCode: string; quantity: number }[];
}

export function RecordForm(props: RecordFormProps) {
  const words = useWords();
  const { t, locale, amount } = words;
  const { today, items, places, visitIds } = props;
  const [kind, setKind] = useState<Kind>(KINDS.find(([k]) => k === props.initialKind)?.[0] ?? "transfer");
  const [itemCode, setItem] = useState(
    items.some((i) => i.code === props.initialItem) ? props.initialItem! : "",
  );
  const [from, setFrom] = useState("");
  const [to, setTo] = useState("");
  const [lot, setLot] = useState("");
  const [expires, setExpires] = useState("");
  const [sureOfExpired, setSureOfExpired] = useState("");
  const [drum, setDrum] = useState("");
  const [serials, setSerials] = useState("");
  const [quantity, setQuantity] = useState("");
  const [on, setOn] = useState<string>(today);
  const [reason, setReason] = useState("");
  const [visit, setVisit] = useState("");
  const [scrapReason, setScrapReason] = useState<ScrapReason>(SCRAP_REASONS[0]);
  const hasVisit = kind === "scrap" || kind === "return";
  const [key, setKey] = useState(newKey);
  const { send, busy, problems } = useSend(record);
  const item = items.find((i) => i.code === itemCode);
  const hasFrom = kind !== "receipt";
  const hasTo = kind === "receipt" || kind === "transfer" || kind === "return";
  const isCount = kind === "count adjustment";
  const hasSerials = kind === "receipt" && item?.takesSerials === true;
  const isExpired = kind === "receipt" && item?.expires === true && expires !== "" && expires < today;
  const lots = props.lots.filter((l) => l.itemCode === itemCode);
  const drums = props.drums.filter((d) => d.itemCode === itemCode && (!from || d.placeCode === from));
  const there = props.balances
    .filter((b) => b.itemCode === itemCode && b.placeCode === from && (!lot || b.lotCode === lot))
    .reduce((sum, b) => sum + b.quantity, 0);
  const chosenDrum = props.drums.find((d) => d.serial === drum);
  const choices = (kinds: readonly string[]) =>
    places
      .filter((p) => kinds.includes(p.kind))
      .map((p) => ({ value: p.code, label: `${p.code} ${p.name}` }));
  const fieldProblem = (path: string) => {
    const p = problems.find((x) => x.path === path);
    return p && problemWords(p, words);
  };

  function submit(): void {
    send(
      {
        kind,
        itemCode,
        ...(hasFrom && from ? { fromPlace: from } : {}),
        ...(hasTo && to ? { toPlace: to } : {}),
        quantity: Number(quantity),
        ...(lot.trim() ? { lotCode: lot.trim() } : {}),
        ...(kind === "receipt" && expires ? { expiresOn: expires as CalendarDate } : {}),
        ...(isExpired && sureOfExpired === expires ? { sureOfExpired: expires as CalendarDate } : {}),
        ...(item?.isCable && drum.trim() ? { drumSerial: drum.trim() } : {}),
        ...(hasSerials ? { serials: serialsTyped(serials) } : {}),
        ...(hasVisit && visit.trim() ? { visitId: visitTyped(visit, t) } : {}),
        on: on as CalendarDate,
        reason,
        ...(kind === "scrap" ? { scrapReason } : {}),
        key,
      },
      ({ id }) => {
        setKey(newKey());
        setQuantity("");
        setSerials("");
        setReason("");
        return t("{{item}}: {{amount}} posted as row {{id}}", {
          item: itemCode,
          amount: amount(Number(quantity), item?.unit ?? "piece"),
          id: String(id),
        });
      },
    );
  }

  return (
    <form
      className="ui-form"
      style={{ maxWidth: "46rem" }}
      onSubmit={(e) => {
        e.preventDefault();
        submit();
      }}
    >
      <FieldGroup label={t("What")}>
        {KINDS.map(([k, label]) => (
          <Check
            key={k}
            kind="radio"
            name="kind"
            label={t(label)}
            checked={kind === k}
            onChange={() => {
              setKind(k);
              setLot("");
              setDrum("");
            }}
          />
        ))}
      </FieldGroup>
      <ItemSelect
        label={t("Item")}
        items={items}
        value={itemCode}
        error={fieldProblem("item")}
        onItem={(code) => {
          setItem(code);
          setLot("");
          setDrum("");
          setSerials("");
        }}
      />
      <div className="ui-form-row">
        {hasFrom ? (
          <Select
            label={isCount ? t("Place") : t("From")}
            value={from}
            empty={t("Choose")}
            required
            error={fieldProblem("from")}
            onChange={(e) => setFrom(e.target.value)}
            choices={choices(kind === "return" ? ["vehicle", "site"] : ["warehouse", "vehicle", "site"])}
            hint={
              from && !item?.isCable
                ? t("The ledger has {{there}} there.", { there: amount(there, item?.unit ?? "") })
                : undefined
            }
          />
        ) : null}
        {hasTo ? (
          <Select
            label={t("To")}
            value={to}
            empty={t("Choose")}
            required
            error={fieldProblem("to")}
            onChange={(e) => setTo(e.target.value)}
            choices={choices(kind === "return" ? ["warehouse"] : ["warehouse", "vehicle", "site"])}
          />
        ) : null}
      </div>
      <div className="ui-form-row">
        {item?.isCable ? (
          kind === "receipt" ? (
            <TextInput
              label={t("Serial of the drum")}
              required
              maxLength={60}
              value={drum}
              error={fieldProblem("drum")}
              onChange={(e) => setDrum(e.target.value)}
            />
          ) : (
            <Select
              label={t("Drum")}
              value={drum}
              empty={t("Choose")}
              required
              error={fieldProblem("drum")}
              onChange={(e) => {
                setDrum(e.target.value);
                const d = props.drums.find((x) => x.serial === e.target.value);
                if (d && (kind === "transfer" || kind === "return")) setQuantity(String(d.leftM));
              }}
              choices={drums.map((d) => ({
                value: d.serial,
                label: `${d.serial}, ${d.leftM} m, ${d.placeCode}`,
              }))}
              hint={kind === "transfer" ? t("A drum moves with all that is left on it.") : undefined}
            />
          )
        ) : hasSerials && !item.expires ? null : kind === "receipt" ? (
          <LotFields
            ages={item?.expires ?? false}
            lot={lot}
            expiresOn={expires}
            lotError={fieldProblem("lot")}
            onLot={setLot}
            onExpires={setExpires}
          />
        ) : lots.length > 0 ? (
          <Select
            label={t("Lot")}
            value={lot}
            empty={t("Without a lot")}
            error={fieldProblem("lot")}
            onChange={(e) => setLot(e.target.value)}
            choices={lots.map((l) => ({
              value: l.code,
              label: l.expiresOn
                ? t("{{code}}, good to {{expires}}", {
                    code: l.code,
                    expires: formatDate(l.expiresOn, "full", locale),
                  })
                : l.code,
            }))}
          />
        ) : null}
        <NumberInput
          label={isCount ? t("Counted") : t("Quantity")}
          unit={item && t(item.unit)}
          min={isCount ? 0 : 0.01}
          required
          value={quantity}
          error={fieldProblem("quantity")}
          hint={
            isCount
              ? chosenDrum
                ? t("What lies there. The difference to the ledger ({{leftM}} m) is posted.", {
                    leftM: chosenDrum.leftM,
                  })
                : t("What lies there. The difference to the ledger is posted.")
              : undefined
          }
          onChange={(e) => setQuantity(e.target.value)}
        />
        <DateInput
          label={t("Happened on")}
          required
          max={today}
          value={on}
          error={fieldProblem("on")}
          hint={t("May lie in the past: every later balance is checked.")}
          onChange={(e) => setOn(e.target.value)}
        />
      </div>
      {hasSerials ? (
        <TextArea
          label={t("Serials")}
          name="serials"
          rows={2}
          maxLength={6000}
          value={serials}
          error={fieldProblem("serials")}
          hint={t("From the labels, one a line or with commas between; empty = not read.")}
          onChange={(e) => setSerials(e.target.value)}
        />
      ) : null}
      {isExpired ? (
        <Check
          label={t("Its last day of use is past: it is taken in all the same")}
          checked={sureOfExpired === expires}
          onChange={(e) => setSureOfExpired(e.target.checked ? expires : "")}
        />
      ) : null}
      {kind === "scrap" ? (
        <Select
          label={t("Why it is scrapped")}
          value={scrapReason}
          onChange={(e) => setScrapReason(e.target.value as ScrapReason)}
          choices={SCRAP_REASONS.map((value) => ({ value, label: t(value) }))}
          hint={t("What the offcut report sums up.")}
        />
      ) : null}
      <TextInput
        label={kind === "scrap" ? t("In your words") : t("Why")}
        required
        minLength={3}
        maxLength={300}
        value={reason}
        error={fieldProblem("reason")}
        onChange={(e) => setReason(e.target.value)}
      />
      {hasVisit ? (
        <VisitInput
          label={t("For the visit")}
          value={visit}
          visitIds={visitIds}
          error={fieldProblem("visit")}
          hint={t(
            "As on its kit, such as H-012 near; empty when it belongs to none. Counts for the hop's close-out.",
          )}
          onVisit={setVisit}
        />
      ) : null}
      <ProblemList problems={problems} nameOf={(path) => stockFieldWords(path, t)} />
      <div className="ui-form-actions">
        <Button kind="primary" type="submit" busy={busy}>
          {t("Post to the ledger")}
        </Button>
      </div>
    </form>
  );
}
