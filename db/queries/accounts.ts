/** People who may sign in. Passwords arrive here hashed; the hashing is better-auth's. */
import { and, asc, count, eq, sql } from "drizzle-orm";
import { type Db, writing } from "@/db/open";
import { account, type Role, twoFactor, user } from "@/db/schema";
import { ok, type Problem, type Result, refused } from "@/lib/result";
import type { InstantMillis } from "@/lib/time";
import { endSessions } from "./sessions";

export type Person = Pick<
  typeof user.$inferSelect,
  "id" | "name" | "email" | "role" | "crewId" | "disabledAt" | "regions" | "twoFactorEnabled"
>;

const PERSON = {
  id: user.id,
  name: user.name,
  email: user.email,
  role: user.role,
  crewId: user.crewId,
  disabledAt: user.disabledAt,
  regions: user.regions,
  twoFactorEnabled: user.twoFactorEnabled,
};

export interface NewAccount {
  name: string;
  /** Sign-in name; stored in lower case. */
  email: string;
  /** Null until the person has chosen one. */
  passwordHash: string | null;
  role: Role;
  crewId?: string | null;
  regions?: string[] | null;
  now: InstantMillis;
  /** Given by demo data only. */
  id?: string;
}

export function countAccounts(db: Db): number {
  return db.select({ n: count() }).from(user).get()?.n ?? 0;
}

/** All people, by name. */
export function accounts(db: Db): Person[] {
  return db.select(PERSON).from(user).orderBy(asc(user.name), asc(user.id)).all();
}

export function personById(db: Db, id: string): Person | undefined {
  return db.select(PERSON).from(user).where(eq(user.id, id)).get();
}

/** Makes an account that can sign in with a password. Refused when the sign-in name is taken. */
export function createAccount(db: Db, wanted: NewAccount): Result<string> {
  const email = wanted.email.trim().toLowerCase();
  return writing(db, () => {
    if (db.select({ id: user.id }).from(user).where(eq(user.email, email)).get())
      return refused<Problem>({
        path: "email",
        rule: "sign-in-name-taken",
        value: email,
        message: `${email} is already somebody's sign-in name.`,
        remedy: "Choose another sign-in name.",
      });
    const id = wanted.id ?? crypto.randomUUID();
    const at = new Date(wanted.now);
    db.insert(user)
      .values({
        id,
        name: wanted.name,
        email,
        emailVerified: true,
        role: wanted.role,
        crewId: wanted.crewId ?? null,
        regions: wanted.regions ?? null,
        createdAt: at,
        updatedAt: at,
      })
      .run();
    db.insert(account)
      .values({
        id: `credential-${id}`,
        accountId: id,
        providerId: "credential",
        userId: id,
        password: wanted.passwordHash,
        createdAt: at,
        updatedAt: at,
      })
      .run();
    return ok(id);
  });
}

/** How many people can still sign in as administrator. */
function openAdministrators(db: Db): number {
  return (
    db
      .select({ n: count() })
      .from(user)
      .where(and(eq(user.role, "administrator"), sql`${user.disabledAt} is null`))
      .get()?.n ?? 0
  );
}

const lastAdministrator: Problem = {
  path: "role",
  rule: "last-administrator",
  message: "This is the last administrator; without one nobody could manage accounts.",
  remedy: "Make somebody else an administrator first.",
};

/** Changes role, crew and regions. The person's sessions end, so that the new role holds everywhere at once. */
export function changeRole(
  db: Db,
  id: string,
  to: { role: Role; crewId: string | null; regions: string[] | null; now: InstantMillis },
): Result<null> {
  return writing(db, (): Result<null> => {
    const person = personById(db, id);
    if (person?.role === "administrator" && to.role !== "administrator" && !person.disabledAt)
      if (openAdministrators(db) <= 1) return refused(lastAdministrator);
    db.update(user)
      .set({ role: to.role, crewId: to.crewId, regions: to.regions, updatedAt: new Date(to.now) })
      .where(eq(user.id, id))
      .run();
    endSessions(db, id);
    return ok(null);
  });
}

/** Closes an account (`at` an instant) or opens it again (null). Closing ends its sessions. */
export function setDisabled(db: Db, id: string, at: InstantMillis | null): Result<null> {
  return writing(db, (): Result<null> => {
    const person = personById(db, id);
    if (at !== null && person?.role === "administrator" && !person.disabledAt)
      if (openAdministrators(db) <= 1) return refused(lastAdministrator);
    db.update(user).set({ disabledAt: at }).where(eq(user.id, id)).run();
    if (at !== null) endSessions(db, id);
    return ok(null);
  });
}

/** Sets a new password hash, or none at all (null), and ends the person's sessions. */
export function setPasswordHash(db: Db, id: string, passwordHash: string | null, now: InstantMillis): void {
  writing(db, () => {
    db.update(account)
      .set({ password: passwordHash, updatedAt: new Date(now) })
      .where(and(eq(account.userId, id), eq(account.providerId, "credential")))
      .run();
    endSessions(db, id);
  });
}

/** Forgets the person's second factor and ends the sessions: signing in asks for the password alone. */
export function removeSecondFactor(db: Db, id: string): void {
  writing(db, () => {
    db.delete(twoFactor).where(eq(twoFactor.userId, id)).run();
    db.update(user).set({ twoFactorEnabled: false }).where(eq(user.id, id)).run();
    endSessions(db, id);
  });
}
