/** Invitations: how a person comes to a password that nobody else has known. */

import { z } from "zod";
import { type Db, writing } from "@/db/open";
import { type Person, personById, setPasswordHash } from "@/db/queries/accounts";
import { openInvitations, removeInvitation, setInvitation } from "@/db/queries/invitations";
import { addLogEntry } from "@/db/queries/log";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";
import type { InstantMillis } from "@/lib/time";
import { problemsOf } from "./carryOut";
import { machineNow } from "./clock";
import { chosenPassword } from "./passwords";
import { hashOfSecret, isSecretOf, newSecret } from "./secrets";

export const INVITATION_DAYS = 7;

/**
 * Makes a one-time address for the person and gives its path. The password they may have had is void and their sessions
 * end: whoever had it, has it no more. It runs out by the machine's clock, as sessions do.
 */
export function invite(db: Db, userId: string): string {
  const now = machineNow();
  const secret = newSecret();
  setPasswordHash(db, userId, null, now);
  setInvitation(db, {
    userId,
    secretHash: hashOfSecret(secret),
    madeAt: now,
    expiresAt: (now + INVITATION_DAYS * 86_400_000) as InstantMillis,
  });
  return `/invitation/${secret}`;
}

/** Whom this secret invites; undefined when it is none, none any more, or the account is closed. */
export function invitedBy(db: Db, secret: string): Person | undefined {
  const [found] = openInvitations(db, machineNow()).filter((i) => isSecretOf(secret, i.secretHash));
  const person = found && personById(db, found.userId);
  return person?.disabledAt ? undefined : person;
}

export const VOID: Problem = {
  path: "",
  rule: "invitation-void",
  ...sentences(
    phrase("This invitation has been used, has run out, or was replaced by another one."),
    phrase("Ask an administrator for a new one."),
  ),
};

export interface Acceptance {
  secret: string;
  password: string;
}

export function acceptanceOf(raw: unknown): Result<Acceptance> {
  const parsed = z
    .object({
      secret: z.string().min(1).max(100),
      password: chosenPassword("The password"),
      again: z.string().max(128),
    })
    .superRefine(({ password, again }, ctx) => {
      if (password !== again)
        ctx.addIssue({
          code: "custom",
          path: ["again"],
          message: "The two passwords differ.",
          input: again,
        });
    })
    .safeParse(raw);
  return parsed.success ? ok(parsed.data) : refused(...problemsOf(parsed.error));
}

/** Sets the password that the person chose; the invitation is used up. */
export async function accept(
  db: Db,
  { secret, password }: Acceptance,
  hash: (password: string) => Promise<string>,
  now: InstantMillis,
): Promise<Result<Person>> {
  if (!invitedBy(db, secret)) return refused(VOID);
  const passwordHash = await hash(password);
  return writing(db, (): Result<Person> => {
    const person = invitedBy(db, secret); // again: two may have opened it side by side
    if (!person) return refused(VOID);
    setPasswordHash(db, person.id, passwordHash, machineNow());
    removeInvitation(db, person.id);
    addLogEntry(db, {
      at: now,
      userName: person.name,
      action: "accept invitation",
      subject: `account:${person.id}`,
    });
    return ok(person);
  });
}
