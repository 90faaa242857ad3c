"use server";

import { APIError } from "better-auth/api";
import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { auth } from "@/app/_server/auth";
import { typedBackupCode } from "@/app/_server/backupCodes";
import { safeNext } from "@/app/_server/session";
import { SIGN_IN_REFUSALS } from "@/app/_server/signInRefusals";

export interface SignInAnswer {
  problem: string;
  /** Given back, so that only the password has to be typed again. */
  email: string;
}

/** Signs in and goes on to where the visitor wanted to go. Does not tell which of name and password was wrong. */
export async function signIn(_previous: SignInAnswer | null, form: FormData): Promise<SignInAnswer> {
  const email = String(form.get("email") ?? "").trim();
  const password = String(form.get("password") ?? "");
  const next = String(form.get("next") ?? "");
  if (!email || !password) return { problem: SIGN_IN_REFUSALS.nothing, email };
  let isSignedIn: boolean;
  try {
    const answer = await auth().api.signInEmail({ body: { email, password }, headers: await headers() });
    // Without a user: the password was right, and the second factor is still to come.
    isSignedIn = "user" in answer;
  } catch (thrown) {
    if (!(thrown instanceof APIError)) throw thrown;
    const said = thrown.status === "TOO_MANY_REQUESTS" || thrown.status === "FORBIDDEN";
    return { problem: said ? thrown.message : SIGN_IN_REFUSALS.wrong, email };
  }
  const wanted = safeNext(next);
  if (!isSignedIn) redirect(wanted ? `/sign-in/code?next=${encodeURIComponent(wanted)}` : "/sign-in/code");
  redirect(wanted ?? "/");
}

export interface CodeAnswer {
  problem: string;
}

/** The second step of signing in: a code of the app, or one of the backup codes. */
export async function enterCode(_previous: CodeAnswer | null, form: FormData): Promise<CodeAnswer> {
  const code = String(form.get("code") ?? "").trim();
  if (!code) return { problem: SIGN_IN_REFUSALS.noCode };
  try {
    const isOfApp = /^\d{6}$/.test(code);
    const given = { body: { code: isOfApp ? code : typedBackupCode(code) }, headers: await headers() };
    const { api } = auth();
    await (isOfApp ? api.verifyTOTP(given) : api.verifyBackupCode(given));
  } catch (thrown) {
    if (!(thrown instanceof APIError)) throw thrown;
    const { code: rule } = thrown.body ?? {};
    // Without the cookie of the first step, or after too many codes, there is nothing to go on from.
    if (rule === "INVALID_TWO_FACTOR_COOKIE" || rule === "TOO_MANY_ATTEMPTS_REQUEST_NEW_CODE")
      redirect("/sign-in?again=1");
    if (thrown.status === "TOO_MANY_REQUESTS") return { problem: SIGN_IN_REFUSALS.codesRest };
    const { usedCode, wrongCode } = SIGN_IN_REFUSALS;
    return { problem: thrown.message === usedCode ? usedCode : wrongCode };
  }
  redirect(safeNext(String(form.get("next") ?? "")) ?? "/");
}

export async function signOut(): Promise<void> {
  await auth().api.signOut({ headers: await headers() });
  redirect("/sign-in");
}
