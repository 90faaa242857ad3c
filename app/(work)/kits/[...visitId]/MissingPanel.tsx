"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button, LinkButton } from "@/app/_ui/Button";
import { Check, NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { formatCm, formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import type { Words } from "@/app/_ui/language/words";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { KitLineView } from "@/db/queries/kitView";
import { serialsTyped } from "@/lib/stock";
import { cutPath } from "../../stock/words";
import { issueRest } from "../actions";
import { CountedFields } from "./CountedFields";
import { claimWords, runWords } from "./lineWords";

export interface MissingPanelProps {
  visitId: string;
  /** Lines that the issued kit lacks something of, runs too. */
  lines: readonly KitLineView[];
  placeName: string;
  /** The vehicles that the kit was issued into. */
  vehicles: readonly string[];
}

/** How much of it lies on the kit's shelf, up to what is missing. */
const onShelfC = (l: KitLineView): number => l.refill.reduce((sum, s) => sum + s.quantityC, 0);

/** Of it what nobody who comes first counts on. */
const freeC = (l: KitLineView): number =>
  l.refill.reduce((sum, s) => sum + (s.isClaimed ? 0 : s.quantityC), 0);

/** What an issued kit lacks goes after it: picked, counted and issued like the kit itself. */
export function MissingPanel({ visitId, lines, placeName, vehicles }: MissingPanelProps) {
  const words = useWords();
  const { t, locale } = words;
  const [vehicle, setVehicle] = useState(vehicles[0] ?? "");
  const [quantities, setQuantities] = useState<Readonly<Record<number, string>>>({});
  const [counted, setCounted] = useState("");
  const [countedBy, setCountedBy] = useState("");
  const { send, busy, problems } = useSend(issueRest);
  const [serials, setSerials] = useState<Readonly<Record<number, string>>>({});
  const [left, setLeft] = useState<Readonly<Record<number, boolean>>>({});
  const items = lines.filter((l) => l.runId === null);
  const runs = lines.filter((l) => l.runId !== null);
  // What was cut elsewhere has to come over first: whoever has it in hand ticks it.
  const goes = (l: KitLineView) => l.cut !== null && (left[l.lineNo] ?? l.cutPlace === null);
  const typed = (l: KitLineView) => quantities[l.lineNo] ?? String(freeC(l) / 100);
  return (
    <Panel
      title={t("Issue what is missing")}
      note={t(
        "Pick it at {{placeName}}, let a second person count it, and issue it to the vehicle that has the kit.",
        { placeName },
      )}
    >
      <form
        className="ui-form"
        onSubmit={(e) => {
          e.preventDefault();
          send(
            {
              visitId,
              vehiclePlace: vehicle,
              counted: Number(counted),
              countedBy,
              lines: [
                ...items.map((l) => ({
                  lineNo: l.lineNo,
                  quantity: Number(typed(l) || 0),
                  serials: serialsTyped(serials[l.lineNo] ?? ""),
                })),
                ...runs.flatMap((l) =>
                  goes(l) ? [{ lineNo: l.lineNo, quantity: (l.cut?.quantityC ?? 0) / 100 }] : [],
                ),
              ],
            },
            (sent) => {
              setQuantities({});
              setSerials({});
              setLeft({});
              setCounted("");
              return [
                sent.rows > 0
                  ? t("What was missing is issued: {{count}} rows in the ledger", { count: sent.rows })
                  : "",
                sent.runs > 0 ? t("{{count}} cut runs sent after the kit", { count: sent.runs }) : "",
              ]
                .filter(Boolean)
                .join(". ");
            },
          );
        }}
      >
        <div className="ui-form-row">
          {items.map((l) => (
            <NumberInput
              key={l.lineNo}
              name={l.itemCode}
              label={`${l.itemCode} ${l.name}`}
              unit={t(l.unit)}
              min={0}
              max={l.lacksC / 100}
              step={l.unit === "m" ? 0.01 : 1}
              hint={shelfWords(l, words)}
              value={typed(l)}
              onChange={(e) => setQuantities({ ...quantities, [l.lineNo]: e.target.value })}
            />
          ))}
        </div>
        {items
          .filter((l) => l.takesSerials)
          .map((l) => (
            <TextInput
              key={l.lineNo}
              label={t("Serials of {{item}}", { item: l.itemCode })}
              name={`missingSerials ${l.lineNo}`}
              maxLength={2000}
              value={serials[l.lineNo] ?? ""}
              hint={t("From the labels, with commas between; empty = not read.")}
              onChange={(e) => setSerials({ ...serials, [l.lineNo]: e.target.value })}
            />
          ))}
        {runs.map((l) => (
          <div key={l.lineNo} className="grid gap-1">
            {l.cut ? (
              <>
                <Check
                  label={`${l.itemCode} ${l.name}, ${formatCm(l.cut.quantityC, locale)}`}
                  name={`run ${l.lineNo}`}
                  checked={goes(l)}
                  onChange={(e) => setLeft({ ...left, [l.lineNo]: e.target.checked })}
                />
                <p className="text-quiet">{runWords(l, words)}</p>
              </>
            ) : (
              <p>
                {l.itemCode} {l.name}, {formatCm(l.neededC, locale)}{" "}
                <span className="text-quiet">{runWords(l, words)}</span>{" "}
                {l.drumSerial ? (
                  <LinkButton size="small" href={cutPath(l.runId ?? "")}>
                    {t("Cut it first")} <span className="sr-only">{l.name}</span>
                  </LinkButton>
                ) : null}
              </p>
            )}
          </div>
        ))}
        <div className="ui-form-row">
          {vehicles.length > 1 ? (
            <Select
              label={t("Loaded into")}
              name="missingVehicle"
              value={vehicle}
              onChange={(e) => setVehicle(e.target.value)}
              choices={vehicles.map((v) => ({ value: v, label: v }))}
            />
          ) : null}
          <CountedFields
            label={t("Things counted")}
            names={{ counted: "missingCounted", countedBy: "missingCountedBy" }}
            counted={counted}
            countedBy={countedBy}
            onCounted={setCounted}
            onCountedBy={setCountedBy}
          />
        </div>
        <ProblemList problems={problems} />
        <div className="ui-form-actions">
          <Button kind="primary" type="submit" busy={busy} disabled={items.length === 0 && !runs.some(goes)}>
            {t("Issue to {{vehicle}}", { vehicle })}
          </Button>
        </div>
      </form>
    </Panel>
  );
}

/** "Missing: 1 piece; on the shelf: 1 piece, lot A7, good to ..." */
function shelfWords(l: KitLineView, words: Words): string {
  const { t, amount, locale } = words;
  const missing = t("{{quantity}} missing", { quantity: amount(l.lacksC / 100, l.unit) });
  if (l.refill.length === 0) return `${missing}. ${t("None on this shelf.")}`;
  const lots = l.refill
    .filter((s) => s.lotCode)
    .map((s) =>
      [
        `${amount(s.quantityC / 100, l.unit)}: ${t("lot {{lot}}", { lot: s.lotCode })}`,
        s.expiresOn ? t("good to {{day}}", { day: formatDate(s.expiresOn, "full", locale) }) : "",
      ]
        .filter(Boolean)
        .join(", "),
    );
  const there =
    lots.length > 0
      ? lots.join("; ")
      : t("{{quantity}} on the shelf", { quantity: amount(onShelfC(l) / 100, l.unit) });
  return [`${missing}. ${there}.`, claimWords(l, words)].filter(Boolean).join(" ");
}
