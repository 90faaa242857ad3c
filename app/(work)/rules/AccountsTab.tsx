"use client";

import { type FormEvent, type ReactNode, useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button, LinkButton } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { Select, TextInput } from "@/app/_ui/Field";
import { ROLE_WORDS, type Role } from "@/app/_ui/nav";
import { Panel } from "@/app/_ui/Panel";
import { ProblemList } from "@/app/_ui/ProblemList";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { Problem } from "@/lib/result";
import { changeRole, closeAccount, createAccount, setPassword } from "./actions";

export interface AccountRow {
  id: string;
  name: string;
  email: string;
  role: Role;
  crewId: string | null;
  isClosed: boolean;
}

export interface AccountsTabProps {
  people: readonly AccountRow[];
  crews: readonly { code: string; name: string }[];
  ownId: string;
  passwordMin: number;
}

type Open = { what: "new" } | { what: "role" | "password" | "close"; person: AccountRow };

/** Who may sign in, as what; made, changed, closed and opened here. */
export function AccountsTab({ people, crews, ownId, passwordMin }: AccountsTabProps) {
  const [open, setOpen] = useState<Open>();
  const close = () => setOpen(undefined);
  const forms = { crews, passwordMin, onClose: close };
  return (
    <Panel
      title="Accounts"
      note="A closed account cannot sign in; its name stays in the history."
      actions={
        <Button size="small" kind="primary" onClick={() => setOpen({ what: "new" })}>
          New account
        </Button>
      }
      flush
    >
      <ScrollRegion label="Accounts" className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">Sign-in name</th>
              <th scope="col">Role</th>
              <th scope="col">Crew</th>
              <th scope="col">State</th>
              <th scope="col">
                <span className="sr-only">Change</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {people.map((p) => (
              <tr key={p.id}>
                <th scope="row" data-label="Name">
                  {p.name}
                  {p.id === ownId ? ", you" : ""}
                </th>
                <td data-label="Sign-in name">{p.email}</td>
                <td data-label="Role">{ROLE_WORDS[p.role]}</td>
                <td data-label="Crew">{p.crewId ?? "\u2013"}</td>
                <td data-label="State">
                  {p.isClosed ? (
                    <StateMark state="hold">Closed</StateMark>
                  ) : (
                    <StateMark state="met">Open</StateMark>
                  )}
                </td>
                <td>
                  {p.id === ownId ? (
                    <LinkButton size="small" kind="plain" href="/rules/password">
                      Change your password
                    </LinkButton>
                  ) : (
                    <div className="flex flex-wrap gap-1">
                      <Act words="Role" name={p.name} onClick={() => setOpen({ what: "role", person: p })} />
                      <Act
                        words="New password"
                        name={p.name}
                        onClick={() => setOpen({ what: "password", person: p })}
                      />
                      <Act
                        words={p.isClosed ? "Open" : "Close"}
                        name={p.name}
                        onClick={() => setOpen({ what: "close", person: p })}
                      />
                    </div>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <Dialog open={open !== undefined} onClose={close} title={titleOf(open)}>
        {open?.what === "new" ? <NewAccount {...forms} /> : null}
        {open?.what === "role" ? <RoleForm {...forms} person={open.person} /> : null}
        {open?.what === "password" ? <PasswordForm {...forms} person={open.person} /> : null}
        {open?.what === "close" ? <CloseForm {...forms} person={open.person} /> : null}
      </Dialog>
    </Panel>
  );
}

function Act({ words, name, onClick }: { words: string; name: string; onClick: () => void }) {
  return (
    <Button size="small" kind="plain" onClick={onClick}>
      {words}
      <span className="sr-only">: {name}</span>
    </Button>
  );
}

function titleOf(open: Open | undefined): string {
  if (!open) return "";
  if (open.what === "new") return "New account";
  const { name, isClosed } = open.person;
  if (open.what === "role") return `Role of ${name}`;
  if (open.what === "password") return `New password for ${name}`;
  return isClosed ? `Open the account of ${name}?` : `Close the account of ${name}?`;
}

interface FormProps {
  crews: AccountsTabProps["crews"];
  passwordMin: number;
  onClose: () => void;
}

function Frame(props: {
  children: ReactNode;
  problems: readonly Problem[];
  busy: boolean;
  words: string;
  onClose: () => void;
  onSend: (form: FormData) => void;
}) {
  function submit(event: FormEvent<HTMLFormElement>): void {
    event.preventDefault();
    props.onSend(new FormData(event.currentTarget));
  }
  return (
    <form className="ui-form" onSubmit={submit} noValidate>
      {props.children}
      <ProblemList problems={props.problems} />
      <div className="ui-form-actions justify-end">
        <Button onClick={props.onClose}>Leave as it is</Button>
        <Button kind="primary" type="submit" busy={props.busy}>
          {props.words}
        </Button>
      </div>
    </form>
  );
}

const ROLE_CHOICES = (Object.keys(ROLE_WORDS) as Role[]).map((value) => ({
  value,
  label: ROLE_WORDS[value],
}));

function RoleFields(props: { crews: FormProps["crews"]; startsAs: Role; crewId: string | null }) {
  const { crews, startsAs, crewId } = props;
  const [chosen, setChosen] = useState<Role>(startsAs);
  return (
    <div className="ui-form-row">
      <Select
        label="Role"
        name="role"
        choices={ROLE_CHOICES}
        value={chosen}
        onChange={(e) => setChosen(e.target.value as Role)}
      />
      <Select
        label="Crew"
        name="crewId"
        empty="None"
        choices={crews.map((c) => ({ value: c.code, label: `${c.code} ${c.name}` }))}
        defaultValue={crewId ?? ""}
        disabled={chosen !== "crew lead"}
        hint="Crew leads only"
      />
    </div>
  );
}

const roleOf = (form: FormData) => ({
  role: String(form.get("role")) as Role,
  crewId: String(form.get("crewId") ?? "") || null,
});

function PasswordField({ min, autoFocus }: { min: number; autoFocus?: boolean }) {
  return (
    <TextInput
      label={autoFocus ? "New password" : "First password"}
      name="password"
      type="password"
      autoComplete="new-password"
      hint={`At least ${min} characters. Tell the person; they change it under Password.`}
      autoFocus={autoFocus}
    />
  );
}

function NewAccount({ crews, passwordMin, onClose }: FormProps) {
  const { send, busy, problems } = useSend(createAccount);
  return (
    <Frame
      {...{ problems, busy, onClose }}
      words="Make the account"
      onSend={(form) =>
        send(
          {
            name: String(form.get("name") ?? ""),
            email: String(form.get("email") ?? ""),
            password: String(form.get("password") ?? ""),
            ...roleOf(form),
          },
          () => {
            onClose();
            return `Account made for ${form.get("name")}.`;
          },
        )
      }
    >
      <TextInput label="Name" name="name" autoComplete="off" autoFocus />
      <TextInput
        label="Sign-in name"
        name="email"
        type="email"
        autoComplete="off"
        hint="In the form of an e-mail address"
      />
      <RoleFields crews={crews} startsAs="logistics" crewId={null} />
      <PasswordField min={passwordMin} />
    </Frame>
  );
}

function RoleForm({ crews, onClose, person }: FormProps & { person: AccountRow }) {
  const { send, busy, problems } = useSend(changeRole);
  return (
    <Frame
      {...{ problems, busy, onClose }}
      words="Save"
      onSend={(form) =>
        send({ id: person.id, ...roleOf(form) }, () => {
          onClose();
          return `${person.name} signs in anew with the new role.`;
        })
      }
    >
      <p>Their sessions end, so that the new role holds everywhere at once.</p>
      <RoleFields crews={crews} startsAs={person.role} crewId={person.crewId} />
    </Frame>
  );
}

function PasswordForm({ passwordMin, onClose, person }: FormProps & { person: AccountRow }) {
  const { send, busy, problems } = useSend(setPassword);
  return (
    <Frame
      {...{ problems, busy, onClose }}
      words="Set the password"
      onSend={(form) =>
        send({ id: person.id, password: String(form.get("password") ?? "") }, () => {
          onClose();
          return `New password set for ${person.name}; their sessions have ended.`;
        })
      }
    >
      <PasswordField min={passwordMin} autoFocus />
    </Frame>
  );
}

function CloseForm({ onClose, person }: FormProps & { person: AccountRow }) {
  const { send, busy, problems } = useSend(closeAccount);
  return (
    <Frame
      {...{ problems, busy, onClose }}
      words={person.isClosed ? "Open the account" : "Close the account"}
      onSend={() =>
        send({ id: person.id, close: !person.isClosed }, () => {
          onClose();
          return person.isClosed
            ? `${person.name} may sign in again.`
            : `${person.name} cannot sign in any more.`;
        })
      }
    >
      <p>
        {person.isClosed
          ? "They sign in with the password they had. Set a new one if it may be known to others."
          : "Their sessions end at once. What they did stays under their name; the account can be opened again."}
      </p>
    </Frame>
  );
}
