"use server";

import { APIError } from "better-auth/api";
import { headers } from "next/headers";
import { z } from "zod";
import { defineAction } from "@/app/_server/action";
import { noteFailure, noteSuccess, rests } from "@/app/_server/attempts";
import { auth } from "@/app/_server/auth";
import type { ActionContext } from "@/app/_server/carryOut";
import { chosenPassword } from "@/app/_server/passwords";
import { type QrCode, qrCode } from "@/app/_server/qrCode";
import { addLogEntry, type LogAction } from "@/db/queries/log";
import { endSession, endSessions } from "@/db/queries/sessions";
import { phrase } from "@/lib/phrase";
import { ok, type Problem, type Result, refused, sentences } from "@/lib/result";

const WRONG: Problem = {
  path: "current",
  rule: "wrong-password",
  ...sentences(
    phrase("This is not your current password."),
    phrase("Type it again; if it is lost, ask an administrator for a new one."),
  ),
};

const RESTS: Problem = {
  path: "current",
  rule: "too-many-attempts",
  ...sentences(phrase("Too many wrong passwords."), phrase("Wait 15 minutes, then try again.")),
};

const WRONG_CODE: Problem = {
  path: "code",
  rule: "wrong-code",
  ...sentences(
    phrase("This is not the code of this moment."),
    phrase("Type the code that your app shows now; check the clock of the device if it keeps being refused."),
  ),
};

const current = z.string().min(1, "Type your current password.").max(128);

/** Asks better-auth for what needs the current password. A wrong one counts like a failed sign-in. */
async function withPassword<T>({ db, visitor }: ActionContext, ask: () => Promise<T>): Promise<Result<T>> {
  // An open screen is no place to guess.
  if (rests(db, "sign-in by name", visitor.email)) return refused(RESTS);
  try {
    const answer = await ask();
    noteSuccess(db, "sign-in by name", visitor.email);
    return ok(answer);
  } catch (thrown) {
    if (!(thrown instanceof APIError) || thrown.body?.code !== "INVALID_PASSWORD") throw thrown;
    noteFailure(db, "sign-in by name", visitor.email);
    return refused(WRONG);
  }
}

function logOwn({ db, visitor, now }: ActionContext, action: LogAction): void {
  addLogEntry(db, { at: now, userName: visitor.name, action, subject: `account:${visitor.userId}` });
}

/** Everybody's own password. better-auth checks the current one; sessions elsewhere end. */
export const changeOwnPassword = defineAction({
  name: "change-own-password",
  roles: [],
  reach: "any",
  changesData: false,
  input: z
    .object({
      current,
      next: chosenPassword("The new password"),
      again: z.string().max(128),
    })
    .superRefine(({ current, next, again }, ctx) => {
      const note = (path: string, input: string, message: string) =>
        ctx.addIssue({ code: "custom", path: [path], message, input });
      if (again !== next) note("again", again, "The two new passwords differ.");
      if (next === current) note("next", next, "The new password is the current one.");
    }),
  prepare: ({ current, next }, context) =>
    withPassword(context, async () =>
      auth().api.changePassword({
        body: { currentPassword: current, newPassword: next, revokeOtherSessions: true },
        headers: await headers(),
      }),
    ),
  run: (_input, context) => {
    logOwn(context, "change own password");
    return ok(null);
  },
});

export interface SecondFactorStart {
  /** The address that a code app reads, as a picture and by its key. */
  qr: QrCode;
  key: string;
  backupCodes: readonly string[];
}

/** Makes a secret for codes. Nothing is asked at sign-in before a first code has proved that it arrived. */
export const beginSecondFactor = defineAction({
  name: "begin-second-factor",
  roles: [],
  reach: "any",
  changesData: false,
  isAnswerSecret: true,
  input: z.object({ current }),
  prepare: ({ current }, context) =>
    withPassword(context, async () =>
      auth().api.enableTwoFactor({ body: { password: current, method: "totp" }, headers: await headers() }),
    ),
  run: (_input, _context, made): Result<SecondFactorStart> => {
    if (made.method !== "totp") throw new Error(`the second factor came as ${made.method}`);
    return ok({
      qr: qrCode(made.totpURI),
      key: new URL(made.totpURI).searchParams.get("secret") ?? "",
      backupCodes: made.backupCodes,
    });
  },
});

export const confirmSecondFactor = defineAction({
  name: "confirm-second-factor",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({
    code: z
      .string()
      .trim()
      .regex(/^\d{6}$/, "A code has 6 digits."),
  }),
  prepare: async ({ code }) => {
    try {
      return ok(await auth().api.verifyTOTP({ body: { code }, headers: await headers() }));
    } catch (thrown) {
      if (!(thrown instanceof APIError)) throw thrown;
      return refused(WRONG_CODE);
    }
  },
  run: (_input, context) => {
    logOwn(context, "turn on second factor");
    return ok(null);
  },
  revalidate: ["/account"],
});

/** New backup codes; the old ones are void. */
export const renewBackupCodes = defineAction({
  name: "renew-backup-codes",
  roles: [],
  reach: "any",
  changesData: false,
  isAnswerSecret: true,
  input: z.object({ current }),
  prepare: ({ current }, context) =>
    withPassword(context, async () =>
      auth().api.generateBackupCodes({ body: { password: current }, headers: await headers() }),
    ),
  run: (_input, context, { backupCodes }): Result<readonly string[]> => {
    logOwn(context, "renew backup codes");
    return ok(backupCodes);
  },
});

export const turnOffSecondFactor = defineAction({
  name: "turn-off-second-factor",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({ current }),
  prepare: ({ current }, context) =>
    withPassword(context, async () =>
      auth().api.disableTwoFactor({ body: { password: current }, headers: await headers() }),
    ),
  run: (_input, context) => {
    logOwn(context, "turn off second factor");
    return ok(null);
  },
  revalidate: ["/account"],
});

export const endOwnSession = defineAction({
  name: "end-own-session",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({ id: z.string().min(1).max(100) }),
  run: ({ id }, context) => {
    if (!endSession(context.db, context.visitor.userId, id))
      return refused({
        path: "id",
        rule: "session-unknown",
        ...sentences(phrase("This session has ended already."), phrase("Reload the page.")),
      });
    logOwn(context, "end own session");
    return ok(null);
  },
  revalidate: ["/account"],
});

/** Ends all sessions but the one that asks. */
export const endOtherSessions = defineAction({
  name: "end-other-sessions",
  roles: [],
  reach: "any",
  changesData: false,
  input: z.object({}),
  run: (_input, context) => {
    const { db, visitor } = context;
    const ended = endSessions(db, visitor.userId, visitor.sessionId);
    if (ended > 0) logOwn(context, "end other sessions");
    return ok(ended);
  },
  revalidate: ["/account"],
});
