/** Accounts: who may change them, and what nobody may do to themselves. */

import { z } from "zod";
import type { Db } from "@/db/open";
import {
  changeRole,
  createAccount,
  type Person,
  personById,
  removeSecondFactor,
  setDisabled,
} from "@/db/queries/accounts";
import { addLogEntry, type LogAction } from "@/db/queries/log";
import { siteRegions } from "@/db/queries/regions";
import { isCrew } from "@/db/queries/rules";
import { endSessions } from "@/db/queries/sessions";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import { noteSuccess } from "./attempts";
import type { ActionContext, ActionDefinition } from "./carryOut";
import { invite } from "./invitations";
import { ROLES, type Role } from "./roles";

const ADMINISTRATORS = ["administrator"] as const;

const role = z.enum(ROLES);
const crewId = z.string().trim().max(60).nullable();
const regions = z.array(z.string().min(1).max(120)).max(200).nullable();

function logAccount(
  { db, visitor, now }: ActionContext,
  action: LogAction,
  id: string,
  detail: object,
): void {
  addLogEntry(db, { at: now, userName: visitor.name, action, subject: `account:${id}`, detail });
}

/** The crew that goes with a role: a crew lead has one, nobody else does. */
function crewOfRole(db: Db, wanted: { role: Role; crewId: string | null }): Result<string | null> {
  if (wanted.role !== "crew lead") return ok(null);
  if (wanted.crewId && isCrew(db, wanted.crewId)) return ok(wanted.crewId);
  return refused({
    path: "crewId",
    rule: wanted.crewId ? "crew-unknown" : "crew-missing",
    value: wanted.crewId ?? "",
    ...sentences(
      wanted.crewId
        ? phrase("There is no such crew.")
        : phrase("A crew lead reports for a crew, and none is chosen."),
      phrase("Choose the crew that this person leads."),
    ),
  });
}

/** The regions that go with a role: managers and logistics may be limited, an administrator and a crew are not. */
function regionsOfRole(db: Db, wanted: { role: Role; regions: string[] | null }): Result<string[] | null> {
  if (wanted.regions === null || wanted.role === "administrator" || wanted.role === "crew lead")
    return ok(null);
  const known = siteRegions(db);
  const unknown = wanted.regions.find((region) => !known.includes(region));
  if (unknown === undefined && wanted.regions.length > 0) return ok([...new Set(wanted.regions)].sort());
  return refused({
    path: "regions",
    rule: unknown === undefined ? "region-missing" : "region-unknown",
    value: unknown ?? "",
    ...sentences(
      unknown === undefined
        ? phrase("No region is chosen.")
        : phrase("No site stands in a region {{unknown}}.", { unknown: String(unknown) }),
      phrase("Choose regions from the list, or all of them."),
    ),
  });
}

const noAccount = (id: string): Problem => ({
  path: "account",
  rule: "account-unknown",
  value: id,
  ...sentences(phrase("There is no such account."), phrase("Reload the list of accounts.")),
});

/** What nobody does to the account that they are signed in with. */
export const OWN_ACTS = [
  "change the role of",
  "close",
  "reset the password of",
  "reset the second factor of",
  "end the sessions of",
] as const;
type OwnAct = (typeof OWN_ACTS)[number];

const yourself = (what: OwnAct, person: Person, remedy: string): Problem => ({
  path: "account",
  rule: "own-account",
  value: person.email,
  ...sentences(phrase("You cannot {{what}} your own account.", { what: phrase(what) }), phrase(remedy)),
});

const newAccount = z.object({
  name: z.string().trim().min(1, "Enter the person's name.").max(120),
  email: z.email("Enter a sign-in name in the form of an e-mail address.").max(200),
  role,
  crewId,
  regions,
});

/** What is shown once after an account was made or reset. */
export interface Invited {
  id: string;
  /** Address, without the host, under which the person chooses a password. */
  path: string;
}

export const createAccountAction: ActionDefinition<typeof newAccount, Invited> = {
  name: "create-account",
  roles: ADMINISTRATORS,
  input: newAccount,
  isAnswerSecret: true,
  run: (input, context) => {
    const { db, now } = context;
    const crewOf = crewOfRole(db, input);
    if (!crewOf.ok) return crewOf;
    const regionsOf = regionsOfRole(db, input);
    if (!regionsOf.ok) return regionsOf;
    const { name, email } = input;
    const made = createAccount(db, {
      name,
      email,
      role: input.role,
      crewId: crewOf.value,
      regions: regionsOf.value,
      passwordHash: null,
      now,
    });
    if (!made.ok) return made;
    logAccount(context, "create account", made.value, {
      name,
      email,
      role: input.role,
      crew: crewOf.value,
      regions: regionsOf.value,
    });
    return ok({ id: made.value, path: invite(db, made.value) });
  },
};

const roleInput = z.object({ id: z.string().min(1), role, crewId, regions });

export const changeRoleAction: ActionDefinition<typeof roleInput, null> = {
  name: "change-role",
  roles: ADMINISTRATORS,
  input: roleInput,
  run: (input, context) => {
    const { db, visitor, now } = context;
    const person = personById(db, input.id);
    if (!person) return refused(noAccount(input.id));
    if (person.id === visitor.userId && input.role !== person.role)
      return refused(yourself("change the role of", person, "Ask another administrator to do it."));
    const crewOf = crewOfRole(db, input);
    if (!crewOf.ok) return crewOf;
    const regionsOf = regionsOfRole(db, input);
    if (!regionsOf.ok) return regionsOf;
    const changed = changeRole(db, input.id, {
      role: input.role,
      crewId: crewOf.value,
      regions: regionsOf.value,
      now,
    });
    if (changed.ok)
      logAccount(context, "change role", person.id, {
        name: person.name,
        before: [person.role, person.crewId, person.regions],
        after: [input.role, crewOf.value, regionsOf.value],
      });
    return changed;
  },
};

const closeInput = z.object({ id: z.string().min(1), close: z.boolean() });

export const closeAccountAction: ActionDefinition<typeof closeInput, null> = {
  name: "close-account",
  roles: ADMINISTRATORS,
  input: closeInput,
  run: ({ id, close }, context) => {
    const { db, visitor, now } = context;
    const person = personById(db, id);
    if (!person) return refused(noAccount(id));
    if (close && id === visitor.userId)
      return refused(yourself("close", person, "Ask another administrator to do it."));
    const done = setDisabled(db, id, close ? now : null);
    if (done.ok) logAccount(context, close ? "close account" : "open account", id, { name: person.name });
    return done;
  },
};

const idInput = z.object({ id: z.string().min(1) });

/** Someone else's account, for what nobody does to the own one. */
function otherPerson(
  { db, visitor }: ActionContext,
  id: string,
  what: OwnAct,
  remedy: string,
): Result<Person> {
  const person = personById(db, id);
  if (!person) return refused(noAccount(id));
  return id === visitor.userId ? refused(yourself(what, person, remedy)) : ok(person);
}

/** Voids the password and ends the sessions; the person chooses a new password under a one-time address. */
export const resetPasswordAction: ActionDefinition<typeof idInput, Invited> = {
  name: "reset-password",
  roles: ADMINISTRATORS,
  input: idInput,
  isAnswerSecret: true,
  run: ({ id }, context) => {
    const person = otherPerson(context, id, "reset the password of", "Change it on your account page.");
    if (!person.ok) return person;
    const { name, email } = person.value;
    noteSuccess(context.db, "sign-in by name", email);
    logAccount(context, "reset password", id, { name });
    return ok({ id, path: invite(context.db, id) });
  },
};

/** For a person who has lost the device with the codes. */
export const resetSecondFactorAction: ActionDefinition<typeof idInput, null> = {
  name: "reset-second-factor",
  roles: ADMINISTRATORS,
  input: idInput,
  run: ({ id }, context) => {
    const person = otherPerson(
      context,
      id,
      "reset the second factor of",
      "Turn it off on your account page.",
    );
    if (!person.ok) return person;
    removeSecondFactor(context.db, id);
    logAccount(context, "reset second factor", id, { name: person.value.name });
    return ok(null);
  },
};

export const endSessionsAction: ActionDefinition<typeof idInput, number> = {
  name: "end-sessions",
  roles: ADMINISTRATORS,
  input: idInput,
  run: ({ id }, context) => {
    const person = otherPerson(context, id, "end the sessions of", "End them on your account page.");
    if (!person.ok) return person;
    const ended = endSessions(context.db, id);
    logAccount(context, "end sessions", id, { name: person.value.name, ended });
    return ok(ended);
  },
};

/** Lets a name sign in again that rests after too many failed attempts. */
export const liftRestAction: ActionDefinition<typeof idInput, null> = {
  name: "lift-rest",
  roles: ADMINISTRATORS,
  input: idInput,
  run: ({ id }, context) => {
    const person = personById(context.db, id);
    if (!person) return refused(noAccount(id));
    noteSuccess(context.db, "sign-in by name", person.email);
    logAccount(context, "lift rest", id, { name: person.name });
    return ok(null);
  },
};
