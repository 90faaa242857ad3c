"use server";

import { APIError } from "better-auth/api";
import { headers } from "next/headers";
import { redirect } from "next/navigation";
import { auth } from "@/app/_server/auth";
import { homeOf } from "@/app/_server/roles";
import { safeNext } from "@/app/_server/session";
import type { Role } from "@/db/schema/auth";

export interface SignInAnswer {
  problem: string;
  /** Given back, so that only the password has to be typed again. */
  email: string;
}

const WRONG = "Sign-in name or password is wrong. Check both; capital letters matter in the password.";

/** Signs in and goes on to where the visitor wanted to go. Does not tell which of name and password was wrong. */
export async function signIn(_previous: SignInAnswer | null, form: FormData): Promise<SignInAnswer> {
  const email = String(form.get("email") ?? "").trim();
  const password = String(form.get("password") ?? "");
  const next = String(form.get("next") ?? "");
  if (!email || !password) return { problem: "Enter both the sign-in name and the password.", email };
  let role: Role;
  try {
    const { user } = await auth().api.signInEmail({ body: { email, password }, headers: await headers() });
    role = user.role as Role;
  } catch (thrown) {
    if (!(thrown instanceof APIError)) throw thrown;
    const said = thrown.status === "TOO_MANY_REQUESTS" || thrown.status === "FORBIDDEN";
    return { problem: said ? thrown.message : WRONG, email };
  }
  redirect(safeNext(next) ?? homeOf(role));
}

export async function signOut(): Promise<void> {
  await auth().api.signOut({ headers: await headers() });
  redirect("/sign-in");
}
