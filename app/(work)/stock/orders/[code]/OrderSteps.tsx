"use client";

import { useState } from "react";
import { ReasonForm } from "@/app/_client/ReasonForm";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { DateInput, NumberInput, Select, TextInput } from "@/app/_ui/Field";
import { minorOf, typedMoney } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { OrderView } from "@/db/queries/orderViews";
import type { CalendarDate } from "@/lib/time";
import { approve, change, close, postpone, send as sendAction } from "../../actions";

export interface OrderStepsProps {
  order: OrderView;
  steps: { approve: boolean; send: boolean; close: boolean; change: boolean; postpone: boolean };
  /** Whom it waits for, when this person cannot take the next step. */
  waits?: string;
}

/** The next steps of an order that this person may take. */
export function OrderSteps({ order, steps, waits }: OrderStepsProps) {
  const { t } = useWords();
  const [dialog, setDialog] = useState<"close" | "change" | "postpone" | null>(null);
  const toApprove = useSend(approve);
  const toSend = useSend(sendAction);
  const any = Object.values(steps).some(Boolean);
  if (!any && !waits) return null;
  return (
    <div className="grid grid-cols-1 gap-2">
      <div className="ui-toolbar ui-no-print">
        {steps.approve ? (
          <Button
            kind="primary"
            busy={toApprove.busy}
            onClick={() =>
              toApprove.send({ code: order.code }, () => t("{{code}} approved", { code: order.code }))
            }
          >
            {t("Approve")}
          </Button>
        ) : null}
        {steps.send ? (
          <Button
            kind="primary"
            busy={toSend.busy}
            onClick={() =>
              toSend.send({ code: order.code }, () =>
                t("{{code}} is on the way; needs are netted again", { code: order.code }),
              )
            }
          >
            {t("Mark sent")}
          </Button>
        ) : null}
        {steps.change ? <Button onClick={() => setDialog("change")}>{t("Change (verb)")}</Button> : null}
        {steps.postpone ? <Button onClick={() => setDialog("postpone")}>{t("Another day")}</Button> : null}
        {steps.close ? <Button onClick={() => setDialog("close")}>{t("Close")}</Button> : null}
        {waits ? <span className="text-quiet">{waits}</span> : null}
      </div>
      <ProblemList problems={[...toApprove.problems, ...toSend.problems]} />
      <Dialog
        open={dialog === "close"}
        onClose={() => setDialog(null)}
        title={t("Close {{code}}?", { code: order.code })}
      >
        <ReasonForm
          confirm={t("Close the order")}
          leave={t("Keep it open")}
          isDanger
          send={(reason, key) => close({ code: order.code, reason }, key)}
          done={() => t("{{code}} closed", { code: order.code })}
          onDone={() => setDialog(null)}
        >
          {t(
            "What has not come will not be waited for. This cannot be undone; what is still needed is proposed anew.",
          )}
        </ReasonForm>
      </Dialog>
      <Dialog
        open={dialog === "postpone"}
        onClose={() => setDialog(null)}
        title={t("{{code}}: the supplier gives another day", { code: order.code })}
      >
        <PostponeForm order={order} onDone={() => setDialog(null)} />
      </Dialog>
      <Dialog
        open={dialog === "change"}
        onClose={() => setDialog(null)}
        title={t("Change {{code}}", { code: order.code })}
        wide
      >
        <ChangeForm
          order={order}
          onDone={() => {
            setDialog(null);
            // What was refused may be right now.
            toApprove.clear();
            toSend.clear();
          }}
        />
      </Dialog>
    </div>
  );
}

function PostponeForm({ order, onDone }: { order: OrderView; onDone: () => void }) {
  const { t } = useWords();
  const open = order.lines.filter((l) => l.receivedC < l.quantityC);
  const [lineNo, setLineNo] = useState(open[0]?.lineNo ?? 0);
  const line = open.find((l) => l.lineNo === lineNo);
  const [dueOn, setDueOn] = useState<string>(line?.dueOn ?? "");
  const [reason, setReason] = useState("");
  const { send, busy, problems } = useSend(postpone);
  return (
    <form
      className="ui-form"
      onSubmit={(e) => {
        e.preventDefault();
        send({ code: order.code, lineNo, dueOn: dueOn as CalendarDate, reason }, () => {
          onDone();
          return t("{{code}} line {{lineNo}} has another day; needs are netted again", {
            code: order.code,
            lineNo,
          });
        });
      }}
    >
      <p>
        {t("The day first promised stays: how often and how long a supplier is late is reckoned from it.")}
      </p>
      <Select
        label={t("Line")}
        value={String(lineNo)}
        onChange={(e) => {
          setLineNo(Number(e.target.value));
          setDueOn(open.find((l) => l.lineNo === Number(e.target.value))?.dueOn ?? "");
        }}
        choices={open.map((l) => ({ value: String(l.lineNo), label: `${l.lineNo}: ${l.itemCode}` }))}
      />
      <DateInput label={t("Now due on")} required value={dueOn} onChange={(e) => setDueOn(e.target.value)} />
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
          {t("Note the day")}
        </Button>
      </div>
    </form>
  );
}

function ChangeForm({ order, onDone }: { order: OrderView; onDone: () => void }) {
  const { t } = useWords();
  const [supplier, setSupplier] = useState(order.supplier);
  const [lines, setLines] = useState(
    order.lines.map((l) => ({
      lineNo: l.lineNo,
      quantity: String(l.quantityC / 100),
      dueOn: l.dueOn as string,
      price: typedMoney(l.priceMinor, l.currency),
    })),
  );
  const { send, busy, problems } = useSend(change);
  const set = (at: number, part: Partial<(typeof lines)[number]>) =>
    setLines(lines.map((l, i) => (i === at ? { ...l, ...part } : l)));
  return (
    <form
      className="ui-form"
      onSubmit={(e) => {
        e.preventDefault();
        send(
          {
            code: order.code,
            supplier,
            lines: lines.map((l, i) => ({
              lineNo: l.lineNo,
              quantity: Number(l.quantity),
              dueOn: l.dueOn as CalendarDate,
              ...(order.kind === "purchase"
                ? { priceMinor: minorOf(l.price, order.lines[i]!.currency) }
                : {}),
            })),
          },
          () => {
            onDone();
            return t("{{code}} changed", { code: order.code });
          },
        );
      }}
    >
      {order.state === "approved" ? (
        <p>{t("A changed order goes back to proposed and is approved again.")}</p>
      ) : null}
      <TextInput
        label={t("Supplier")}
        required
        value={supplier}
        onChange={(e) => setSupplier(e.target.value)}
      />
      {order.lines.map((l, i) => (
        <div key={l.lineNo} className="ui-form-row">
          <NumberInput
            label={t("Line {{lineNo}}: {{item}}", { lineNo: l.lineNo, item: l.itemCode })}
            unit={t(l.unit)}
            min={0.01}
            required
            value={lines[i]!.quantity}
            hint={t("Ordered in multiples of {{multiple}}.", { multiple: l.multiple })}
            onChange={(e) => set(i, { quantity: e.target.value })}
          />
          <DateInput
            label={t("Due, line {{lineNo}}", { lineNo: l.lineNo })}
            required
            value={lines[i]!.dueOn}
            onChange={(e) => set(i, { dueOn: e.target.value })}
          />
          {order.kind === "purchase" ? (
            <NumberInput
              label={t("Price a {{unit}}, line {{lineNo}}", { unit: t(l.unit), lineNo: l.lineNo })}
              unit={l.currency}
              min={0}
              step="any"
              required
              value={lines[i]!.price}
              hint={l.isPriceAgreed ? t("As it stands on the order.") : t("The catalogue's, not agreed yet.")}
              onChange={(e) => set(i, { price: e.target.value })}
            />
          ) : null}
        </div>
      ))}
      <ProblemList problems={problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onDone}>{t("Leave as it is")}</Button>
        <Button kind="primary" type="submit" busy={busy}>
          {t("Save")}
        </Button>
      </div>
    </form>
  );
}
