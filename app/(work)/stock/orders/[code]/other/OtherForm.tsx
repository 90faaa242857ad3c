"use client";

import { useRouter } from "next/navigation";
import { useRef, useState } from "react";
import { newKey } from "@/app/_client/newKey";
import { useSend } from "@/app/_client/useSend";
import { Button, LinkButton } from "@/app/_ui/Button";
import { DateInput, NumberInput, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { problemWords } from "@/app/_ui/language/problemWords";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { CalendarDate } from "@/lib/time";
import { ItemSelect } from "../../../ItemSelect";
import { LotFields } from "../../../LotFields";
import { orderPath } from "../../../words";
import { receiveOther } from "./actions";

export interface OtherFormProps {
  orderCode: string;
  today: CalendarDate;
  /** What is on no line of the order. */
  items: readonly {
    code: string;
    name: string;
    unit: string;
    isCable: boolean;
    isRadio: boolean;
    expires: boolean;
  }[];
}

/** What is asked follows from the item: cable has a drum, what ages a lot, a radio may have a serial. */
export function OtherForm({ orderCode, today, items }: OtherFormProps) {
  const words = useWords();
  const { t } = words;
  const router = useRouter();
  const [itemCode, setItem] = useState("");
  const [quantity, setQuantity] = useState("");
  const [serial, setSerial] = useState("");
  const [lotCode, setLot] = useState("");
  const [expiresOn, setExpires] = useState("");
  const [on, setOn] = useState<string>(today);
  const [reason, setReason] = useState("");
  const key = useRef(newKey());
  const { send, busy, problems } = useSend(receiveOther);
  const item = items.find((i) => i.code === itemCode);
  const errorAt = (path: string) => {
    const p = problems.find((x) => x.path === path);
    return p && problemWords(p, words);
  };

  function submit(): void {
    const named = serial.trim();
    send(
      {
        code: orderCode,
        key: key.current,
        itemCode,
        quantity: Number(quantity),
        ...(item?.expires && lotCode.trim() ? { lotCode: lotCode.trim() } : {}),
        ...(item?.expires && expiresOn ? { expiresOn: expiresOn as CalendarDate } : {}),
        ...(item?.isCable && named ? { drumSerial: named } : {}),
        ...(item?.isRadio && named ? { serial: named } : {}),
        reason,
        on: on as CalendarDate,
      },
      () => {
        router.push(orderPath(orderCode));
        return t("{{item}} taken in and on hold", { item: itemCode });
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
      <ItemSelect
        label={t("What came")}
        items={items}
        value={itemCode}
        error={errorAt("item")}
        onItem={(code) => {
          setItem(code);
          setSerial("");
          setLot("");
          setExpires("");
        }}
      />
      {item ? (
        <div className="ui-form-row">
          <NumberInput
            label={item.isCable ? t("Length on the drum") : t("Quantity")}
            unit={t(item.unit)}
            required
            min={0.01}
            value={quantity}
            error={errorAt("quantity")}
            onChange={(e) => setQuantity(e.target.value)}
          />
          {item.isCable || item.isRadio ? (
            <TextInput
              label={item.isCable ? t("Serial of the drum") : t("Serial")}
              required={item.isCable}
              maxLength={60}
              value={serial}
              hint={item.isRadio ? t("Of one piece; may stay empty.") : undefined}
              error={errorAt(item.isCable ? "drum" : "serial")}
              onChange={(e) => setSerial(e.target.value)}
            />
          ) : null}
          {item.expires ? (
            <LotFields
              ages
              lot={lotCode}
              expiresOn={expiresOn}
              lotError={errorAt("lot")}
              onLot={setLot}
              onExpires={setExpires}
            />
          ) : null}
        </div>
      ) : null}
      <DateInput
        label={t("Received on")}
        required
        max={today}
        value={on}
        error={errorAt("on")}
        onChange={(e) => setOn(e.target.value)}
      />
      <TextInput
        label={t("In your words")}
        required
        minLength={3}
        maxLength={300}
        value={reason}
        hint={t("Such as: in place of line 2; the papers name the right one.")}
        onChange={(e) => setReason(e.target.value)}
      />
      <ProblemList problems={problems} />
      <div className="ui-form-actions">
        <LinkButton href={orderPath(orderCode)}>{t("Leave as it is")}</LinkButton>
        <Button kind="primary" type="submit" busy={busy}>
          {t("Take it in, on hold")}
        </Button>
      </div>
    </form>
  );
}
