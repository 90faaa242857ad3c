"use client";

import { useRef, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Check, DateInput, FieldGroup, NumberInput, Select, TextArea, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { OrderLineView, OrderView } from "@/db/queries/orderViews";
import { serialsTyped } from "@/lib/stock";
import type { CalendarDate } from "@/lib/time";
import { receive } from "../../actions";
import { stockFieldWords } from "../../stockFieldWords";

interface Draft {
  quantity: string;
  lotCode: string;
  expiresOn: string;
  /** The past day that the clerk confirmed. */
  sureOfExpired?: string;
  drums: { serial: string; length: string; holdReason?: string }[];
  /** As typed, of radios. */
  serials: string;
  /** Part that goes on hold at once, and why. */
  hold: string;
  holdReason: string;
}

/** Whole drums still to come, as empty rows to fill in from the labels. */
function draftOf(l: OrderLineView): Draft {
  const open = Math.max(0, (l.quantityC - l.receivedC) / 100);
  const count = l.isCable ? Math.max(1, Math.round(open / l.multiple)) : 0;
  return {
    quantity: l.isCable ? "" : String(open),
    lotCode: "",
    expiresOn: "",
    serials: "",
    hold: "",
    holdReason: "",
    drums: Array.from({ length: count }, () => ({ serial: "", length: String(l.multiple) })),
  };
}

interface ReceiveFormProps {
  order: OrderView;
  warehouses: readonly { code: string; name: string }[];
  today: CalendarDate;
}

/** Books a delivery, in part or whole. Drums get their serial and length from the label. */
export function ReceiveForm({ order, warehouses, today }: ReceiveFormProps) {
  const { t, amount, unit } = useWords();
  const open = order.lines.filter((l) => l.receivedC < l.quantityC);
  const [on, setOn] = useState<string>(today);
  const [placeCode, setPlace] = useState(order.placeCode);
  const [overReason, setOverReason] = useState("");
  const [drafts, setDrafts] = useState(() => new Map(open.map((l) => [l.lineNo, draftOf(l)])));
  const key = useRef(newKey());
  const { send, busy, problems } = useSend(receive);
  const isOver = problems.some((p) => p.rule === "over-delivery");

  // After a delivery is booked the page stays for the next: what is still to come then is a draft anew.
  const draftFor = (l: OrderLineView): Draft => drafts.get(l.lineNo) ?? draftOf(l);
  const set = (l: OrderLineView, part: Partial<Draft>) =>
    setDrafts(new Map(drafts).set(l.lineNo, { ...draftFor(l), ...part }));

  function submit(): void {
    const lines = open.map((l) => {
      const d = draftFor(l);
      const drums = d.drums
        .filter((x) => x.serial.trim() !== "")
        .map((x) => ({
          serial: x.serial.trim(),
          length: Number(x.length),
          ...(x.holdReason === undefined ? {} : { holdReason: x.holdReason }),
        }));
      return {
        lineNo: l.lineNo,
        quantity: l.isCable
          ? Math.round(drums.reduce((sum, x) => sum + x.length, 0) * 100) / 100
          : Number(d.quantity || 0),
        ...(d.lotCode.trim() ? { lotCode: d.lotCode.trim() } : {}),
        ...(d.expiresOn ? { expiresOn: d.expiresOn as CalendarDate } : {}),
        ...(d.sureOfExpired ? { sureOfExpired: d.sureOfExpired as CalendarDate } : {}),
        ...(l.takesSerials && d.serials.trim() ? { serials: serialsTyped(d.serials) } : {}),
        ...(!l.isCable && Number(d.hold) > 0
          ? { hold: { quantity: Number(d.hold), reason: d.holdReason } }
          : {}),
        ...(l.isCable ? { drums } : {}),
      };
    });
    send(
      {
        code: order.code,
        on: on as CalendarDate,
        key: key.current,
        ...(placeCode === order.placeCode ? {} : { placeCode }),
        overReason,
        lines: lines.filter((l) => l.quantity > 0 || (l.drums?.length ?? 0) > 0),
      },
      (state) => {
        key.current = newKey();
        setDrafts(new Map());
        setOverReason("");
        setPlace(order.placeCode);
        return state === "closed"
          ? t("{{code}} received in full", { code: order.code })
          : t("Delivery booked; {{code}} waits for the rest", { code: order.code });
      },
    );
  }

  return (
    <Panel
      title={t("Receive a delivery")}
      note={t("Into {{placeName}}. Leave a line at 0 when it has not come.", {
        placeName: warehouses.find((w) => w.code === placeCode)?.name ?? order.placeName,
      })}
    >
      <form
        className="ui-form"
        onSubmit={(e) => {
          e.preventDefault();
          submit();
        }}
      >
        <DateInput
          label={t("Received on")}
          required
          max={today}
          value={on}
          onChange={(e) => setOn(e.target.value)}
        />
        {warehouses.length > 1 ? (
          <Select
            label={t("Came to")}
            value={placeCode}
            choices={warehouses.map((w) => ({ value: w.code, label: `${w.code} ${w.name}` }))}
            hint={
              placeCode === order.placeCode
                ? undefined
                : t("The order names {{place}}: it counts as delivered, and lies where it came.", {
                    place: order.placeName,
                  })
            }
            onChange={(e) => setPlace(e.target.value)}
          />
        ) : null}
        {open.map((l) => {
          const d = draftFor(l);
          const name = t("Line {{lineNo}}: {{item}}", { lineNo: l.lineNo, item: l.itemCode });
          // A single drum on an order of nothing else: without its serial nothing would be booked.
          const isSerialWanted = l.isCable && open.length === 1 && d.drums.length === 1;
          const toCome = t("{{quantity}} still to come.", {
            quantity: amount((l.quantityC - l.receivedC) / 100, l.unit),
          });
          return (
            <FieldGroup key={l.lineNo} label={`${name} ${l.name}`}>
              {l.isCable ? (
                <div className="ui-form">
                  <p className="text-quiet">
                    {t("{{toCome}} One row per drum; leave the serial blank where none came.", { toCome })}
                  </p>
                  {d.drums.map((x, i) => (
                    // biome-ignore lint/suspicious/noArrayIndexKey: rows have no name until they are filled in
                    <div key={i} className="ui-form-row">
                      <TextInput
                        label={t("Serial of drum {{i}}", { i: i + 1 })}
                        required={isSerialWanted}
                        value={x.serial}
                        maxLength={60}
                        onChange={(e) =>
                          set(l, {
                            drums: d.drums.map((y, j) => (j === i ? { ...y, serial: e.target.value } : y)),
                          })
                        }
                      />
                      <NumberInput
                        label={t("Length of drum {{i}}", { i: i + 1 })}
                        unit="m"
                        min={0.01}
                        value={x.length}
                        onChange={(e) =>
                          set(l, {
                            drums: d.drums.map((y, j) => (j === i ? { ...y, length: e.target.value } : y)),
                          })
                        }
                      />
                      <Check
                        label={t("Drum {{no}} goes on hold", { no: i + 1 })}
                        checked={x.holdReason !== undefined}
                        onChange={(e) =>
                          set(l, {
                            drums: d.drums.map((y, j) =>
                              j === i ? { ...y, holdReason: e.target.checked ? "" : undefined } : y,
                            ),
                          })
                        }
                      />
                      {x.holdReason === undefined ? null : (
                        <TextInput
                          label={t("Why drum {{no}} goes on hold", { no: i + 1 })}
                          required
                          minLength={3}
                          maxLength={300}
                          value={x.holdReason}
                          hint={t("Such as: jacket damaged, wrong type.")}
                          onChange={(e) =>
                            set(l, {
                              drums: d.drums.map((y, j) =>
                                j === i ? { ...y, holdReason: e.target.value } : y,
                              ),
                            })
                          }
                        />
                      )}
                    </div>
                  ))}
                  <div>
                    <Button
                      size="small"
                      onClick={() =>
                        set(l, { drums: [...d.drums, { serial: "", length: String(l.multiple) }] })
                      }
                    >
                      {t("Another drum")}
                    </Button>
                  </div>
                </div>
              ) : (
                <div className="ui-form-row">
                  <NumberInput
                    label={t("Quantity, line {{lineNo}}", { lineNo: l.lineNo })}
                    unit={unit(Number(d.quantity), l.unit)}
                    min={0}
                    value={d.quantity}
                    hint={toCome}
                    onChange={(e) => set(l, { quantity: e.target.value })}
                  />
                  {l.expires ? (
                    <>
                      <TextInput
                        label={t("Lot, line {{lineNo}}", { lineNo: l.lineNo })}
                        required={Number(d.quantity) > 0}
                        hint={t("From the label: it has a last day of use.")}
                        value={d.lotCode}
                        maxLength={60}
                        onChange={(e) => set(l, { lotCode: e.target.value })}
                      />
                      <DateInput
                        label={t("Last day of use, line {{lineNo}}", { lineNo: l.lineNo })}
                        required={Number(d.quantity) > 0}
                        value={d.expiresOn}
                        onChange={(e) => set(l, { expiresOn: e.target.value })}
                      />
                      {d.expiresOn !== "" && d.expiresOn < today ? (
                        <Check
                          label={t("Its last day of use is past: line {{line}} is taken in all the same", {
                            line: l.lineNo,
                          })}
                          checked={d.sureOfExpired === d.expiresOn}
                          onChange={(e) =>
                            set(l, { sureOfExpired: e.target.checked ? d.expiresOn : undefined })
                          }
                        />
                      ) : null}
                    </>
                  ) : null}
                  <NumberInput
                    label={t("Of these on hold, line {{line}}", { line: l.lineNo })}
                    unit={unit(Number(d.hold), l.unit)}
                    min={0}
                    max={Number(d.quantity) || undefined}
                    value={d.hold}
                    hint={t("Received, but for no kit until somebody decides.")}
                    onChange={(e) => set(l, { hold: e.target.value })}
                  />
                  {Number(d.hold) > 0 ? (
                    <TextInput
                      label={t("Why on hold, line {{line}}", { line: l.lineNo })}
                      required
                      minLength={3}
                      maxLength={300}
                      value={d.holdReason}
                      onChange={(e) => set(l, { holdReason: e.target.value })}
                    />
                  ) : null}
                  {l.takesSerials ? (
                    <TextArea
                      label={t("Serials, line {{lineNo}}", { lineNo: l.lineNo })}
                      rows={2}
                      maxLength={6000}
                      hint={t(
                        "From the labels, one a line or with commas between; empty = not read. Of what goes on hold leave them out.",
                      )}
                      value={d.serials}
                      onChange={(e) => set(l, { serials: e.target.value })}
                    />
                  ) : null}
                </div>
              )}
            </FieldGroup>
          );
        })}
        {isOver || overReason ? (
          <TextInput
            label={t("Why the surplus is taken in")}
            value={overReason}
            maxLength={300}
            hint={t("Goes into the ledger with the receipt.")}
            onChange={(e) => setOverReason(e.target.value)}
          />
        ) : null}
        <ProblemList problems={problems} nameOf={(path) => stockFieldWords(path, t)} />
        <div className="ui-form-actions">
          <Button kind="primary" type="submit" busy={busy}>
            {t("Book the delivery")}
          </Button>
        </div>
      </form>
    </Panel>
  );
}
