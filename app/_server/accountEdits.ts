/** Accounts, certificates and leave: who may change them, and what nobody may do to themselves. */

import { z } from "zod";
import type { Db } from "@/db/open";
import {
  changeRole,
  createAccount,
  type Person,
  personById,
  setDisabled,
  setPasswordHash,
} from "@/db/queries/accounts";
import { addLogEntry } from "@/db/queries/reports";
import { isCrew, removeCertificate, removeLeave, setCertificate, setLeave } from "@/db/queries/rules";
import { SKILLS } from "@/lib/hours";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import { type CalendarDate, parseCalendarDate } from "@/lib/time";
import { hashPassword, PASSWORD_LENGTH_MIN } from "./auth";
import type { ActionContext, ActionDefinition } from "./carryOut";
import { ROLES, type Role } from "./roles";

const ADMINISTRATORS = ["administrator"] as const;
const PLANNERS = ["administrator", "manager"] as const;

const password = z
  .string()
  .min(PASSWORD_LENGTH_MIN, `The password needs at least ${PASSWORD_LENGTH_MIN} characters.`)
  .max(128, "The password may have 128 characters at most.");
const role = z.enum(ROLES);
const crewId = z.string().trim().max(60).nullable();
const reason = z.string().trim().min(3, "Say in a few words why.").max(300, "300 characters at most.");
const date = z.custom<CalendarDate>(
  (v) => typeof v === "string" && parseCalendarDate(v) !== undefined,
  "Enter a date such as 2026-03-16.",
);
const memberCode = z.string().min(1, "Choose a crew member.").max(60);
const skill = z.enum(SKILLS as [(typeof SKILLS)[number], ...(typeof SKILLS)[number][]]);

const who = ({ visitor, now }: ActionContext) => ({ name: visitor.name, at: now });

function logAccount({ db, visitor, now }: ActionContext, action: string, id: string, detail: object): void {
  addLogEntry(db, { at: now, userName: visitor.name, action, subject: `account:${id}`, detail });
}

/** The crew that goes with a role: a crew lead has one, nobody else does. */
function crewOfRole(db: Db, wanted: { role: Role; crewId: string | null }): Result<string | null> {
  if (wanted.role !== "crew lead") return ok(null);
  if (wanted.crewId && isCrew(db, wanted.crewId)) return ok(wanted.crewId);
  return refused({
    path: "crew",
    rule: wanted.crewId ? "crew-unknown" : "crew-missing",
    value: wanted.crewId ?? "",
    message: wanted.crewId ? "There is no such crew." : "A crew lead reports for a crew, and none is chosen.",
    remedy: "Choose the crew that this person leads.",
  });
}

const noAccount = (id: string): Problem => ({
  path: "account",
  rule: "account-unknown",
  value: id,
  message: "There is no such account.",
  remedy: "Reload the list of accounts.",
});

const yourself = (what: string, person: Person, remedy: string): Problem => ({
  path: "account",
  rule: "own-account",
  value: person.email,
  message: `You cannot ${what} your own account.`,
  remedy,
});

const newAccount = z.object({
  name: z.string().trim().min(1, "Enter the person's name.").max(120),
  email: z.email("Enter a sign-in name in the form of an e-mail address.").max(200),
  role,
  crewId,
  password,
});

export const createAccountAction: ActionDefinition<typeof newAccount, string, string> = {
  name: "create-account",
  roles: ADMINISTRATORS,
  input: newAccount,
  prepare: async (input) => ok(await hashPassword(input.password)),
  run: (input, context, passwordHash) => {
    const { db, now } = context;
    const crewOf = crewOfRole(db, input);
    if (!crewOf.ok) return crewOf;
    const { name, email } = input;
    const made = createAccount(db, {
      name,
      email,
      role: input.role,
      crewId: crewOf.value,
      passwordHash,
      now,
    });
    if (made.ok)
      logAccount(context, "create account", made.value, {
        name,
        email,
        role: input.role,
        crew: crewOf.value,
      });
    return made;
  },
};

const roleInput = z.object({ id: z.string().min(1), role, crewId });

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
    const changed = changeRole(db, input.id, { role: input.role, crewId: crewOf.value, now });
    if (changed.ok)
      logAccount(context, "change role", person.id, {
        name: person.name,
        before: [person.role, person.crewId],
        after: [input.role, crewOf.value],
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

const passwordInput = z.object({ id: z.string().min(1), password });

export const setPasswordAction: ActionDefinition<typeof passwordInput, null, string> = {
  name: "set-password",
  roles: ADMINISTRATORS,
  input: passwordInput,
  prepare: async (input) => ok(await hashPassword(input.password)),
  run: ({ id }, context, hash) => {
    const { db, visitor, now } = context;
    const person = personById(db, id);
    if (!person) return refused(noAccount(id));
    if (id === visitor.userId)
      return refused(
        yourself(
          "set the password of",
          person,
          "Change it on your password page, where the current one is asked.",
        ),
      );
    setPasswordHash(db, id, hash, now);
    logAccount(context, "set password", id, { name: person.name });
    return ok(null);
  },
};

/* Crews */

const certificateInput = z.object({ memberCode, skill, validUntil: date.nullable() });

export const setCertificateAction: ActionDefinition<typeof certificateInput, null> = {
  name: "set-certificate",
  roles: PLANNERS,
  input: certificateInput,
  run: (input, context) => setCertificate(context.db, input, who(context)),
};

const removeCertificateInput = z.object({ memberCode, skill, reason });

export const removeCertificateAction: ActionDefinition<typeof removeCertificateInput, null> = {
  name: "remove-certificate",
  roles: PLANNERS,
  input: removeCertificateInput,
  run: (input, context) => removeCertificate(context.db, input, who(context)),
};

const leaveInput = z.object({
  memberCode,
  fromOn: date,
  toOn: date,
  reason: z.string().trim().min(2, "Say what kind of leave it is.").max(120, "120 characters at most."),
  replaces: date.optional(),
});

export const setLeaveAction: ActionDefinition<typeof leaveInput, null> = {
  name: "set-leave",
  roles: PLANNERS,
  input: leaveInput,
  run: (input, context) => setLeave(context.db, input, who(context)),
};

const removeLeaveInput = z.object({ memberCode, fromOn: date });

export const removeLeaveAction: ActionDefinition<typeof removeLeaveInput, null> = {
  name: "remove-leave",
  roles: PLANNERS,
  input: removeLeaveInput,
  run: (input, context) => removeLeave(context.db, input, who(context)),
};
