"use client";

import { useState } from "react";
import { Button, LinkButton } from "@/app/_ui/Button";
import { Dialog } from "@/app/_ui/Dialog";
import { useWords } from "@/app/_ui/language/LanguageProvider";

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

export const TITLES = {
  role: "Role of {{name}}",
  password: "Reset the password of {{name}}?",
  factor: "Reset the second factor of {{name}}?",
  sessions: "Where {{name}} is signed in",
  close: "Close the account of {{name}}?",
  open: "Open the account of {{name}}?",
} as const;

type Open = { what: "new" } | { what: keyof typeof TITLES; person: AccountRow };

/** Who may sign in, as what; made, changed, closed and opened here. */
export function AccountsTab({ people, crews, regions, ownId }: AccountsTabProps) {
  const { t } = useWords();
  const [open, setOpen] = useState<Open>();
  const close = () => setOpen(undefined);
  const title = !open
    ? ""
    : open.what === "new"
      ? t("New account")
      : t(TITLES[open.what], { name: open.person.name });
  return (
    <Panel
      title={t("Accounts")}
      note={t("A closed account cannot sign in; its name stays in the history.")}
      actions={
        <Button size="small" kind="primary" onClick={() => setOpen({ what: "new" })}>
          {t("New account")}
        </Button>
      }
      flush
    >
      <ScrollRegion label={t("Accounts")} className="max-md:px-4">
        <table className="ui-facts ui-facts-stack">
          <thead>
            <tr>
              <th scope="col">{t("Name")}</th>
              <th scope="col">{t("Sign-in name")}</th>
              <th scope="col">{t("Role")}</th>
              <th scope="col">{t("State")}</th>
              <th scope="col">{t("Signed in")}</th>
              <th scope="col">
                <span className="sr-only">{t("Change (verb)")}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {people.map((p) => (
              <tr key={p.id}>
                <th scope="row" data-label={t("Name")}>
                  {p.name}
                  {p.id === ownId ? `, ${t("you")}` : ""}
                </th>
                <td data-label={t("Sign-in name")}>{p.email}</td>
                <td data-label={t("Role")}>
                  {t(ROLE_WORDS[p.role])}
                  {p.crewId ? `, ${t("crew {{crew}}", { crew: p.crewId })}` : ""}
                  {p.regions ? `, ${p.regions.join(", ")}` : ""}
                </td>
                <td data-label={t("State")}>
                  <PersonState person={p} />
                </td>
                <td data-label={t("Signed in")}>
                  <div>
                    {p.sessions.length === 0
                      ? t("nowhere")
                      : t("{{count}} sessions", { count: p.sessions.length })}
                    <span className="text-quiet block">
                      {p.hasSecondFactor ? t("with second factor") : t("password alone")}
                    </span>
                  </div>
                </td>
                <td>
                  {p.id === ownId ? (
                    <LinkButton size="small" kind="plain" href="/account">
                      {t("Your account")}
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
  const { t } = useWords();
  if (person.isClosed) return <StateMark state="hold">{t("Closed")}</StateMark>;
  if (person.rests) return <StateMark state="warn">{t("Rests after failed sign-ins")}</StateMark>;
  if (person.invitedUntil)
    return <StateMark state="dated">{t("Invited until {{when}}", { when: person.invitedUntil })}</StateMark>;
  return <StateMark state="met">{t("Open")}</StateMark>;
}

function Acts({ person, onOpen }: { person: AccountRow; onOpen: (what: keyof typeof TITLES) => void }) {
  const { t } = useWords();
  const act = (words: string, what: keyof typeof TITLES) => (
    <Button size="small" kind="plain" onClick={() => onOpen(what)}>
      {words}
      <span className="sr-only">: {person.name}</span>
    </Button>
  );
  return (
    <div className="flex flex-wrap gap-1">
      {act(t("Role"), "role")}
      {act(t("Password"), "password")}
      {person.hasSecondFactor ? act(t("Second factor"), "factor") : null}
      {person.sessions.length > 0 || person.rests ? act(t("Sign-ins"), "sessions") : null}
      {person.isClosed ? act(t("Open (verb)"), "open") : act(t("Close"), "close")}
    </div>
  );
}
