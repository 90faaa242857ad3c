/** What administrators do to accounts, and what nobody may do; invitations from both ends. */
import { beforeEach, describe, expect, test, vi } from "vitest";
import {
  changeRoleAction,
  closeAccountAction,
  createAccountAction,
  endSessionsAction,
  liftRestAction,
  resetPasswordAction,
  resetSecondFactorAction,
} from "@/app/_server/accountEdits";
import { noteFailure, rests } from "@/app/_server/attempts";
import { type ActionDefinition, carryOut, type Visitor } from "@/app/_server/carryOut";
import { accept, acceptanceOf, INVITATION_DAYS, invite, invitedBy } from "@/app/_server/invitations";
import { GUESSABLE } from "@/app/_server/passwords";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { createAccount, personById, setDisabled } from "@/db/queries/accounts";
import { saveCrew } from "@/db/queries/crews";
import { saveSite } from "@/db/queries/design";
import { savePlace } from "@/db/queries/places";
import { siteRegions } from "@/db/queries/regions";
import { searchLog } from "@/db/queries/rules";
import { openSessions } from "@/db/queries/sessions";
import { account, idempotencyKey, invitation, type Role, session, twoFactor, user } from "@/db/schema";
import { Random } from "@/lib/random";
import { calendarDate, type InstantMillis } from "@/lib/time";
import { demoCrews } from "@/seed/crews";
import { makeSites } from "@/seed/vellmark";
import { visitorAs } from "../helpers/visitor";

const at = 1_000 as InstantMillis;
const hash = async (password: string) => `hashed ${password}`;

let db: Db;
let ann: Visitor;
let lin: string;

function make(email: string, role: Role): string {
  const made = createAccount(db, { name: email, email, passwordHash: "hash", role, now: at });
  if (!made.ok) throw new Error("not made");
  return made.value;
}

function signIn(userId: string): void {
  const when = new Date();
  db.insert(session)
    .values({
      id: `s-${userId}`,
      token: `t-${userId}`,
      userId,
      expiresAt: new Date(when.getTime() + 60_000),
      createdAt: when,
      updatedAt: when,
    })
    .run();
}

const sessionsOf = (userId: string) => openSessions(db, Date.now() as InstantMillis, userId).length;
const passwordOf = (userId: string) =>
  db
    .select()
    .from(account)
    .all()
    .find((row) => row.userId === userId)?.password;

// biome-ignore lint/suspicious/noExplicitAny: any action, whatever its input
async function act<T>(definition: ActionDefinition<any, T, any>, input: unknown, as = ann, key?: string) {
  const { result } = await carryOut(definition, input, { db, visitor: as, key, now: at, machineNow: at });
  return result as { ok: true; value: T } | { ok: false; problems: { rule: string }[] };
}
const rulesOf = (result: { ok: boolean; problems?: { rule: string }[] }) =>
  result.ok ? [] : result.problems?.map((p) => p.rule);
const secretIn = (path: string) => path.slice("/invitation/".length);

beforeEach(() => {
  db = memoryDatabase();
  ann = visitorAs("administrator", { userId: make("ann@x.example", "administrator") });
  lin = make("lin@x.example", "logistics");
});

const noor = { name: "Noor", email: "Noor@x.example", role: "manager", crewId: "C1", regions: null };

describe("accounts", () => {
  test("only administrators touch them", async () => {
    const calls = [
      act(createAccountAction, noor, visitorAs("manager")),
      act(
        changeRoleAction,
        { id: lin, role: "manager", crewId: null, regions: null },
        visitorAs("logistics"),
      ),
      act(closeAccountAction, { id: lin, close: true }, visitorAs("crew lead")),
      ...[resetPasswordAction, resetSecondFactorAction, endSessionsAction, liftRestAction].map((action) =>
        act<unknown>(action, { id: lin }, visitorAs("manager")),
      ),
    ];
    for (const result of await Promise.all(calls)) expect(rulesOf(result)).toEqual(["role"]);
    expect(personById(db, lin)).toMatchObject({ role: "logistics", disabledAt: null });
    expect(passwordOf(lin)).toBe("hash");
  });

  test("nobody closes, demotes or resets themselves", async () => {
    make("bob@x.example", "administrator");
    const id = ann.userId;
    expect(rulesOf(await act(closeAccountAction, { id, close: true }))).toEqual(["own-account"]);
    expect(
      rulesOf(await act(changeRoleAction, { id, role: "manager", crewId: null, regions: null })),
    ).toEqual(["own-account"]);
    for (const action of [resetPasswordAction, resetSecondFactorAction, endSessionsAction])
      expect(rulesOf(await act<unknown>(action, { id }))).toEqual(["own-account"]);
    expect(personById(db, id)).toMatchObject({ role: "administrator", disabledAt: null });
    expect(passwordOf(id)).toBe("hash");
  });

  test("nobody closes or demotes the last administrator", async () => {
    // Somebody whose session still says administrator: the account itself has been demoted meanwhile.
    const stale = visitorAs("administrator", { userId: lin });
    const { userId: id } = ann;
    expect(rulesOf(await act(closeAccountAction, { id, close: true }, stale))).toEqual([
      "last-administrator",
    ]);
    expect(
      rulesOf(await act(changeRoleAction, { id, role: "manager", crewId: null, regions: null }, stale)),
    ).toEqual(["last-administrator"]);
  });

  test("a crew lead's account needs a crew that exists", async () => {
    for (const code of ["WH-EAST", "WH-WEST", "VAN-1", "VAN-2", "VAN-3", "VAN-4", "VAN-5"])
      savePlace(db, { code, name: code, kind: "warehouse", latDeg: null, lonDeg: null });
    for (const crew of demoCrews(calendarDate("2026-03-16"))) saveCrew(db, crew);
    const lead = { ...noor, role: "crew lead" };
    expect(rulesOf(await act(createAccountAction, { ...lead, crewId: "" }))).toEqual(["crew-missing"]);
    expect(rulesOf(await act(createAccountAction, { ...lead, crewId: "C99" }))).toEqual(["crew-unknown"]);
    const made = await act(createAccountAction, lead);
    expect(made.ok && personById(db, made.value.id)).toMatchObject({ role: "crew lead", crewId: "C1" });
  });

  test("managers and logistics may be limited to regions that sites stand in; an administrator and a crew are not", async () => {
    for (const site of makeSites(new Random("sites"), 40)) saveSite(db, site);
    const [north = "", south = ""] = siteRegions(db);
    expect(south).not.toBe("");
    const change = (role: Role, regions: string[] | null) =>
      act(changeRoleAction, { id: lin, role, crewId: null, regions });
    expect(rulesOf(await change("manager", ["Nowhere"]))).toEqual(["region-unknown"]);
    expect(rulesOf(await change("manager", []))).toEqual(["region-missing"]);
    expect((await change("manager", [south, north, south])).ok).toBe(true);
    expect(personById(db, lin)?.regions).toEqual([north, south]);
    expect((await change("administrator", [north])).ok).toBe(true);
    expect(personById(db, lin)?.regions).toBeNull();
    const made = await act(createAccountAction, { ...noor, regions: [north] });
    expect(made.ok && personById(db, made.value.id)?.regions).toEqual([north]);
    expect(JSON.stringify(searchLog(db, { words: "change role", limit: 1 }).rows)).toContain(south);
  });

  test("made, changed, closed and opened, each in the log, and the secret nowhere", async () => {
    const made = await act(createAccountAction, noor, ann, "k1");
    if (!made.ok) throw new Error("not made");
    const { id, path } = made.value;
    expect(personById(db, id)).toMatchObject({
      email: "noor@x.example",
      role: "manager",
      crewId: null,
      regions: null,
    });
    expect(passwordOf(id)).toBeNull();
    expect(rulesOf(await act(createAccountAction, noor))).toEqual(["sign-in-name-taken"]);
    expect((await act(changeRoleAction, { id, role: "logistics", crewId: null, regions: null })).ok).toBe(
      true,
    );
    expect((await act(closeAccountAction, { id, close: true })).ok).toBe(true);
    expect(personById(db, id)?.disabledAt).toBe(at);
    expect((await act(closeAccountAction, { id, close: false })).ok).toBe(true);
    expect(rulesOf(await act(closeAccountAction, { id: "nobody", close: true }))).toEqual([
      "account-unknown",
    ]);
    const log = searchLog(db, { words: "account", limit: 50 });
    expect(log.rows.map((r) => r.action)).toEqual([
      "open account",
      "close account",
      "change role",
      "create account",
    ]);
    const kept = [log.rows, db.select().from(invitation).all(), db.select().from(idempotencyKey).all()];
    expect(JSON.stringify(kept)).not.toContain(secretIn(path));
  });

  test("a reset voids the password, ends the sessions and lets a resting name in", async () => {
    signIn(lin);
    for (let i = 0; i < 10; i++) noteFailure(db, "sign-in by name", "lin@x.example");
    expect(rests(db, "sign-in by name", "LIN@x.example")).toBe(true);
    const reset = await act(resetPasswordAction, { id: lin });
    expect(reset.ok && invitedBy(db, secretIn(reset.value.path))?.id).toBe(lin);
    expect(passwordOf(lin)).toBeNull();
    expect(sessionsOf(lin)).toBe(0);
    expect(rests(db, "sign-in by name", "lin@x.example")).toBe(false);
  });

  test("a second factor is forgotten, and the sessions with it", async () => {
    signIn(lin);
    db.insert(twoFactor).values({ id: "f", secret: "s", backupCodes: "b", userId: lin }).run();
    db.update(user).set({ twoFactorEnabled: true }).run();
    expect((await act(resetSecondFactorAction, { id: lin })).ok).toBe(true);
    expect(personById(db, lin)?.twoFactorEnabled).toBe(false);
    expect(db.select().from(twoFactor).all()).toEqual([]);
    expect(sessionsOf(lin)).toBe(0);
  });

  test("sessions are ended for one person only, and a resting name is let in", async () => {
    signIn(lin);
    signIn(ann.userId);
    expect(await act(endSessionsAction, { id: lin })).toMatchObject({ ok: true, value: 1 });
    expect([sessionsOf(lin), sessionsOf(ann.userId)]).toEqual([0, 1]);
    for (let i = 0; i < 10; i++) noteFailure(db, "sign-in by name", "lin@x.example");
    expect((await act(liftRestAction, { id: lin })).ok).toBe(true);
    expect(rests(db, "sign-in by name", "lin@x.example")).toBe(false);
  });
});

describe("an invitation", () => {
  const password = "a-long-password";
  const take = (secret: string) => accept(db, { secret, password }, hash, at);

  test("serves once", async () => {
    const secret = secretIn(invite(db, lin));
    expect(await take(secret)).toMatchObject({ ok: true, value: { id: lin } });
    expect(passwordOf(lin)).toBe(`hashed ${password}`);
    expect(await take(secret)).toMatchObject({ ok: false, problems: [{ rule: "invitation-void" }] });
  });

  test("of two who accept at the same moment one is let in", async () => {
    const secret = secretIn(invite(db, lin));
    const both = await Promise.all([take(secret), take(secret)]);
    expect(both.map((result) => result.ok).sort()).toEqual([false, true]);
  });

  test("is void once another is made, once it has run out, and while the account is closed", async () => {
    const first = secretIn(invite(db, lin));
    const second = secretIn(invite(db, lin));
    expect(invitedBy(db, first)).toBeUndefined();
    expect(invitedBy(db, second)?.id).toBe(lin);
    setDisabled(db, lin, at);
    expect(invitedBy(db, second)).toBeUndefined();
    setDisabled(db, lin, null);
    vi.useFakeTimers({ now: Date.now() + INVITATION_DAYS * 86_400_000 });
    try {
      expect(invitedBy(db, second)).toBeUndefined();
      expect((await take(second)).ok).toBe(false);
    } finally {
      vi.useRealTimers();
    }
    expect(passwordOf(lin)).toBeNull();
  });

  test("needs a password of enough characters, twice the same, and sends none back", () => {
    const read = acceptanceOf({ secret: "s", password: "short", again: "other" });
    expect(read.ok ? [] : read.problems.map(({ path, value }) => [path, value])).toEqual([
      ["password", undefined],
      ["again", undefined],
    ]);
    expect(acceptanceOf({ secret: "s", password, again: password }).ok).toBe(true);
    const weak = acceptanceOf({ secret: "s", password: "1234567890", again: "1234567890" });
    expect(weak.ok ? [] : weak.problems.map(({ path, message, value }) => [path, message, value])).toEqual([
      ["password", GUESSABLE, undefined],
    ]);
  });
});
