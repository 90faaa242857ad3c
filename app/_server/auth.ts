/**
 * Sign-in. better-auth keeps passwords (scrypt) and sessions; accounts are made by an administrator or by /setup,
 * never by the visitor. Its own web addresses are not served: our actions call it, so that each goes through our
 * limits and our log.
 */
import { readFileSync } from "node:fs";
import path from "node:path";
import { betterAuth } from "better-auth";
import { drizzleAdapter } from "better-auth/adapters/drizzle";
import { APIError, createAuthMiddleware } from "better-auth/api";
import { hashPassword } from "better-auth/crypto";
import { nextCookies } from "better-auth/next-js";
import { twoFactor } from "better-auth/plugins/two-factor";
import { database, dataFolder } from "@/db/open";
import { personById } from "@/db/queries/accounts";
import * as schema from "@/db/schema";
import type { InstantMillis } from "@/lib/time";
import { clientAddress, noteFailure, noteSuccess, rests } from "./attempts";
import { makeBackupCodes } from "./backupCodes";
import { machineNow } from "./clock";
import { PASSWORD_LENGTH_MIN } from "./passwords";
import { SIGN_IN_REFUSALS } from "./signInRefusals";

export { hashPassword };

const SESSION_S = 30 * 86_400; // a crew's phone may be out of reach for days
const SESSION_RENEW_S = 86_400;

/** Random and kept: a new secret would end every session. The supervisor makes the file before anything else. */
function secret(): string {
  if (process.env.BETTER_AUTH_SECRET) return process.env.BETTER_AUTH_SECRET;
  const file = path.join(dataFolder(), "secret");
  try {
    return readFileSync(file, "utf8").trim();
  } catch (cause) {
    throw new Error("There is no secret in the data folder yet; start with `npm start` or `npm run dev`.", {
      cause,
    });
  }
}

/** The public address (`https://plan.example`), when one is configured; otherwise each request's own. */
function publicAddress(): string | undefined {
  return process.env.BOTHENDS_URL || undefined;
}

function makeAuth() {
  const db = database();
  const address = publicAddress();
  return betterAuth({
    appName: "Bothends",
    baseURL: address,
    basePath: "/api/auth",
    secret: secret(),
    database: drizzleAdapter(db, {
      provider: "sqlite",
      schema: {
        user: schema.user,
        session: schema.session,
        account: schema.account,
        verification: schema.verification,
        twoFactor: schema.twoFactor,
      },
    }),
    // Same origin as the request, whatever name this machine is reached by (localhost, its name in the office).
    trustedOrigins: (request) => (request ? [new URL(request.url).origin] : []),
    emailAndPassword: { enabled: true, disableSignUp: true, minPasswordLength: PASSWORD_LENGTH_MIN },
    user: {
      // Named because every row must have it; what stands in it is read from our own table (session.ts).
      additionalFields: { role: { type: "string", required: true, input: false } },
      changeEmail: { enabled: false },
      deleteUser: { enabled: false },
    },
    session: { expiresIn: SESSION_S, updateAge: SESSION_RENEW_S },
    advanced: {
      cookiePrefix: "bothends",
      // On a plain office network there is no https; a Secure cookie would never come back.
      useSecureCookies: address?.startsWith("https://") ?? false,
    },
    telemetry: { enabled: false },
    logger: { level: "error" },
    hooks: {
      before: createAuthMiddleware(async (ctx) => {
        if (ctx.path !== "/sign-in/email") return;
        const email = String(ctx.body?.email ?? "");
        const message = rests(db, "sign-in by name", email)
          ? SIGN_IN_REFUSALS.nameRests
          : rests(db, "sign-in by address", clientAddress(ctx.headers))
            ? SIGN_IN_REFUSALS.addressRests
            : undefined;
        if (message) throw new APIError("TOO_MANY_REQUESTS", { message });
      }),
      after: createAuthMiddleware(async (ctx) => {
        if (ctx.path !== "/sign-in/email") return;
        const email = String(ctx.body?.email ?? "");
        if (!(ctx.context.returned instanceof APIError)) return noteSuccess(db, "sign-in by name", email);
        noteFailure(db, "sign-in by name", email);
        noteFailure(db, "sign-in by address", clientAddress(ctx.headers));
      }),
    },
    databaseHooks: {
      session: {
        create: {
          before: async (session, ctx) => {
            if (personById(db, session.userId)?.disabledAt)
              throw new APIError("FORBIDDEN", { message: SIGN_IN_REFUSALS.closed });
            // A code that somebody looked at over a shoulder has been used already (RFC 6238, 5.2).
            if (ctx?.path === "/two-factor/verify-totp" && !claimCode(session.userId, String(ctx.body?.code)))
              throw new APIError("UNAUTHORIZED", { message: SIGN_IN_REFUSALS.usedCode });
          },
        },
      },
    },
    plugins: [
      // A code per 30 s, 6 digits; 10 wrong ones and the account rests.
      twoFactor({
        issuer: "Bothends",
        backupCodeOptions: { customBackupCodesGenerate: makeBackupCodes },
      }),
      nextCookies(), // stays last: it copies the cookies that the others set
    ],
  });
}

/** Codes that were accepted lately: a code is good for a minute and a half, but once only. */
const usedCodes = new Map<string, InstantMillis>();
const CODE_LIFE_MILLIS = 120_000;

/** False when this person's code was used before. */
function claimCode(userId: string, code: string): boolean {
  const now = machineNow();
  for (const [used, at] of usedCodes) if (at < now - CODE_LIFE_MILLIS) usedCodes.delete(used);
  const use = `${userId} ${code}`;
  if (usedCodes.has(use)) return false;
  usedCodes.set(use, now);
  return true;
}

const shared = globalThis as typeof globalThis & { bothendsAuth?: ReturnType<typeof makeAuth> };

/** better-auth for this process, made at first use so that a build needs neither database nor secret. */
export function auth(): ReturnType<typeof makeAuth> {
  shared.bothendsAuth ??= makeAuth();
  return shared.bothendsAuth;
}
