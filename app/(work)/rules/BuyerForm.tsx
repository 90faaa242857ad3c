"use client";

import type { FormEvent } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { TextArea, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import type { Buyer } from "@/db/queries/settings";
import { keepBuyer } from "./actions";

/** Who orders, as suppliers read it on every order. */
export function BuyerForm({ buyer }: { buyer?: Buyer }) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(keepBuyer);
  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    const form = new FormData(event.currentTarget);
    const text = (name: string) => String(form.get(name) ?? "");
    send({ name: text("name"), address: text("address"), contact: text("contact") }, () =>
      t("Orders name {{name}}.", { name: text("name") }),
    );
  }
  return (
    <Panel title={t("Who orders")} note={t("Stands on every purchase order and call-off.")}>
      <form className="ui-form" style={{ maxWidth: "46rem" }} onSubmit={submit}>
        <TextInput label={t("Name")} name="name" required maxLength={120} defaultValue={buyer?.name} />
        <TextArea
          label={t("Address")}
          name="address"
          rows={3}
          maxLength={400}
          defaultValue={buyer?.address}
          hint={t("For the invoice. Where it is delivered stands on each order.")}
        />
        <TextInput
          label={t("Contact")}
          name="contact"
          maxLength={200}
          defaultValue={buyer?.contact}
          hint={t("Whom a supplier asks: a name and a telephone or mail address.")}
        />
        <ProblemList problems={problems} />
        <div className="ui-form-actions">
          <Button type="submit" busy={busy}>
            {t("Save")}
          </Button>
        </div>
      </form>
    </Panel>
  );
}
