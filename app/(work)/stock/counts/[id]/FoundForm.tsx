"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { NumberInput, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ItemSelect } from "../../ItemSelect";
import { found } from "../actions";

/** Something that lies there and is not on the list. */
export function FoundForm({ id, items }: { id: number; items: readonly { code: string; name: string }[] }) {
  const { t } = useWords();
  const [itemCode, setItemCode] = useState("");
  const [lotCode, setLotCode] = useState("");
  const [quantity, setQuantity] = useState("");
  const { send, busy, problems } = useSend(found);
  return (
    <Panel title={t("Found, and not on the list")}>
      <form
        className="ui-form"
        onSubmit={(e) => {
          e.preventDefault();
          send({ id, itemCode, lotCode, quantity: Number(quantity) }, (lineNo) => {
            setQuantity("");
            setLotCode("");
            return t("{{item}} counted on line {{lineNo}}", { item: itemCode, lineNo });
          });
        }}
      >
        <div className="ui-form-row">
          <ItemSelect label={t("Item")} items={items} value={itemCode} onItem={setItemCode} />
          <TextInput
            label={t("Lot")}
            maxLength={60}
            hint={t("Empty where it has none.")}
            value={lotCode}
            onChange={(e) => setLotCode(e.target.value)}
          />
          <NumberInput
            label={t("Counted")}
            min={0.01}
            step="any"
            required
            value={quantity}
            onChange={(e) => setQuantity(e.target.value)}
          />
        </div>
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
