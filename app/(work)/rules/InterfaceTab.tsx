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

const SCOPE_WORDS: Readonly<Record<Scope, string>> = {
  "read needs": "Read needs and what to order",
  "read stock": "Read what lies where",
  "read orders": "Read orders and their prices",
  "post receipts": "Post what was delivered",
};

const LASTS = [
  { value: "90", label: "90 days" },
  { value: "365", label: "a year" },
  { value: "", label: "until it is revoked" },
];

/** Programs that may ask and post without a person: each by a key of its own. */
export function InterfaceTab({ rows }: { rows: readonly KeyRow[] }) {
  const [isOpen, setIsOpen] = useState(false);
  return (
    <Panel
      title="Keys of the open interface"
      note={
        <>
          A key lets a program, such as a company's purchasing, read needs and post deliveries. What can be
          asked stands in <a href="/api/open/v1/openapi.json">the OpenAPI document</a>.
        </>
      }
      actions={
        <Button size="small" kind="primary" onClick={() => setIsOpen(true)}>
          New key
        </Button>
      }
      flush
    >
      {rows.length === 0 ? (
        <EmptyState title="No key yet">Make one for each program, with only what it needs.</EmptyState>
      ) : (
        <KeyTable rows={rows} />
      )}
      <Dialog open={isOpen} onClose={() => setIsOpen(false)} title="New key">
        <NewKey onClose={() => setIsOpen(false)} />
      </Dialog>
    </Panel>
  );
}

function KeyTable({ rows }: { rows: readonly KeyRow[] }) {
  const { send, problems } = useSend(revokeInterfaceKey);
  return (
    <>
      <ScrollRegion label="Keys of the open interface" className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">Program</th>
              <th scope="col">May</th>
              <th scope="col">State</th>
              <th scope="col">Last used</th>
              <th scope="col">Made</th>
              <th scope="col">
                <span className="sr-only">Revoke</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <th scope="row" data-label="Program">
                  {row.name}
                </th>
                <td data-label="May">{row.scopes.join(", ")}</td>
                <td data-label="State">
                  <KeyState row={row} />
                </td>
                <td data-label="Last used">{row.lastUsed}</td>
                <td data-label="Made">{row.made}</td>
                <td>
                  {row.state === "revoked" ? null : (
                    <ConfirmButton
                      question={`Revoke the key of ${row.name}?`}
                      consequence="The program is refused from the next request on. What it posted stays."
                      confirmWords="Revoke it"
                      onConfirm={() => send({ id: row.id }, () => `The key of ${row.name} is revoked.`)}
                    >
                      Revoke<span className="sr-only"> the key of {row.name}</span>
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
  if (row.state === "revoked") return <StateMark state="hold">Revoked {row.revoked}</StateMark>;
  if (row.state === "run out") return <StateMark state="warn">Ran out {row.expires}</StateMark>;
  return (
    <StateMark state="met">
      {row.expires ? `Open until ${row.expires}` : "Open until it is revoked"}
    </StateMark>
  );
}

function NewKey({ onClose }: { onClose: () => void }) {
  const { send, busy, problems } = useSend(makeInterfaceKey);
  const [key, setKey] = useState<string>();
  if (key)
    return (
      <div className="grid gap-4">
        <Notice kind="good" announce title="Copy the key into the program now">
          It is not shown again: only a hash of it is kept. Whoever has it may do what it may.
        </Notice>
        <CopyField label="Key" text={key} />
        <div className="ui-form-actions justify-end">
          <Button kind="primary" onClick={onClose}>
            I have copied it
          </Button>
        </div>
      </div>
    );
  return (
    <DialogForm
      {...{ problems, busy, onClose }}
      words="Make the key"
      onSend={(form) =>
        send(
          {
            name: String(form.get("name") ?? ""),
            scopes: form.getAll("scopes") as Scope[],
            days: form.get("days") ? Number(form.get("days")) : null,
          },
          (made) => {
            setKey(made.key);
            return `Key made for ${form.get("name")}.`;
          },
        )
      }
    >
      <TextInput
        label="Program"
        name="name"
        autoComplete="off"
        hint="What it posts stands under this name in the ledger and in the log."
      />
      <FieldGroup label="It may">
        {(Object.keys(SCOPE_WORDS) as Scope[]).map((scope) => (
          <Check key={scope} label={SCOPE_WORDS[scope]} name="scopes" value={scope} />
        ))}
      </FieldGroup>
      <Select label="Lasts" name="days" choices={LASTS} defaultValue="365" />
    </DialogForm>
  );
}
