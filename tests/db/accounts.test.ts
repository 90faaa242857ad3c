import { verifyPassword } from "better-auth/crypto";
import { describe, expect, test } from "vitest";
import { setUp, setUpInput } from "@/app/_server/setup";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import {
  accounts,
  changeRole,
  countAccounts,
  createAccount,
  personById,
  setDisabled,
  setPasswordHash,
} from "@/db/queries/accounts";
import { readSetting, writeSetting } from "@/db/queries/settings";
import { account, type Role, session } from "@/db/schema";
import type { InstantMillis } from "@/lib/time";
import { DEMO_ACCOUNTS, DEMO_PASSWORD, loadAccounts } from "@/seed/accounts";

const at = (millis: number) => millis as InstantMillis;

function add(db: Db, email: string, role: Role): string {
  const made = createAccount(db, { name: email, email, passwordHash: "hash", role, now: at(1) });
  if (!made.ok) throw new Error(made.problems[0]?.message);
  return made.value;
}

function signIn(db: Db, userId: string): void {
  const when = new Date(0);
  db.insert(session)
    .values({
      id: `s-${userId}`,
      token: `t-${userId}`,
      userId,
      expiresAt: when,
      createdAt: when,
      updatedAt: when,
    })
    .run();
}

const sessions = (db: Db) => db.select().from(session).all().length;

describe("accounts", () => {
  test("a sign-in name is taken whatever its capitals", () => {
    const db = memoryDatabase();
    add(db, "Iris@masts.example", "manager");
    const second = createAccount(db, {
      name: "Other",
      email: " iris@MASTS.example ",
      passwordHash: "hash",
      role: "manager",
      now: at(1),
    });
    expect(second).toMatchObject({ ok: false, problems: [{ rule: "sign-in-name-taken" }] });
    expect(accounts(db).map((person) => person.email)).toEqual(["iris@masts.example"]);
  });

  test("the last administrator who can sign in stays one", () => {
    const db = memoryDatabase();
    const first = add(db, "a@masts.example", "administrator");
    const down = { role: "manager" as const, crewId: null, regions: null, now: at(2) };
    expect(changeRole(db, first, down)).toMatchObject({
      ok: false,
      problems: [{ rule: "last-administrator" }],
    });
    expect(setDisabled(db, first, at(2)).ok).toBe(false);
    const second = add(db, "b@masts.example", "administrator");
    expect(setDisabled(db, second, at(2)).ok).toBe(true);
    expect(changeRole(db, first, down).ok).toBe(false);
    expect(setDisabled(db, second, null).ok).toBe(true);
    expect(changeRole(db, first, down).ok).toBe(true);
    expect(personById(db, first)?.role).toBe("manager");
  });

  test("a new role, a closed account and a new password end the person's sessions", () => {
    const db = memoryDatabase();
    add(db, "a@masts.example", "administrator");
    const id = add(db, "lead@masts.example", "manager");
    signIn(db, id);
    changeRole(db, id, { role: "crew lead", crewId: "crew-1", regions: null, now: at(2) });
    expect(sessions(db)).toBe(0);
    signIn(db, id);
    setPasswordHash(db, id, "other", at(3));
    expect(sessions(db)).toBe(0);
    signIn(db, id);
    setDisabled(db, id, at(4));
    expect(sessions(db)).toBe(0);
    expect(personById(db, id)).toMatchObject({ role: "crew lead", crewId: "crew-1", disabledAt: 4 });
  });
});

describe("the demonstration's people", () => {
  test("cover every role and share the password that the sign-in page shows", async () => {
    const db = memoryDatabase();
    loadAccounts(db, at(0));
    expect(new Set(DEMO_ACCOUNTS.map((person) => person.role)).size).toBe(4);
    expect(readSetting(db, "demoPassword")).toBe(DEMO_PASSWORD);
    const hash = db.select().from(account).get()?.password ?? "";
    expect(await verifyPassword({ hash, password: DEMO_PASSWORD })).toBe(true);
  });
});

describe("set-up", () => {
  // SHA-256 of "token"
  const TOKEN_HASH = "3c469e9d6c5875d37a43f353d4f88e61fcf812c66eee3457465a40b0da4153e0";
  const given = {
    token: "token",
    name: "Iris",
    email: "iris@masts.example",
    password: "long enough",
    zone: "Europe/Oslo",
  };
  const hash = async (password: string) => `hashed ${password}`;

  function fresh(): Db {
    const db = memoryDatabase();
    writeSetting(db, "setupTokenHash", TOKEN_HASH);
    return db;
  }

  test("makes an administrator with the right token and uses it up", async () => {
    const db = fresh();
    expect((await setUp(db, given, hash, at(1))).ok).toBe(true);
    expect(accounts(db)).toMatchObject([{ name: "Iris", role: "administrator" }]);
    expect(readSetting(db, "setupTokenHash")).toBeUndefined();
    expect(readSetting(db, "homeZone")).toBe("Europe/Oslo");
    expect(await setUp(db, { ...given, email: "b@masts.example" }, hash, at(2))).toMatchObject({
      ok: false,
      problems: [{ rule: "already-set-up" }],
    });
  });

  test("refuses a wrong token, and any token where none was made", async () => {
    expect((await setUp(fresh(), { ...given, token: "guess" }, hash, at(1))).ok).toBe(false);
    const db = memoryDatabase();
    expect((await setUp(db, given, hash, at(1))).ok).toBe(false);
    expect(countAccounts(db)).toBe(0);
  });

  test("of two at the same moment one becomes administrator", async () => {
    const db = fresh();
    const both = await Promise.all(
      ["a@masts.example", "b@masts.example"].map((email) => setUp(db, { ...given, email }, hash, at(1))),
    );
    expect(both.map((result) => result.ok).sort()).toEqual([false, true]);
    expect(countAccounts(db)).toBe(1);
  });

  test("says everything that is wrong with the form at once", () => {
    const read = setUpInput({ token: " ", name: "", email: "iris", password: "short", zone: "Moon" });
    expect(read.ok ? [] : read.problems.map((problem) => problem.path)).toEqual([
      "token",
      "name",
      "email",
      "password",
      "zone",
    ]);
  });
});
