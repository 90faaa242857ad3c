/** The second factor as the sign-in library does it under our settings, held to published codes. */

import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { typedBackupCode } from "@/app/_server/backupCodes";
import { memoryDatabase } from "@/db/migrate";
import type { Db } from "@/db/open";
import { createAccount, personById } from "@/db/queries/accounts";
import { session, twoFactor } from "@/db/schema";
import type { InstantMillis } from "@/lib/time";
import { fromBase32, totp } from "../helpers/totp";
import { TOTP_KEY, TOTP_VECTORS } from "../published/totp";

const here = vi.hoisted(() => ({ db: undefined as unknown }));
vi.mock("@/db/open", async (original) => ({ ...(await original<object>()), database: () => here.db as Db }));
vi.mock("next/headers", () => ({
  cookies: async () => ({ set: () => undefined }),
  headers: async () => new Headers(),
}));
vi.stubEnv("BETTER_AUTH_SECRET", "a-secret-for-tests-of-enough-characters");
vi.stubEnv("BOTHENDS_URL", "http://plan.example");
const { auth, hashPassword } = await import("@/app/_server/auth");

const EMAIL = "iris@masts.example";
const PASSWORD = "a-password-of-her-own";

let db: Db;
let id: string;

beforeEach(async () => {
  db = memoryDatabase();
  here.db = db;
  const shared = globalThis as { bothendsAuth?: unknown };
  shared.bothendsAuth = undefined; // one library instance for each database
  const made = createAccount(db, {
    name: "Iris",
    email: EMAIL,
    passwordHash: await hashPassword(PASSWORD),
    role: "manager",
    now: 1 as InstantMillis,
  });
  if (!made.ok) throw new Error("not made");
  id = made.value;
  vi.useFakeTimers({ now: Date.parse("2026-03-16T08:00:05Z"), toFake: ["Date"] });
});

afterEach(() => vi.useRealTimers());

/** A browser's cookies: what answers set, sent with the next request. */
function browser() {
  const jar = new Map<string, string>();
  return {
    headers: () => new Headers({ cookie: [...jar].map(([name, value]) => `${name}=${value}`).join("; ") }),
    take: (answer: Response) => {
      for (const line of answer.headers.getSetCookie()) {
        const [, name = "", value = ""] = /^([^=]+)=([^;]*)/.exec(line) ?? [];
        if (value === "" || /max-age=0/i.test(line)) jar.delete(name);
        else jar.set(name, value);
      }
      return answer;
    },
  };
}
type Browser = ReturnType<typeof browser>;

const signIn = async (b: Browser) =>
  b.take(
    await auth().api.signInEmail({
      body: { email: EMAIL, password: PASSWORD },
      headers: b.headers(),
      asResponse: true,
    }),
  );
const enter = async (b: Browser, code: string) =>
  b.take(await auth().api.verifyTOTP({ body: { code }, headers: b.headers(), asResponse: true }));
const backup = async (b: Browser, code: string) =>
  b.take(await auth().api.verifyBackupCode({ body: { code }, headers: b.headers(), asResponse: true }));
const isSignedIn = async (b: Browser) => (await auth().api.getSession({ headers: b.headers() })) !== null;

/** Turns it on; gives the code at a moment, and the backup codes. */
async function turnOn(): Promise<{ codeIn: (seconds: number) => string; backupCodes: string[] }> {
  const b = browser();
  await signIn(b);
  const made = await auth().api.enableTwoFactor({
    body: { password: PASSWORD, method: "totp" },
    headers: b.headers(),
  });
  if (made.method !== "totp") throw new Error(made.method);
  const key = fromBase32(new URL(made.totpURI).searchParams.get("secret") ?? "");
  const codeIn = (seconds: number) => totp(key, Date.now() / 1000 + seconds);
  expect(personById(db, id)?.twoFactorEnabled).toBe(false);
  expect((await enter(b, codeIn(0))).status).toBe(200);
  expect(personById(db, id)?.twoFactorEnabled).toBe(true);
  return { codeIn, backupCodes: made.backupCodes };
}

/** Wrong at every step that is near. */
const wrongCode = (codeIn: (seconds: number) => string) =>
  ["000000", "111111", "222222", "333333", "444444"].find((c) =>
    [-60, -30, 0, 30, 60].every((s) => codeIn(s) !== c),
  ) ?? "";

describe("published codes (RFC 6238, appendix B)", () => {
  test.each(TOTP_VECTORS)("at $unixS s", async ({ unixS, code }) => {
    expect(totp(Buffer.from(TOTP_KEY), unixS, 8)).toBe(code);
    vi.setSystemTime(unixS * 1000);
    const ours = await auth().api.generateTOTP({ body: { secret: TOTP_KEY } });
    expect(ours.code).toBe(code.slice(-6)); // the same number, with 6 digits asked of it
  });
});

describe("signing in with the second factor", () => {
  test("the password alone opens no session; the code of the moment does", async () => {
    const { codeIn } = await turnOn();
    const b = browser();
    expect(await (await signIn(b)).json()).toMatchObject({ twoFactorRedirect: true });
    expect(await isSignedIn(b)).toBe(false);
    expect((await enter(b, wrongCode(codeIn))).status).toBe(401);
    expect(await isSignedIn(b)).toBe(false);
    expect((await enter(b, codeIn(30))).status).toBe(200); // a clock that runs half a minute fast
    expect(await isSignedIn(b)).toBe(true);
  });

  test("a code is good for a minute and a half, no longer", async () => {
    const { codeIn } = await turnOn();
    const stale = codeIn(-60);
    const b = browser();
    await signIn(b);
    expect((await enter(b, stale)).status).toBe(401);
  });

  test("a code that was used is refused, even within its half minute", async () => {
    const { codeIn } = await turnOn();
    const [first, second] = [browser(), browser()];
    await signIn(first);
    await signIn(second);
    const code = codeIn(30);
    expect((await enter(first, code)).status).toBe(200);
    expect((await enter(second, code)).status).toBe(401);
    expect(await isSignedIn(second)).toBe(false);
  });

  test("a backup code lets in once", async () => {
    const { backupCodes } = await turnOn();
    expect(backupCodes).toHaveLength(10);
    for (const code of backupCodes) {
      expect(code).toMatch(/^[2-9A-HJKMNP-Z]{5}-[2-9A-HJKMNP-Z]{5}$/);
      // As somebody types it from paper.
      expect(typedBackupCode(` ${code.toLowerCase().replace("-", " ")}`)).toBe(code);
    }
    // Made before, with small letters that count.
    expect(typedBackupCode("xhGOT-deO64")).toBe("xhGOT-deO64");
    const [first, second] = [browser(), browser()];
    await signIn(first);
    expect((await backup(first, backupCodes[3] ?? "")).status).toBe(200);
    expect(await isSignedIn(first)).toBe(true);
    await signIn(second);
    expect((await backup(second, backupCodes[3] ?? "")).status).toBe(401);
    expect(await isSignedIn(second)).toBe(false);
  });

  test("after ten wrong codes the right one rests too", async () => {
    const { codeIn } = await turnOn();
    for (let round = 0; round < 2; round++) {
      const b = browser();
      await signIn(b);
      for (let i = 0; i < 5; i++) expect((await enter(b, wrongCode(codeIn))).status).toBe(401);
    }
    const b = browser();
    await signIn(b);
    expect((await enter(b, codeIn(30))).status).toBe(429);
    vi.setSystemTime(Date.now() + 16 * 60_000);
    await signIn(b);
    expect((await enter(b, codeIn(0))).status).toBe(200);
  });

  test("neither secret nor backup codes lie open in the database", async () => {
    const { backupCodes } = await turnOn();
    const kept = JSON.stringify(db.select().from(twoFactor).all());
    for (const code of backupCodes) expect(kept).not.toContain(code);
    expect(db.select().from(session).all()).toHaveLength(1);
  });
});
