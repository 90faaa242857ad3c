"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { NumberInput, Select, TextArea } from "@/app/_ui/Field";
import { minorOf, typedMoney } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { StoredOrdering } from "@/db/queries/catalogue";
import { LOT_RULES, type LotRule } from "@/lib/stock";
import { lotRuleWords } from "./lotRuleWords";
import { setOrdering } from "./orderingActions";

export interface OrderingDialogProps {
  code: string;
  unit: string;
  currency: string;
  ordering: StoredOrdering;
}

/** Changes the lot rule of an item, its figures and its prices. */
export function OrderingDialog({ code, unit, currency, ordering: o }: OrderingDialogProps) {
  const { t } = useWords();
  const [open, setOpen] = useState(false);
  return (
    <>
      <Button onClick={() => setOpen(true)}>{t("Change how it is ordered")}</Button>
      <Dialog
        open={open}
        onClose={() => setOpen(false)}
        title={t("{{code}}: how much to order at a time", { code })}
        wide
      >
        <OrderingForm
          code={code}
          unit={unit}
          currency={currency}
          ordering={o}
          onDone={() => setOpen(false)}
        />
      </Dialog>
    </>
  );
}

/** "60: 33.00" a line. A line that is no price becomes NaN, which the server refuses by its line. */
function readBreaks(text: string, currency: string): { fromQuantity: number; priceMinor: number }[] {
  return text
    .split("\n")
    .map((line) => line.trim())
    .filter(Boolean)
    .map((line) => {
      const [quantity = "", price = ""] = line.split(":");
      return {
        fromQuantity: Number(quantity),
        priceMinor: price.trim() ? minorOf(price, currency) : Number.NaN,
      };
    });
}

const optional = (text: string): number | null => (text.trim() === "" ? null : Number(text));

function OrderingForm({
  code,
  unit,
  currency,
  ordering: o,
  onDone,
}: OrderingDialogProps & { onDone: () => void }) {
  const words = useWords();
  const { t } = words;
  const [form, setForm] = useState({
    lotRule: o.lotRule as string,
    orderMultiple: String(o.orderMultiple),
    minimumOrder: String(o.minimumOrder),
    safetyStock: String(o.safetyStock),
    orderCost: o.orderCostMinor === null ? "" : typedMoney(o.orderCostMinor, currency),
    holdingPercent:
      o.holdingSharePerYear === null ? "" : String(Math.round(o.holdingSharePerYear * 1e4) / 100),
    breaks: o.priceBreaks.map((b) => `${b.fromQuantity}: ${typedMoney(b.priceMinor, currency)}`).join("\n"),
  });
  const { send, busy, problems } = useSend(setOrdering);
  const set = (part: Partial<typeof form>) => setForm({ ...form, ...part });
  const field = (name: keyof typeof form) => ({
    value: form[name],
    onChange: (e: { target: { value: string } }) => set({ [name]: e.target.value }),
  });
  return (
    <form
      className="ui-form"
      onSubmit={(e) => {
        e.preventDefault();
        const percent = optional(form.holdingPercent);
        send(
          {
            code,
            lotRule: form.lotRule as LotRule["kind"],
            orderMultiple: Number(form.orderMultiple),
            minimumOrder: Number(form.minimumOrder),
            safetyStock: Number(form.safetyStock),
            orderCostMinor: form.orderCost.trim() === "" ? null : minorOf(form.orderCost, currency),
            holdingSharePerYear: percent === null ? null : percent / 100,
            priceBreaks: readBreaks(form.breaks, currency),
          },
          () => {
            onDone();
            return t("{{code}} is ordered by {{lotRule}}; needs are netted again", {
              code,
              lotRule: lotRuleWords(form.lotRule as LotRule["kind"], words),
            });
          },
        );
      }}
    >
      <Select
        label={t("Rule")}
        hint={t("What each would cost stands side by side on the item's page.")}
        choices={LOT_RULES.map((kind) => ({ value: kind, label: lotRuleWords(kind, words) }))}
        {...field("lotRule")}
      />
      <div className="ui-form-row">
        <NumberInput
          label={t("Order multiple")}
          unit={unit}
          min={0.01}
          step="any"
          required
          {...field("orderMultiple")}
        />
        <NumberInput
          label={t("Smallest order")}
          unit={unit}
          min={0}
          step="any"
          required
          {...field("minimumOrder")}
        />
        <NumberInput
          label={t("Safety stock")}
          unit={unit}
          min={0}
          step="any"
          required
          {...field("safetyStock")}
        />
      </div>
      <div className="ui-form-row">
        <NumberInput
          label={t("Placing an order costs")}
          unit={currency}
          min={0}
          step="any"
          hint={t("Empty: the figure of the rules.")}
          {...field("orderCost")}
        />
        <NumberInput
          label={t("A year on the shelf costs")}
          unit={t("% of the price")}
          min={0}
          max={200}
          step="any"
          hint={t("Empty: the figure of the rules.")}
          {...field("holdingPercent")}
        />
      </div>
      <TextArea
        label={t("Lower prices")}
        rows={3}
        hint={t(
          "One a line, quantity and price of a {{unit}} in {{currency}}, such as 60: 33.00. It holds for the whole order.",
          { unit, currency },
        )}
        {...field("breaks")}
      />
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
