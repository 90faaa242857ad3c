"use client";

import { useState } from "react";
import { useSend } from "@/app/_client/useSend";
import { Button } from "@/app/_ui/Button";
import { CopyField } from "@/app/_ui/CopyField";
import { DialogForm } from "@/app/_ui/DialogForm";
import { Check, FieldGroup, Select, TextInput } from "@/app/_ui/Field";
import { useWords } from "@/app/_ui/language/LanguageProvider";

import { Notice } from "@/app/_ui/Notice";
import { ROLE_WORDS, type Role } from "@/app/_ui/nav";
import { ProblemList } from "@/app/_ui/ProblemList";
import { SessionTable } from "../account/SessionTable";
import type { AccountRow } from "./AccountsTab";
import {
  changeRole,
  closeAccount,
  createAccount,
  endSessionsOf,
  liftRest,
  resetPassword,
  resetSecondFactor,
} from "./actions";

type Crews = readonly { code: string; name: string }[];

interface FormProps {
  onClose: () => void;
}

interface PersonFormProps extends FormProps {
  person: AccountRow;
}

const ROLE_CHOICES = (Object.keys(ROLE_WORDS) as Role[]).map((value) => ({
  value,
  label: ROLE_WORDS[value],
}));

interface ChoiceProps {
  crews: Crews;
  /** Regions that sites stand in. */
  regions: readonly string[];
}

type RoleNow = Pick<AccountRow, "role" | "crewId" | "regions">;

function RoleFields({ crews, regions, now }: ChoiceProps & { now: RoleNow }) {
  const { t } = useWords();
  const [chosen, setChosen] = useState<Role>(now.role);
  const [isLimited, setIsLimited] = useState(now.regions !== null);
  const mayBeLimited = regions.length > 0 && (chosen === "manager" || chosen === "logistics");
  return (
    <>
      <div className="ui-form-row">
        <Select
          label={t("Role")}
          name="role"
          choices={ROLE_CHOICES.map((c) => ({ ...c, label: t(c.label) }))}
          value={chosen}
          onChange={(e) => setChosen(e.target.value as Role)}
        />
        <Select
          label={t("Crew")}
          name="crewId"
          empty={t("None")}
          choices={crews.map((c) => ({ value: c.code, label: `${c.code} ${c.name}` }))}
          defaultValue={now.crewId ?? ""}
          disabled={chosen !== "crew lead"}
          required={chosen === "crew lead"}
          hint={t("Crew leads only")}
        />
      </div>
      {mayBeLimited ? (
        <FieldGroup label={t("Regions")}>
          <Check
            label={t("Limited to some regions")}
            checked={isLimited}
            onChange={(e) => setIsLimited(e.target.checked)}
          />
          {isLimited
            ? regions.map((region) => (
                <Check
                  key={region}
                  label={region}
                  name="regions"
                  value={region}
                  defaultChecked={now.regions?.includes(region)}
                />
              ))
            : null}
        </FieldGroup>
      ) : null}
      {mayBeLimited && isLimited ? <input type="hidden" name="isLimited" value="yes" /> : null}
    </>
  );
}

const roleOf = (form: FormData) => ({
  role: String(form.get("role")) as Role,
  crewId: String(form.get("crewId") ?? "") || null,
  regions: form.get("isLimited") ? form.getAll("regions").map(String) : null,
});

/** The one-time address, once it is made. */
function Invitation({ path, onClose }: { path: string; onClose: () => void }) {
  const { t } = useWords();
  return (
    <div className="grid gap-4" data-shown-once>
      <Notice kind="good" announce title={t("Give this address to the person, and to nobody else")}>
        {t(
          "Under it they choose a password that you do not know. It serves once, within 7 days, and is not shown again.",
        )}
      </Notice>
      <CopyField label={t("One-time address")} text={location.origin + path} />
      <div className="ui-form-actions justify-end">
        <Button kind="primary" onClick={onClose}>
          {t("I have copied it")}
        </Button>
      </div>
    </div>
  );
}

export function NewAccount({ crews, regions, onClose }: FormProps & ChoiceProps) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(createAccount);
  const [path, setPath] = useState<string>();
  if (path) return <Invitation path={path} onClose={onClose} />;
  return (
    <DialogForm
      {...{ problems, busy, onClose }}
      words={t("Make the account")}
      onSend={(form) =>
        send(
          { name: String(form.get("name") ?? ""), email: String(form.get("email") ?? ""), ...roleOf(form) },
          (made) => {
            setPath(made.path);
            return t("Account made for {{name}}.", { name: String(form.get("name")) });
          },
        )
      }
    >
      <TextInput label={t("Name")} name="name" autoComplete="off" required />
      <TextInput
        label={t("Sign-in name")}
        name="email"
        required
        type="email"
        autoComplete="off"
        hint={t("In the form of an e-mail address. Nothing is sent to it.")}
      />
      <RoleFields {...{ crews, regions }} now={{ role: "logistics", crewId: null, regions: null }} />
    </DialogForm>
  );
}

export function RoleForm({ crews, regions, onClose, person }: PersonFormProps & ChoiceProps) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(changeRole);
  return (
    <DialogForm
      {...{ problems, busy, onClose }}
      words={t("Save")}
      onSend={(form) =>
        send({ id: person.id, ...roleOf(form) }, () => {
          onClose();
          return t("{{name}} signs in anew with the new role.", { name: person.name });
        })
      }
    >
      <p>{t("Their sessions end, so that the new role holds everywhere at once.")}</p>
      <RoleFields {...{ crews, regions }} now={person} />
    </DialogForm>
  );
}

export function PasswordForm({ onClose, person }: PersonFormProps) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(resetPassword);
  const [path, setPath] = useState<string>();
  if (path) return <Invitation path={path} onClose={onClose} />;
  return (
    <DialogForm
      {...{ problems, busy, onClose }}
      words={t("Make a one-time address")}
      onSend={() =>
        send({ id: person.id }, (made) => {
          setPath(made.path);
          return t("{{name}} chooses a new password.", { name: person.name });
        })
      }
    >
      <p>
        {t(
          "The password they have is void at once, and so is an earlier one-time address; their sessions end. You get an address under which they choose a new one.",
        )}
      </p>
    </DialogForm>
  );
}

export function FactorForm({ onClose, person }: PersonFormProps) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(resetSecondFactor);
  return (
    <DialogForm
      {...{ problems, busy, onClose }}
      words={t("Reset the second factor")}
      onSend={() =>
        send({ id: person.id }, () => {
          onClose();
          return t("{{name}} signs in with the password alone.", { name: person.name });
        })
      }
    >
      <p>
        {t(
          "For a lost device. Make sure that it is {{name}} who asks. Their password alone lets in from then on, until they turn it on anew; their sessions end.",
          { name: person.name },
        )}
      </p>
    </DialogForm>
  );
}

export function SessionsForm({ onClose, person }: PersonFormProps) {
  const { t } = useWords();
  const end = useSend(endSessionsOf);
  const lift = useSend(liftRest);
  return (
    <div className="grid gap-4">
      {person.rests ? (
        <Notice kind="warn" title={t("Too many failed sign-ins with this name")}>
          {t("It rests for 15 minutes after the last ones. Let it in at once only if you know who it was.")}
        </Notice>
      ) : null}
      {person.sessions.length > 0 ? (
        <SessionTable rows={person.sessions} />
      ) : (
        <p>{t("Nowhere at present.")}</p>
      )}
      <ProblemList problems={[...end.problems, ...lift.problems]} />
      <div className="ui-form-actions justify-end">
        <Button onClick={onClose}>{t("Leave as it is")}</Button>
        {person.rests ? (
          <Button
            busy={lift.busy}
            onClick={() =>
              lift.send({ id: person.id }, () => {
                onClose();
                return t("{{name}} may try again.", { name: person.name });
              })
            }
          >
            {t("Let in again")}
          </Button>
        ) : null}
        {person.sessions.length > 0 ? (
          <Button
            kind="danger"
            busy={end.busy}
            onClick={() =>
              end.send({ id: person.id }, (n) => {
                onClose();
                return t("{{sessions}} of {{name}} ended.", {
                  sessions: t("{{count}} sessions", { count: n }),
                  name: person.name,
                });
              })
            }
          >
            {t("End all sessions")}
          </Button>
        ) : null}
      </div>
    </div>
  );
}

export function CloseForm({ onClose, person }: PersonFormProps) {
  const { t } = useWords();
  const { send, busy, problems } = useSend(closeAccount);
  return (
    <DialogForm
      {...{ problems, busy, onClose }}
      words={person.isClosed ? t("Open the account") : t("Close the account")}
      onSend={() =>
        send({ id: person.id, close: !person.isClosed }, () => {
          onClose();
          return person.isClosed
            ? t("{{name}} may sign in again.", { name: person.name })
            : t("{{name}} cannot sign in any more.", { name: person.name });
        })
      }
    >
      <p>
        {person.isClosed
          ? t("They sign in with the password they had. Reset it if it may be known to others.")
          : t(
              "Their sessions end at once. What they did stays under their name; the account can be opened again.",
            )}
      </p>
    </DialogForm>
  );
}
