"use client";

import { useState } from "react";
import { Button, LinkButton } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { formatCount } from "@/app/_ui/format";
import { ROLE_WORDS, type Role } from "@/app/_ui/nav";
import { Panel } from "@/app/_ui/Panel";
import { ScrollRegion } from "@/app/_ui/ScrollRegion";
import { StateMark } from "@/app/_ui/StateMark";
import type { SessionRow } from "../account/sessionWords";
import { CloseForm, FactorForm, NewAccount, PasswordForm, RoleForm, SessionsForm } from "./AccountForms";

export interface AccountRow {
  id: string;
  name: string;
  email: string;
  role: Role;
  crewId: string | null;
  /** Null for all. */
  regions: readonly string[] | null;
  isClosed: boolean;
  /** Has not chosen a password yet, or is to choose a new one; until when. */
  invitedUntil: string | undefined;
  /** Too many failed sign-ins with this name lately. */
  rests: boolean;
  hasSecondFactor: boolean;
  sessions: readonly SessionRow[];
}

export interface AccountsTabProps {
  people: readonly AccountRow[];
  crews: readonly { code: string; name: string }[];
  /** Regions that sites stand in. */
  regions: readonly string[];
  ownId: string;
}

const TITLES = {
  role: (name: string) => `Role of ${name}`,
  password: (name: string) => `Reset the password of ${name}?`,
  factor: (name: string) => `Reset the second factor of ${name}?`,
  sessions: (name: string) => `Where ${name} is signed in`,
  close: (name: string) => `Close the account of ${name}?`,
  open: (name: string) => `Open the account of ${name}?`,
} as const;

type Open = { what: "new" } | { what: keyof typeof TITLES; person: AccountRow };

/** Who may sign in, as what; made, changed, closed and opened here. */
export function AccountsTab({ people, crews, regions, ownId }: AccountsTabProps) {
  const [open, setOpen] = useState<Open>();
  const close = () => setOpen(undefined);
  const title = !open ? "" : open.what === "new" ? "New account" : TITLES[open.what](open.person.name);
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
              <th scope="col">State</th>
              <th scope="col">Signed in</th>
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
                <td data-label="Role">
                  {ROLE_WORDS[p.role]}
                  {p.crewId ? `, crew ${p.crewId}` : ""}
                  {p.regions ? `, ${p.regions.join(", ")}` : ""}
                </td>
                <td data-label="State">
                  <PersonState person={p} />
                </td>
                <td data-label="Signed in">
                  <div>
                    {p.sessions.length === 0 ? "nowhere" : formatCount(p.sessions.length, "session")}
                    <span className="text-quiet block">
                      {p.hasSecondFactor ? "with second factor" : "password alone"}
                    </span>
                  </div>
                </td>
                <td>
                  {p.id === ownId ? (
                    <LinkButton size="small" kind="plain" href="/account">
                      Your account
                    </LinkButton>
                  ) : (
                    <Acts person={p} onOpen={(what) => setOpen({ what, person: p })} />
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollRegion>
      <Dialog open={open !== undefined} onClose={close} title={title} wide={open?.what === "sessions"}>
        {open?.what === "new" ? <NewAccount {...{ crews, regions }} onClose={close} /> : null}
        {open?.what === "role" ? (
          <RoleForm {...{ crews, regions }} onClose={close} person={open.person} />
        ) : null}
        {open?.what === "password" ? <PasswordForm onClose={close} person={open.person} /> : null}
        {open?.what === "factor" ? <FactorForm onClose={close} person={open.person} /> : null}
        {open?.what === "sessions" ? <SessionsForm onClose={close} person={open.person} /> : null}
        {open?.what === "close" || open?.what === "open" ? (
          <CloseForm onClose={close} person={open.person} />
        ) : null}
      </Dialog>
    </Panel>
  );
}

function PersonState({ person }: { person: AccountRow }) {
  if (person.isClosed) return <StateMark state="hold">Closed</StateMark>;
  if (person.rests) return <StateMark state="warn">Rests after failed sign-ins</StateMark>;
  if (person.invitedUntil) return <StateMark state="dated">Invited until {person.invitedUntil}</StateMark>;
  return <StateMark state="met">Open</StateMark>;
}

function Acts({ person, onOpen }: { person: AccountRow; onOpen: (what: keyof typeof TITLES) => void }) {
  const act = (words: string, what: keyof typeof TITLES) => (
    <Button size="small" kind="plain" onClick={() => onOpen(what)}>
      {words}
      <span className="sr-only">: {person.name}</span>
    </Button>
  );
  return (
    <div className="flex flex-wrap gap-1">
      {act("Role", "role")}
      {act("Password", "password")}
      {person.hasSecondFactor ? act("Second factor", "factor") : null}
      {person.sessions.length > 0 || person.rests ? act("Sign-ins", "sessions") : null}
      {person.isClosed ? act("Open", "open") : act("Close", "close")}
    </div>
  );
}
