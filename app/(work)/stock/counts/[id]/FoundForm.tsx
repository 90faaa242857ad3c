"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { Check, NumberInput } from "@/app/_ui/Field";
import { formatDate } from "@/app/_ui/format";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { CalendarDate } from "@/lib/time";
import { ItemSelect } from "../../ItemSelect";
import { LotFields } from "../../LotFields";
import { found } from "../actions";

/** Something that lies there and is not on the list. */
export function FoundForm(props: {
  id: number;
  items: readonly { code: string; name: string; expires: boolean; takesSerials: boolean }[];
  /** With their last day of use: it is not asked for again. */
  lots: readonly { code: string; itemCode: string; expiresOn: CalendarDate }[];
  today: CalendarDate;
}) {
  const { id, items, today } = props;
  const { t, locale } = useWords();
  const [itemCode, setItemCode] = useState("");
  const [lotCode, setLotCode] = useState("");
  const [expires, setExpires] = useState("");
  const [sureOfExpired, setSureOfExpired] = useState("");
  const [quantity, setQuantity] = useState("");
  const item = items.find((i) => i.code === itemCode);
  const known = props.lots.find((l) => l.itemCode === itemCode && l.code === lotCode.trim());
  const asksDay = item?.expires === true && known === undefined;
  const isExpired = asksDay && expires !== "" && expires < today;
  const { send, busy, problems } = useSend(found);
  return (
    <Panel title={t("Found, and not on the list")}>
      <form
        className="ui-form"
        onSubmit={(e) => {
          e.preventDefault();
          send(
            {
              id,
              itemCode,
              lotCode,
              ...(asksDay && expires ? { expiresOn: expires as CalendarDate } : {}),
              ...(isExpired && sureOfExpired === expires ? { sureOfExpired: expires as CalendarDate } : {}),
              quantity: Number(quantity),
            },
            (lineNo) => {
              setQuantity("");
              setLotCode("");
              setExpires("");
              return t("{{item}} counted on line {{lineNo}}", { item: itemCode, lineNo });
            },
          );
        }}
      >
        <div className="ui-form-row">
          <ItemSelect
            label={t("Item")}
            items={items}
            value={itemCode}
            onItem={(code) => {
              setItemCode(code);
              setLotCode("");
              setExpires("");
            }}
          />
          {item?.takesSerials ? null : (
            <LotFields
              ages={asksDay}
              lotRequired={item?.expires}
              lotHint={
                known
                  ? t("Good to {{expires}} by the ledger.", {
                      expires: formatDate(known.expiresOn, "full", locale),
                    })
                  : item?.expires
                    ? t("From the label: it has a last day of use.")
                    : t("Empty where it has none.")
              }
              lot={lotCode}
              expiresOn={expires}
              onLot={setLotCode}
              onExpires={setExpires}
            />
          )}
          <NumberInput
            label={t("Counted")}
            min={0.01}
            step="any"
            required
            value={quantity}
            onChange={(e) => setQuantity(e.target.value)}
          />
        </div>
        {isExpired ? (
          <Check
            label={t("Its last day of use is past: it lies there all the same")}
            checked={sureOfExpired === expires}
            onChange={(e) => setSureOfExpired(e.target.checked ? expires : "")}
          />
        ) : null}
        <ProblemList problems={problems} />
        <div className="ui-form-actions">
          <Button type="submit" busy={busy}>
            {t("Add it")}
          </Button>
        </div>
      </form>
    </Panel>
  );
}
