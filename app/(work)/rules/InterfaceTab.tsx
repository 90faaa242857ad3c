"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { ConfirmButton } from "@/app/_ui/ConfirmButton";
import { CopyField } from "@/app/_ui/CopyField";
import { Dialog } from "@/app/_ui/Dialog";
import { DialogForm } from "@/app/_ui/DialogForm";
import { EmptyState } from "@/app/_ui/EmptyState";
import { Check, FieldGroup, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";
import { Notice } from "@/app/_ui/Notice";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { Scope } from "@/db/schema/auth";
import { makeInterfaceKey, revokeInterfaceKey } from "./actions";

export interface KeyRow {
  id: string;
  name: string;
  scopes: readonly Scope[];
  made: string;
  /** Empty: until it is revoked. */
  expires: string;
  lastUsed: string;
  state: "open" | "run out" | "revoked";
  revoked: string;
}

export const SCOPE_WORDS: Readonly<Record<Scope, string>> = {
  "read needs": "Read needs and what to order",
  "read stock": "Read what lies where",
  "read orders": "Read orders and their prices",
  "post receipts": "Post what was delivered",
};

export const LASTS = [
  { value: "90", label: "90 days" },
  { value: "365", label: "a year" },
  { value: "", label: "until it is revoked" },
];

/** Programs that may ask and post without a person: each by a key of its own. */
export function InterfaceTab({ rows }: { rows: readonly KeyRow[] }) {
  const { t } = useWords();
  const [isOpen, setIsOpen] = useState(false);
  return (
    <Panel
      title={t("Keys of the open interface")}
      note={
        <>
          {t("A key lets a program, such as a company's purchasing, read needs and post deliveries.")}{" "}
          {t("What can be asked stands in")}{" "}
          <a href="/api/open/v1/openapi.json">{t("the OpenAPI document")}</a>.
        </>
      }
      actions={
        <Button size="small" kind="primary" onClick={() => setIsOpen(true)}>
          {t("New key")}
        </Button>
      }
      flush
    >
      {rows.length === 0 ? (
        <EmptyState title={t("No key yet")}>
          {t("Make one for each program, with only what it needs.")}
        </EmptyState>
      ) : (
        <KeyTable rows={rows} />
      )}
      <Dialog open={isOpen} onClose={() => setIsOpen(false)} title={t("New key")}>
        <NewKey onClose={() => setIsOpen(false)} />
      </Dialog>
    </Panel>
  );
}

function KeyTable({ rows }: { rows: readonly KeyRow[] }) {
  const { t } = useWords();
  const { send, problems } = useSend(revokeInterfaceKey);
  return (
    <>
      <ScrollRegion label={t("Keys of the open interface")} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Program")}</th>
              <th scope="col">{t("May")}</th>
              <th scope="col">{t("State")}</th>
              <th scope="col">{t("Last used")}</th>
              <th scope="col">{t("Made")}</th>
              <th scope="col">
                <span className="sr-only">{t("Revoke")}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <th scope="row" data-label={t("Program")}>
                  {row.name}
                </th>
                <td data-label={t("May")}>{row.scopes.map((scope) => t(scope)).join(", ")}</td>
                <td data-label={t("State")}>
                  <KeyState row={row} />
                </td>
                <td data-label={t("Last used")}>{row.lastUsed || t("never")}</td>
                <td data-label={t("Made")}>{row.made}</td>
                <td>
                  {row.state === "revoked" ? null : (
                    <ConfirmButton
                      question={t("Revoke the key of {{name}}?", { name: row.name })}
                      consequence={t(
                        "The program is refused from the next request on. What it posted stays.",
                      )}
                      confirmWords={t("Revoke it")}
                      onConfirm={() =>
                        send({ id: row.id }, () => t("The key of {{name}} is revoked.", { name: row.name }))
                      }
                    >
                      {t("Revoke")}
                      <span className="sr-only"> {t("the key of {{name}}", { name: row.name })}</span>
                    </ConfirmButton>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <ProblemList problems={problems} />
    </>
  );
}

function KeyState({ row }: { row: KeyRow }) {
  const { t } = useWords();
  if (row.state === "revoked")
    return <StateMark state="hold">{t("Revoked {{when}}", { when: row.revoked })}</StateMark>;
  if (row.state === "run out")
    return <StateMark state="warn">{t("Ran out {{when}}", { when: row.expires })}</StateMark>;
  return (
    <StateMark state="met">
      {row.expires ? t("Open until {{when}}", { when: row.expires }) : t("Open until it is revoked")}
    </StateMark>
  );
}

function NewKey({ onClose }: { onClose: () => void }) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(makeInterfaceKey);
  const [key, setKey] = useState<string>();
  if (key)
    return (
      <div className="grid gap-4">
        <Notice kind="good" announce title={t("Copy the key into the program now")}>
          {t("It is not shown again: only a hash of it is kept. Whoever has it may do what it may.")}
        </Notice>
        <CopyField label={t("Key")} text={key} />
        <div className="ui-form-actions justify-end">
          <Button kind="primary" onClick={onClose}>
            {t("I have copied it")}
          </Button>
        </div>
      </div>
    );
  return (
    <DialogForm
      {...{ problems, busy, onClose }}
      words={t("Make the key")}
      onSend={(form) =>
        send(
          {
            name: String(form.get("name") ?? ""),
            scopes: form.getAll("scopes") as Scope[],
            days: form.get("days") ? Number(form.get("days")) : null,
          },
          (made) => {
            setKey(made.key);
            return t("Key made for {{name}}.", { name: String(form.get("name")) });
          },
        )
      }
    >
      <TextInput
        label={t("Program")}
        name="name"
        autoComplete="off"
        hint={t("What it posts stands under this name in the ledger and in the log.")}
      />
      <FieldGroup label={t("It may")}>
        {(Object.keys(SCOPE_WORDS) as Scope[]).map((scope) => (
          <Check key={scope} label={t(SCOPE_WORDS[scope])} name="scopes" value={scope} />
        ))}
      </FieldGroup>
      <Select
        label={t("Lasts")}
        name="days"
        choices={LASTS.map((l) => ({ ...l, label: t(l.label) }))}
        defaultValue="365"
      />
    </DialogForm>
  );
}
